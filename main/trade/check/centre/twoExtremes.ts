import { Refusal } from '../../refusal.ts'
import { type Nudge, nudgeOf, ringMark, type TurnFacts } from './nudge.ts'

/** Where an edge or a middle of the product was read, at the mark where it stood farthest to that side. */
export interface Extreme {
  /** Counted from 0. */
  readonly mark: number
  /** Along the picture, to the right; in mm, or in pixels with the scale. */
  readonly reading: number
}

export interface TwoExtremesFacts extends TurnFacts {
  /** Millimetres to one of the readings' units: 1 for readings in mm. */
  readonly mmPerUnit: number
  /** How badly a reading may be off, in its own unit. */
  readonly readingError: number
}

export interface TwoExtremes {
  readonly offsetMm: number
  readonly errorMm: number
  readonly nudge: Nudge
}

/** So far from half a turn apart the two marks may lie, as a part of the turn: by hand an extreme is flat and hard to hit. */
const mostAside = 1 / 8

/**
 * The offset from two readings by hand, of one and the same edge or middle, at its farthest left and its farthest right.
 * What is off by e swings from −e to +e: the difference of the readings is twice the offset (the full indicator
 * movement of a round part on a spindle). Refuses readings the wrong way round, and marks that are not about half a turn apart.
 */
export function twoExtremes(left: Extreme, right: Extreme, facts: TwoExtremesFacts): TwoExtremes {
  const { mmPerUnit, readingError, framesPerTurn, turns } = facts
  for (const [what, field, value] of [
    ['The reading at the left', 'left', left.reading],
    ['The reading at the right', 'right', right.reading],
    ['The mark at the left', 'left', left.mark],
    ['The mark at the right', 'right', right.mark],
    ['The scale', 'mmPerUnit', mmPerUnit - Number.MIN_VALUE],
  ] as const) {
    if (!Number.isFinite(value) || (field === 'mmPerUnit' && value <= 0)) {
      throw new Refusal('not-a-reading', `${what} is not a number to reckon with. Read it again.`, { field })
    }
  }
  if (right.reading < left.reading) {
    throw new Refusal(
      'extremes-swapped',
      `The right extreme, ${right.reading}, lies left of the left one, ${left.reading}. Swap the two.`,
      { field: 'right' },
    )
  }
  const aside = signedPart((right.mark - left.mark) / framesPerTurn - 0.5)
  if (Math.abs(aside) > mostAside) {
    throw new Refusal(
      'extremes-not-opposite',
      `Marks ${ringMark(left.mark)} and ${ringMark(right.mark)} are not about half a turn apart, as the two extremes of an offset are. Look for them again; what is not round has more than two.`,
      { field: 'right' },
    )
  }
  const offsetMm = ((right.reading - left.reading) / 2) * mmPerUnit
  // The right extreme by both marks: the left one's is half a turn on.
  const rightDeg = (360 * (right.mark - (aside * framesPerTurn) / 2)) / framesPerTurn
  const bearing = ((turns === 'clockwise' ? 270 - rightDeg : 270 + rightDeg) * Math.PI) / 180
  // Two readings, each as badly off: of half their difference one such error over the root of two.
  const errorMm = (readingError * mmPerUnit) / Math.SQRT2
  return {
    offsetMm,
    errorMm,
    nudge: nudgeOf(-offsetMm * Math.sin(bearing), -offsetMm * Math.cos(bearing), facts),
  }
}

/** A part of a turn from −½ to ½. */
function signedPart(part: number): number {
  return part - Math.round(part)
}
