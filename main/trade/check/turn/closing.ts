import { median } from '../../quantile.ts'
import { closedFinely } from './fineClosing.ts'
import { fineSeam } from './fineSteps.ts'
import { stillSteps } from './samePicture.ts'
import { type StepScale, seamScale, stepsOfDistance, turnIsSeen } from './stepScale.ts'
import type { TakeMatches } from './takeMatches.ts'

/** How a turn closes on its own start. Frames are the take's, from 1. */
export interface TurnClosing {
  /**
   * picture: told by likeness. edge mark: told by the angles of a mark on the platter's edge. count: neither tells, and
   * the figures are the plan's.
   */
  readonly by: 'picture' | 'edge mark' | 'count'
  /**
   * Why it is the count: no frame is read, the product looks alike all round, the take ends before it closes, several
   * frames match, or the product’s own light changes.
   */
  readonly reason: 'unread' | 'alike' | 'too early' | 'unsure' | 'product light' | null
  /** Steps of the take that make one true turn, with parts of a step. */
  readonly stepsPerTurn: number
  /** The same in whole frames: what a loop of this take has. */
  readonly framesPerTurn: number
  /** The frame that matches frame 1; one past the last frame of a take without overlap. Null where it is the count. */
  readonly closingFrame: number | null
  /** The take ends before it closes, or just there: the closing is foreseen from the last frames. */
  readonly isForeseen: boolean
  /** Foreseen only by how far away the last frames look, which is good to a step or so: no fault rests on it. */
  readonly isRough: boolean
  /** 1: no other frame comes near; 0: others match as well. Null where it is the count. */
  readonly confidence: number | null
  /** First and last frame of the loop whose seam jumps least. */
  readonly loopIn: number
  readonly loopOut: number
  /** The jump from the loop's last frame to its first, as a multiple of an ordinary step there; null: cannot be told. */
  readonly seamRatio: number | null
}

export interface PlannedTurn {
  /** Frames per turn as planned. */
  readonly frames: number
  /** The platter's angle at each frame by a mark on its edge, rising through the turns; null where it was not seen. */
  readonly anglesDeg?: readonly (number | null)[] | null
  /** The product's own light is another after the turn, so that no picture is that of its start. */
  readonly hasOtherLight?: boolean
}

/** Part of the planned turn by which the true one may be longer or shorter. */
const search = 0.15
/** Starts that are asked where the turn closes; a turn may be closed on any of them. */
const mostStarts = 5
/** A closing frame is no farther from its start than this, in steps; past it the take ends before it closes. */
const nearEnough = 0.8
/** How many steps past the last frame a closing can be foreseen. */
const foreseen = 2.2
/** A foreseen closing this near to the plan bears it out. */
const asPlanned = 0.7
/** Below this another frame matches as well. */
const leastConfidence = 0.35
/** How badly a single distance is known, as a part of it: poses differ at the seam too. */
const distanceError = 0.12

/**
 * Finds where the turn closes: the frame most like frame 1 near the planned count, to parts of a step. With frames past
 * the turn several starts are asked, and the answer is that of most; without them the closing is foreseen from how far
 * the last frames still are from the first. A product that looks alike all round is not closed by picture.
 */
export function closingOf(matches: TakeMatches, planned: PlannedTurn): TurnClosing {
  const byMark = planned.anglesDeg ? closingByAngles(planned.anglesDeg) : null
  if (byMark !== null)
    return withLoop(matches, {
      by: 'edge mark',
      stepsPerTurn: byMark,
      framesPerTurn: Math.round(byMark),
      confidence: 1,
      isRough: false,
    })
  if (matches.frames === 0) return byCount(planned.frames, 'unread')
  const window = windowOf(matches, planned.frames)
  if (window === null) return byCount(planned.frames, 'too early')
  if (!turnIsSeen(matches)) return byCount(planned.frames, 'alike')
  const closed = startsOf(matches, planned.frames)
    .map((start) =>
      matches.fine ? closedFinely(matches.fine, start, window) : closedFrom(matches, start, window),
    )
    .filter((closing): closing is Closed => closing !== null)
  if (closed.length === 0) return byCount(planned.frames, 'too early')
  const { steps, confidence, isForeseen } = mostAgreed(closed)
  if (confidence < leastConfidence) return byCount(planned.frames, 'unsure')
  const bearsOut = isForeseen && Math.abs(steps - planned.frames) < asPlanned
  const framesPerTurn = bearsOut ? planned.frames : Math.round(steps)
  if (planned.hasOtherLight && framesPerTurn !== planned.frames)
    return byCount(planned.frames, 'product light')
  const isRough = isForeseen && matches.fine === null
  return withLoop(matches, { by: 'picture', stepsPerTurn: steps, framesPerTurn, confidence, isRough })
}

