/**
 * Who has a take in hand, in words: 'Anna, at the tablet, since 10:12, last frame a minute ago'.
 * @param sinceDay     the day where it is not today's
 * @param lastFrameMs  how long ago the last frame was, or null before the first
 */
export function holderWords(hold: {
  readonly person: string
  readonly place: string | null
  readonly sinceClock: string
  readonly sinceDay: string | null
  readonly lastFrameMs: number | null
}): string {
  const { person, place, sinceClock, sinceDay, lastFrameMs } = hold
  return [
    person,
    place === null ? undefined : `at ${place}`,
    `since ${sinceClock}${sinceDay === null ? '' : ` on ${sinceDay}`}`,
    lastFrameMs === null ? 'no frame yet' : `last frame ${agoWords(lastFrameMs)}`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** How long ago, in round words: 'just now', 'a minute ago', '3 hours ago'. */
export function agoWords(ms: number): string {
  const minutes = Math.floor(Math.max(0, ms) / 60_000)
  if (minutes < 1) return 'just now'
  if (minutes === 1) return 'a minute ago'
  if (minutes < 60) return `${minutes}\u00a0minutes ago`
  const hours = Math.floor(minutes / 60)
  if (hours === 1) return 'an hour ago'
  if (hours < 48) return `${hours}\u00a0hours ago`
  return `${Math.floor(hours / 24)}\u00a0days ago`
}
