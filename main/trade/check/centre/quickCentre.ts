import { Refusal } from '../../refusal.ts'
import type { FrameTrace } from '../frameTrace.ts'
import {
  type CentreChoice,
  type CentreFacts,
  type CentreFound,
  type CentreUnknown,
  centreOf,
} from './centre.ts'
import { ringMark } from './nudge.ts'

/**
 * How many quick frames the centring aid asks for. For what is swept an odd number: its two edges then face into twice
 * as many directions, while of an even number every second frame shows the hull of another from behind again.
 */
export const quickFrames: Readonly<Record<CentreChoice, number>> = { body: 4, 'least sweep': 7 }

const fewest = 4

/** The marks (from 0) at which to take quick frames, evenly round the turn. Refuses fewer than 4, or more than there are marks. */
export function quickMarks(framesPerTurn: number, count: number): readonly number[] {
  if (!Number.isInteger(count) || count < fewest || count > framesPerTurn) {
    throw new Refusal(
      'quick-frames',
      `${count} quick frames do not tell the middle. Take 4 to 8, at marks that lie evenly round the turn.`,
      { field: 'count' },
    )
  }
  return Array.from({ length: count }, (_, i) => Math.round((i * framesPerTurn) / count))
}

/**
 * The centre from a few quick frames before the take, each at a stated mark. They are the same outlines as a take's
 * and are read by the same rule; what few frames leave open is in the error bar. Refuses two frames of one mark.
 */
export function quickCentre(
  traces: readonly FrameTrace[],
  marks: readonly number[],
  facts: Omit<CentreFacts, 'anglesDeg'>,
): CentreFound | CentreUnknown {
  const places = marks.map(
    (mark) => ((mark % facts.framesPerTurn) + facts.framesPerTurn) % facts.framesPerTurn,
  )
  const again = places.findIndex((place, i) => places.indexOf(place) !== i)
  if (again >= 0) {
    throw new Refusal(
      'quick-mark-twice',
      `Two quick frames are of mark ${ringMark(places[again] ?? 0)}. Say at which mark each was taken.`,
      { field: 'marks' },
    )
  }
  return centreOf(traces, { ...facts, anglesDeg: marks.map((mark) => (360 * mark) / facts.framesPerTurn) })
}