/** A number of frames between two pictures, and how many steps apart they look. */
interface Likeness {
  readonly period: number
  readonly apart: number
}

/** Numbers of frames between which a turn is looked for. */
export interface Window {
  readonly from: number
  readonly to: number
}

/** Periods that are looked at; null where the take is too short to close, or even to be foreseen. */
function windowOf(matches: TakeMatches, frames: number): Window | null {
  const wide = Math.max(3, Math.ceil(search * frames))
  const from = Math.max(3, frames - wide)
  const to = Math.min(matches.frames - 1, frames + wide)
  return to - from < 2 ? null : { from, to }
}

/** Some starts (from 0), the first frame first; all have frames a turn later where the take has frames past its turn. */
function startsOf(matches: TakeMatches, frames: number): readonly number[] {
  const past = Math.max(0, matches.frames - 2 - frames)
  const every = Math.max(1, Math.ceil(past / mostStarts))
  return Array.from({ length: Math.floor(past / every) + 1 }, (_, k) => k * every)
}

/** Where the turn that begins at one start closes. */
export interface Closed {
  /** Where the picture would be exactly that of the start: between two frames, or past the last. */
  readonly steps: number
  readonly confidence: number
  /** The take ends before it. */
  readonly isForeseen: boolean
}

/** Null where the start's step is not seen, and where the take ends before the pictures come near. */
function closedFrom(matches: TakeMatches, start: number, { from, to }: Window): Closed | null {
  const last = Math.min(matches.frames - 1, start + Math.round((from + to) / 2))
  const scale = seamScale(matches, start, last, stillSteps(matches))
  if (!scale.isSeen) return null
  const curve = Array.from({ length: to - from + 1 }, (_, k) => from + k)
    .filter((period) => start + period < matches.frames)
    .map((period) => ({ period, apart: stepsOfDistance(scale, matches.distance(start, start + period)) }))
    .filter(({ apart }) => Number.isFinite(apart))
  const index = curve.reduce((best, { apart }, at) => (apart < (curve[best]?.apart ?? 0) ? at : best), 0)
  const [before, least, behind] = [curve[index - 1], curve[index], curve[index + 1]]
  if (!least || !before) return null
  if (behind) return between(curve, before, least, behind)
  return foreseenFrom(curve, before, least, scale)
}

function between(
  curve: readonly Likeness[],
  before: Likeness,
  least: Likeness,
  behind: Likeness,
): Closed | null {
  if (least.apart > nearEnough) return null
  const shift = Math.max(-0.5, Math.min(0.5, (before.apart - behind.apart) / 2))
  const steps = least.period + shift
  return { steps, confidence: confidenceOf(curve, steps, least.apart), isForeseen: false }
}

/** The last frames still come nearer to the start: what is left is as far as they look. */
function foreseenFrom(
  curve: readonly Likeness[],
  before: Likeness,
  least: Likeness,
  { power }: StepScale,
): Closed | null {
  if (least.apart > foreseen) return null
  const isShort = before.apart - least.apart > 0.4 && least.apart > 0.25
  const left = isShort ? (2 * least.apart + before.apart - 1) / 3 : 0
  const steps = least.period + left
  const sure = Math.max(0, 1 - (left * distanceError) / power)
  return { steps, confidence: sure * confidenceOf(curve, steps, least.apart - left), isForeseen: true }
}

