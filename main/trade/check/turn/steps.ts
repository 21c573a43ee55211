import { bySureness, type FineSteps, placed, type Suspect, sureAlone } from './fineSteps.ts'
import { isWithin, type KnownTurn, withinTurn } from './knownTurn.ts'
import { missedSteps, stepRatio } from './missedSteps.ts'
import { stillSteps } from './samePicture.ts'
import { noiseOf, type StepScale, stepScaleAt, turnIsSeen } from './stepScale.ts'
import type { TakeMatches } from './takeMatches.ts'

/** The steps of a take. Frames are the take's, from 1; a step is named by the frame it leads to. */
export interface TakeSteps {
  /**
   * For each frame, how far it was turned from the frame before, in steps as they run beside it. Null for the first
   * frame, beside frames that could not be read, and where no step is seen.
   */
  readonly ratios: readonly (number | null)[]
  /** Frames before which a mark was passed over. */
  readonly missed: readonly number[]
  /** Frames that were shot at the mark of the frame before. */
  readonly doubled: readonly number[]
  /** Frames that are unlike both neighbours while these fit each other. */
  readonly odd: readonly number[]
  /** Frames whose step cannot be judged, because the product hardly changes there. */
  readonly unseen: readonly number[]
  /** Marks that were passed over by the count of the turn, at steps that cannot be told. */
  readonly notPlaced: number
  /** Frames before which they were passed over most likely: where to look first. */
  readonly likely: readonly number[]
  /** The steps are too fine to be told one by one everywhere. */
  readonly isFine: boolean
}

/**
 * Judges each step against the steps beside it. Where the turn is known from its closing, that says how many marks
 * were passed over, and the steps only where; without it a step has to stand out by itself.
 * @param turn  from the closing, where it was told by the picture or an edge mark; null while it is not known
 */
export function stepsOf(matches: TakeMatches, turn: KnownTurn | null = null): TakeSteps {
  if (!turnIsSeen(matches)) return nothingSeen(matches)
  const still = stillSteps(matches)
  if (matches.fine) return fineSteps(matches, matches.fine.steps, turn)
  const odd = oddFrames(matches, still)
  const faulty = new Set([...still, ...odd.flatMap((frame) => [frame - 1, frame])])
  const count = missedCount(turn, still)
  const missed = missedSteps(matches, faulty, turn, count)
  const whole = new Set([...faulty, ...missed])
  const judged = Array.from({ length: Math.max(0, matches.frames - 1) }, (_, step) =>
    stepRatio(matches, step, whole),
  )
  const unplaced = notPlaced(turn, count, missed)
  const largest = judged
    .flatMap((ratio, step) => (ratio === null || missed.has(step) ? [] : [{ step, sureness: ratio }]))
    .filter(({ step }) => turn !== null && isWithin(turn, step))
    .sort(bySureness)
  return {
    ratios: [null, ...judged.map((ratio) => (ratio === null ? null : Math.min(9, ratio)))].slice(
      0,
      matches.frames,
    ),
    missed: framesOf(missed),
    doubled: framesOf(still),
    odd: odd.map((frame) => frame + 1),
    unseen: judged.flatMap((ratio, step) =>
      ratio === null && Number.isFinite(matches.distance(step, step + 1)) ? [step + 2] : [],
    ),
    notPlaced: unplaced,
    likely: unplaced === 0 ? [] : framesOf(likelySteps(largest)),
    isFine: false,
  }
}

function framesOf(steps: Iterable<number>): readonly number[] {
  return [...steps].map((step) => step + 2).sort((a, b) => a - b)
}

function notPlaced(turn: KnownTurn | null, count: number, missed: Iterable<number>): number {
  if (turn === null) return 0
  return Math.max(0, count - withinTurn(turn, missed))
}

/** So many places are named to look at first. */
const mostLikely = 3

function likelySteps(passed: readonly Suspect[]): readonly number[] {
  return passed.slice(0, mostLikely).map(({ step }) => step)
}

/** Of fine steps those are named that stand out where the closing tells how many there are, and very sure ones elsewhere. */
function fineSteps(
  { frames, fine }: TakeMatches,
  { ratios, passed, still, stillMaybe, odd }: FineSteps,
  turn: KnownTurn | null,
): TakeSteps {
  const inTurn = ({ step }: Suspect) => turn !== null && isWithin(turn, step)
  const more = turn === null ? 0 : turn.framesPerTurn - turn.plannedFrames - withinTurn(turn, still)
  const again = [...still, ...placed(stillMaybe.filter(inTurn), more).map(({ step }) => step)]
  const count = missedCount(turn, again)
  const within = passed.filter(inTurn)
  const named = placed(within, count)
  const alone = passed.filter((one) => !inTurn(one) && one.sureness > sureAlone)
  const missed = [...named, ...alone].map(({ step }) => step)
  const unplaced = notPlaced(turn, count, missed)
  return {
    ratios:
      frames === 0 ? [] : [null, ...ratios.map((ratio) => (ratio === null ? null : Math.min(9, ratio)))],
    missed: framesOf(missed),
    doubled: framesOf(again),
    odd: odd.map((frame) => frame + 1),
    unseen: ratios.flatMap((ratio, step) =>
      ratio === null && fine?.take.has(step) && fine.take.has(step + 1) ? [step + 2] : [],
    ),
    notPlaced: unplaced,
    likely: unplaced === 0 ? [] : framesOf(likelySteps(within.slice(named.length))),
    isFine: true,
  }
}

function nothingSeen({ frames, fine }: TakeMatches): TakeSteps {
  return {
    ratios: Array.from({ length: frames }, () => null),
    missed: [],
    doubled: [],
    odd: [],
    unseen: Array.from({ length: Math.max(0, frames - 1) }, (_, step) => step + 2),
    notPlaced: 0,
    likely: [],
    isFine: fine !== null,
  }
}

/** Marks passed over in the turn: planned frames that it lacks, and one for each that was shot twice. */
function missedCount(turn: KnownTurn | null, still: Iterable<number>): number {
  if (turn === null) return 0
  return Math.max(0, turn.plannedFrames - turn.framesPerTurn + withinTurn(turn, still))
}

/** Frames (from 0) that a hand, a reflection or a lost flash sets apart: without them the take would run on evenly. */
function oddFrames(matches: TakeMatches, still: ReadonlySet<number>): number[] {
  const found: number[] = []
  for (let frame = 1; frame + 1 < matches.frames; frame++) {
    const to = matches.distance(frame - 1, frame)
    const from = matches.distance(frame, frame + 1)
    const across = matches.distance(frame - 1, frame + 1)
    const scale: StepScale = stepScaleAt(matches, frame, new Set([...still, frame - 1, frame, frame + 1]))
    const least = Math.min(to, from)
    const isFar = least > 1.3 * scale.ofStep && least > 2 * noiseOf(matches)
    if (isFar && across < 0.9 * least) found.push(frame)
  }
  return found
}
