import { isWithin, type KnownTurn, withinTurn } from './knownTurn.ts'
import { noiseOf, stepScaleAt, stepsOfDistance } from './stepScale.ts'
import type { TakeMatches } from './takeMatches.ts'

/** A step so many times its neighbours is a missed one where nothing else tells how many were missed. */
const missedAlone = 1.7
/** And where the closing tells that so many marks were passed over. */
const missedWithClosing = 1.45
/** And it is so many times as large as the next that may be one. */
const leadsBy = 1.05
/**
 * More changes in a missed step than in so many on both sides, by so many times: told from drawn takes. Beside a frame
 * that cannot be read nothing stands out by itself.
 */
const besideAlone = { reach: 2, times: 1.08, mayLack: false }
const besideAwaited = { reach: 1, times: 1, mayLack: true }
/** A step stands out only by more than so many times the noise: fine steps of many frames are near it. */
const overNoise = 1.5
/** And where it tells that none was. */
const missedAgainstClosing = 2.6

/** How far the product turned in a step, in steps as they run beside it; null where no step is seen there. */
export function stepRatio(matches: TakeMatches, step: number, faulty: ReadonlySet<number>): number | null {
  const scale = stepScaleAt(matches, step, faulty)
  const ratio = stepsOfDistance(scale, matches.distance(step, step + 1))
  return scale.isSeen && Number.isFinite(ratio) ? ratio : null
}

/** The steps that stand out most, the largest first; each is taken out before the next is looked for. */
export function missedSteps(
  matches: TakeMatches,
  faulty: ReadonlySet<number>,
  turn: KnownTurn | null,
  count: number,
): Set<number> {
  const missed = new Set<number>()
  for (;;) {
    const known = new Set([...faulty, ...missed])
    const left = turn === null ? 0 : Math.max(0, count - withinTurn(turn, missed))
    const large = largeSteps(matches, known, turn, left)
    const [largest] = large
    if (!largest || !leads(large, largest.isInTurn ? left : 0)) return missed
    missed.add(largest.step)
  }
}

interface LargeStep {
  readonly step: number
  readonly ratio: number
  readonly isInTurn: boolean
}

/** Steps that may be missed ones, the largest first. */
function largeSteps(
  matches: TakeMatches,
  known: ReadonlySet<number>,
  turn: KnownTurn | null,
  left: number,
): readonly LargeStep[] {
  return Array.from({ length: Math.max(0, matches.frames - 1) }, (_, step) => step)
    .filter((step) => !known.has(step))
    .flatMap((step) => {
      const isInTurn = turn !== null && isWithin(turn, step)
      const isAwaited = isInTurn && left > 0
      const limit = isAwaited ? missedWithClosing : isInTurn ? missedAgainstClosing : missedAlone
      const ratio = stepRatio(matches, step, known) ?? 0
      if (ratio < limit) return []
      const scale = stepScaleAt(matches, step, known)
      const more = matches.distance(step, step + 1) ** 2 - scale.ofStep ** 2
      const standsOut = (isAwaited || scale.isBetween) && more >= (overNoise * noiseOf(matches)) ** 2
      return standsOut && isPeak(matches, step, isAwaited ? besideAwaited : besideAlone)
        ? [{ step, ratio, isInTurn }]
        : []
    })
    .sort((a, b) => b.ratio - a.ratio)
}

/**
 * Whether more changes in a step than in those beside it. What changes ever less, as a face does that turns away, or a
 * can at the end of its swing, has steps that are many times the next, and none is missed.
 */
function isPeak(matches: TakeMatches, step: number, { reach, times, mayLack }: typeof besideAlone): boolean {
  const own = matches.distance(step, step + 1)
  const beside = Array.from({ length: reach }, (_, k) => [step - k - 1, step + k + 1]).flat()
  return beside
    .filter((at) => at >= 0 && at + 1 < matches.frames)
    .map((at) => times * matches.distance(at, at + 1))
    .every((change) => (mayLack && !Number.isFinite(change)) || change <= own)
}

/** Where the closing tells that so many are left, the largest is one of them if it is larger than all that cannot be. */
function leads(large: readonly LargeStep[], left: number): boolean {
  const next = large.filter(({ isInTurn }) => isInTurn)[left]
  return left === 0 || (large[0]?.ratio ?? 0) > leadsBy * (next?.ratio ?? 0)
}
