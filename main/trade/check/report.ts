import type { CentreChoice } from './centre/centre.ts'
import type { Finding } from './finding.ts'
import type { Lean } from './outline/horizon.ts'

/**
 * What the check knows of a take so far, for the strip under the ring. Frames are the take's, from 1. Differences of
 * light are in EV: log2 of the ratio of linear luminance.
 */
export interface TakeReport {
  /** Frames of the take as it stands, and how many of them were read. */
  readonly framesOfTake: number
  readonly framesRead: number
  /** The number of the last frame: higher than their count by those left out. 0 where there is none. */
  readonly lastFrame: number
  /** Numbers before the last that are no frame of the turn: void frames, whose marks were shot again. */
  readonly leftOut: readonly number[]
  /** One for each frame that was read or could not be, in the order of the frames. */
  readonly frames: readonly FrameFigures[]
  readonly light: LightVerdict
  readonly steps: StepsVerdict
  readonly closing: ClosingVerdict
  readonly centre: CentreVerdict
  readonly framing: Verdict
  readonly horizon: HorizonVerdict
  readonly files: Verdict
  /** Everything that was found, in the order of the frames; what is about the whole take comes first. */
  readonly findings: readonly Finding[]
  /** What cannot be told yet or at all, and what it waits for: a sentence each. */
  readonly unknown: readonly string[]
}

/** The figures of one frame, for the strip and beside the picture. Null where it cannot be told. */
export interface FrameFigures {
  readonly frame: number
  /** The file's name without its folders. */
  readonly file: string
  /** Why the frame could not be read; null where it was. */
  readonly problem: string | null
  /** Mean luminance of frame, backdrop, platter and product: linear, 0 black to 1 white. */
  readonly frameY: number | null
  readonly backdropY: number | null
  readonly platterY: number | null
  readonly productY: number | null
  /** Luminance against the median of the take's frames, of what is judged: the backdrop where there is one. */
  readonly luminanceEv: number | null
  /** Luminance against the frame before. */
  readonly changeEv: number | null
  /**
   * How far the picture is from the frame before, as a multiple of the steps beside it: 1 is an ordinary step, 2 is
   * twice as far as its neighbours, 0 the same picture again.
   */
  readonly stepRatio: number | null
  /** How well it matches the take's first frame that is of its size: 1 as alike as two pictures of one pose, 0 as far apart as any two of the take. */
  readonly match: number | null
}

/** clean: looked at and nothing found. found: see the findings. unknown: `sentence` says what it waits for. */
export interface Verdict {
  readonly state: 'clean' | 'found' | 'unknown'
  /** One sentence, with the figure and the limit it was held against. */
  readonly sentence: string
}

/** Largest flicker from frame to frame, largest step that stays, and drift over the whole take. */
export interface LightVerdict extends Verdict {
  readonly flickerEv: number | null
  readonly stepEv: number | null
  readonly driftEv: number | null
}

export interface StepsVerdict extends Verdict {
  /** Frames whose step from the frame before was missed (a mark was skipped) or doubled (the same mark again). */
  readonly missed: readonly number[]
  readonly doubled: readonly number[]
}

export interface ClosingVerdict extends Verdict {
  /** Whether the count was told by the picture, by a mark on the platter's edge, or is the plan's own. */
  readonly by: 'picture' | 'edge mark' | 'count'
  /** Frames of one true turn; with `by: 'count'` the plan's. */
  readonly framesPerTurn: number
  /** How sure that is, 0 to 1: 1 where no other frame comes near, 0 where others match as well. Null by count. */
  readonly confidence: number | null
  /** First and last frame of the loop as proposed. */
  readonly loopIn: number
  readonly loopOut: number
  /** The jump at the seam as a multiple of an ordinary step. */
  readonly seamRatio: number | null
}

/** How far the axis of the turn leans in the picture; null where that cannot be told. */
export interface HorizonVerdict extends Verdict {
  readonly lean: Lean | null
}

export interface CentreVerdict extends Verdict {
  /** What of the product was to stand on the axis when it was told. */
  readonly choice: CentreChoice
  /** How far the product stands off the axis, with its error bar; in pixels of the small frame where no scale is known. */
  readonly offset: { readonly value: number; readonly error: number; readonly unit: 'mm' | 'px' } | null
  /** The mark to push the product towards, counted from 0: the ring's label is one more. */
  readonly nudgeTowardsMark: number | null
  /** The share of the measured edges that the fit rests on, 0 to 1. */
  readonly quality: number | null
  /** What was measured: the body's middle, its left or right edge, the swept outline. */
  readonly measuredOn: string | null
}
