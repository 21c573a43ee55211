/**
 * A clock that never runs backwards and counts sleep: the wall clock, and while that has been set back, the
 * time since.
 * @param wallMs    the wall clock, in milliseconds since 1970; it may be set
 * @param elapsedMs a clock that is never set, but may stand still in sleep
 */
export function clockOf(wallMs: () => number, elapsedMs: () => number): () => number {
  let lastMs = wallMs()
  let lastElapsed = elapsedMs()
  return () => {
    const elapsed = elapsedMs()
    lastMs = Math.max(lastMs + elapsed - lastElapsed, wallMs())
    lastElapsed = elapsed
    return lastMs
  }
}