/** How much farther the next best frame is, in steps, that is not beside the closing: 1.5 steps and more are sure. */
function confidenceOf(curve: readonly Likeness[], steps: number, apart: number): number {
  const others = curve.filter(({ period }) => Math.abs(period - steps) >= 1.5)
  const nearest = Math.min(...others.map((other) => other.apart))
  return Math.max(0, Math.min(1, (nearest - Math.max(0, apart)) / 1.5))
}

/** The answer that most starts give, within half a step of each other; the first one's where they are even. */
function mostAgreed(closed: readonly Closed[]): Closed {
  const groups = closed.map(({ steps }) => closed.filter((other) => Math.abs(other.steps - steps) <= 0.5))
  const largest = groups.reduce((most, group) => (weight(group) > weight(most) ? group : most))
  return {
    steps: median(largest.map(({ steps }) => steps)),
    confidence: median(largest.map(({ confidence }) => confidence)),
    isForeseen: largest.every(({ isForeseen }) => isForeseen),
  }
}

function weight(group: readonly Closed[]): number {
  return group.reduce((sum, { confidence }) => sum + confidence, 0)
}

/** Frames from frame 1 to where the mark on the edge comes round, put together from all starts; null: it never does. */
function closingByAngles(anglesDeg: readonly (number | null)[]): number | null {
  const periods = anglesDeg.map((angle, start) => (angle === null ? null : turnFrom(anglesDeg, start, angle)))
  const told = periods.filter((period): period is number => period !== null)
  return told.length === 0 ? null : median(told)
}

function turnFrom(anglesDeg: readonly (number | null)[], start: number, from: number): number | null {
  let before: { frame: number; angle: number } | null = null
  for (let frame = start + 1; frame < anglesDeg.length; frame++) {
    const angle = anglesDeg[frame]
    if (angle === null || angle === undefined) continue
    const turned = Math.abs(angle - from)
    if (turned >= 360 && before) {
      const part = (360 - before.angle) / (turned - before.angle)
      return before.frame + part * (frame - before.frame) - start
    }
    before = { frame, angle: turned }
  }
  return null
}

function byCount(frames: number, reason: TurnClosing['reason']): TurnClosing {
  return {
    by: 'count',
    reason,
    stepsPerTurn: frames,
    framesPerTurn: frames,
    closingFrame: null,
    isForeseen: false,
    isRough: false,
    confidence: null,
    loopIn: 1,
    loopOut: frames,
    seamRatio: null,
  }
}

/** Puts the loop where its seam jumps least: where the frame after the loop is most like the loop's first. */
function withLoop(
  matches: TakeMatches,
  told: Pick<TurnClosing, 'by' | 'stepsPerTurn' | 'framesPerTurn' | 'isRough'> & {
    readonly confidence: number
  },
): TurnClosing {
  const { stepsPerTurn, framesPerTurn } = told
  const starts = Array.from({ length: Math.max(0, matches.frames - framesPerTurn) }, (_, start) => start)
  const { fine } = matches
  const apart = fine ? fine.take.squareApart : matches.distance
  const start = starts.reduce(
    (best, at) => (apart(at, at + framesPerTurn) < apart(best, best + framesPerTurn) ? at : best),
    0,
  )
  const last = Math.min(matches.frames, start + framesPerTurn) - 1
  // Where the pictures at a fine seam do not tell, it is what the turn has over or lacks.
  const seam = fine
    ? (fineSeam(fine.take, start, last)?.steps ?? Math.abs(stepsPerTurn - framesPerTurn + 1))
    : seamJump(matches, start, last)
  return {
    ...told,
    reason: null,
    closingFrame: framesPerTurn + 1,
    isForeseen: told.isRough || framesPerTurn >= matches.frames,
    loopIn: start + 1,
    loopOut: last + 1,
    seamRatio: seam,
  }
}

function seamJump(matches: TakeMatches, start: number, last: number): number | null {
  const scale = seamScale(matches, start, last, stillSteps(matches))
  const seam = stepsOfDistance(scale, matches.distance(last, start))
  return scale.isSeen && Number.isFinite(seam) ? seam : null
}
