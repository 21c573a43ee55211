/** A spin that may lie on the cards: one the day expects, or one that a ticket names. */
export interface ExpectedSpin {
  readonly shootId: number
  /** As it is said: `KN-01 Kettle`. */
  readonly label: string
  /** One for each row. */
  readonly rows: readonly ExpectedRow[]
  /** Its place in the day's order, from 0; null where the day does not expect it. */
  readonly place: number | null
}

/** The frames of one turn, and those to shoot, which are more by the overlap. */
export interface ExpectedRow {
  readonly turnFrames: number
  readonly toShoot: number
}

/** A few frames more than the overlap are no fault: a hand slips. Common practice, no published source. */
const slackFrames = 3
const slackPart = 0.05

/** So many frames a row may have, and still be one take. */
export function mostFrames({ toShoot }: ExpectedRow): number {
  return toShoot + Math.max(slackFrames, Math.round(slackPart * toShoot))
}

/** True for as many frames as a row wants: its turn at least, its overlap and a few at most. */
export function isWhole(frames: number, row: ExpectedRow): boolean {
  return frames >= row.turnFrames && frames <= mostFrames(row)
}
