import type { Stretch } from './bench.ts'

/**
 * Minutes of a day's open stretches that nothing takes.
 * @param open        opening hours, none overlapping another
 * @param taken       what lies on the bench, in any order; it may overlap, and lie outside the opening hours
 * @param fromMinute  what lies before is past and not free
 */
export function freeMinutes(open: readonly Stretch[], taken: readonly Stretch[], fromMinute: number): number {
  const ordered = [...taken].sort((a, b) => a.fromMinute - b.fromMinute)
  let free = 0
  for (const stretch of open) {
    let at = Math.max(stretch.fromMinute, fromMinute)
    for (const one of ordered) {
      free += Math.max(0, Math.min(one.fromMinute, stretch.toMinute) - at)
      at = Math.max(at, one.toMinute)
    }
    free += Math.max(0, stretch.toMinute - at)
  }
  return free
}
