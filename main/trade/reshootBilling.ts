import type { ExtraState } from './extras.ts'

export type ReshootCause = 'ours' | "client's wish" | 'sample' | 'carrier'

/** What decides whether a reshoot is billed. */
export interface ReshootFacts {
  readonly cause: ReshootCause
  /** Which round of changes by the client's wish it belongs to, counted from 1 for its spin; reworks count too. */
  readonly round: number
  readonly roundsIncluded: number
  /** The extra that bills it, as it stands; null for none. */
  readonly extra: ExtraState | null
  readonly letGoReason: string | null
}

/** How a reshoot stands: never billed, included, waiting for a person, or as its extra or a person says. */
export type ReshootStanding = 'ours' | 'included' | 'open' | 'let go' | ExtraState

/**
 * Whether a reshoot is billed. What the studio got wrong never is; a client's wish is free within the rounds included
 * and billable beyond them; a sample that was broken or wrong, or harm on the way, is billable. Billable means that a
 * person may propose an extra for it: nothing is billed before the client has agreed.
 * Common practice, no published source.
 */
export function reshootStanding(of: ReshootFacts): ReshootStanding {
  if (of.cause === 'ours') return 'ours'
  if (of.cause === "client's wish" && of.round <= of.roundsIncluded) return 'included'
  if (of.letGoReason !== null) return 'let go'
  return of.extra ?? 'open'
}

/** True where a person may now propose an extra for it: none was proposed, or the client declined the last. */
export function canPropose(standing: ReshootStanding): boolean {
  return standing === 'open' || standing === 'declined'
}

const causeWords: Readonly<Record<ReshootCause, string>> = {
  ours: 'It was our mistake.',
  "client's wish": 'The client wished for it.',
  sample: 'The sample was broken or wrong.',
  carrier: 'The carrier is the cause.',
}

/** Why a reshoot is billed or not, in a sentence or two. */
export function reshootWhy(of: ReshootFacts): string {
  const round = `Round ${of.round} of changes; ${of.roundsIncluded} included.`
  const cause = of.cause === "client's wish" ? `${causeWords[of.cause]} ${round}` : causeWords[of.cause]
  switch (reshootStanding(of)) {
    case 'ours':
      return `${cause} It is never billed.`
    case 'included':
      return `${cause} It is not billed.`
    case 'let go':
      return `${cause} Let go: ${of.letGoReason}.`
    case 'open':
      return `${cause} It can be billed by an extra.`
    case 'proposed':
      return `${cause} It is billed once the client agrees.`
    case 'agreed':
      return `${cause} The client agreed.`
    case 'declined':
      return `${cause} The client declined; it is not billed.`
  }
}
