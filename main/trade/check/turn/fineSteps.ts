import { median } from '../../quantile.ts'
import type { FineTake } from './fineTake.ts'
import { smoothRest } from './smoothRest.ts'

/** The steps of a take so fine that two frames differ by little more than their noise. */
export interface FineSteps {
  /** How far the product turned from frame `step` to the next (from 0), in steps; null where it cannot be told. */
  readonly ratios: readonly (number | null)[]
  /** Steps that look most as if a mark had been passed over in them, the surest first, and however unsure. */
  readonly passed: readonly Suspect[]
  /** Steps in which the product surely did not turn. */
  readonly still: readonly number[]
  /** Other steps that look as if it did not, the surest first, and however unsure. */
  readonly stillMaybe: readonly Suspect[]
  /** Frames (from 0) unlike both neighbours, while these are alike. */
  readonly odd: readonly number[]
  /** What a smooth course leaves over of most steps: the noise. In the squares of `FineTake`, for each frame. */
  readonly noiseSquare: number
  /** Whether the product is seen to turn. */
  readonly isSeen: boolean
}

export interface Suspect {
  readonly step: number
  /**
   * How many times less smooth the take runs without the fault, as a natural logarithm, less half of that of how much
   * less smooth it runs there than beside it even with the fault.
   */
  readonly sureness: number
}

/** Frames on each side of a step that a smooth course is laid through, and its degree. */
const reach = 3
const degree = 2
/** Turned this much more than a step, in steps: from one turned back a little to three. */
const least = -1
const every = 0.1
const more = Array.from({ length: 31 }, (_, k) => least + every * k)
const inOneStep = Math.round(1 / every)
/** A passed mark is about one step more; a mark shot again about one less. */
const leastPassed = 0.5
const mostPassed = 1.9
const mostStill = -0.55
/**
 * From here on a fault is named where nothing else speaks for it: told from rendered takes, in which what was not there
 * reached 1.05, and what was there mostly 1.5 to 2.5.
 */
export const sureAlone = 1.3
/**
 * Where the closing says that there is one, the surest step is it if it is at least so sure, and surer than the next by
 * so much. Of 639 rendered takes with a mark passed over this named the right step in 79 %, and no wrong one.
 */
const sureWithClosing = 0.5
const surerThanNext = 0.5
const sureStill = 0.9
/** A step is told where one more or less would be told: from a logarithm of this. */
const leastTold = 0.7
/** The steps beside one, by which it is known how smoothly the take runs. */
const besideFrom = 2 * reach - 1
const besideTo = 2 * reach + 4
/** A product is seen to turn where this many steps change this many times what noise does, in so many of its poses. */
const stepsSeen = 4
const overNoise = 2
const leastSeen = 0.8
/** An odd frame is so many times as far from both neighbours, in squares, as these are and as frames beside it are. */
const oddBeside = 4

/**
 * Measures each step by what makes the pictures before and after it one smooth course: the frames around it are laid
 * on a parabola, pixel by pixel, once for every length of the step, and the length that leaves least over is its
 * own. All pixels count in it, so that steps are told whose change drowns in the noise of any one pixel; and where a
 * face comes into sight or flashes, no length makes the course smooth, and nothing is named.
 */
export function fineStepsOf(take: FineTake): FineSteps {
  const odd = oddFrames(take)
  const first = judged(measured(take, marksOf(take.frames, [], []), odd))
  // A fault bends the measure of the steps beside it until it is known.
  const sure = first.passed.filter(({ sureness }) => sureness > sureAlone).map(({ step }) => step)
  const isWhole = first.still.length + sure.length === 0
  const steps = isWhole ? first : judged(measured(take, marksOf(take.frames, sure, first.still), odd))
  return { ...steps, odd: [...odd], isSeen: isSeen(take, first.noiseSquare) }
}

/** Of steps that look like a fault, the surest first, those that stand out when `count` of them are known to be it. */
export function placed(suspects: readonly Suspect[], count: number): readonly Suspect[] {
  for (let named = Math.min(count, suspects.length); named > 0; named--) {
    const [least, next = Number.NEGATIVE_INFINITY] = [named - 1, named].map((at) => suspects[at]?.sureness)
    if (least !== undefined && least > sureWithClosing && least - next > surerThanNext)
      return suspects.slice(0, named)
  }
  return []
}

/** Frames that a hand, a reflection or a lost flash sets apart. */
function oddFrames(take: FineTake): ReadonlySet<number> {
  const apart = Array.from({ length: Math.max(0, take.frames - 1) }, (_, step) =>
    take.squareApart(step, step + 1),
  )
  const found = new Set<number>()
  for (let frame = 1; frame + 1 < take.frames; frame++) {
    const nearer = Math.min(apart[frame - 1] ?? Number.NaN, apart[frame] ?? Number.NaN)
    if (!(nearer > oddBeside * take.squareApart(frame - 1, frame + 1))) continue
    const near = apart.slice(Math.max(0, frame - besideTo), frame + besideTo).filter(Number.isFinite)
    if (nearer > oddBeside * median(near)) found.add(frame)
  }
  return found
}

function isSeen(take: FineTake, noiseSquare: number): boolean {
  const apart = Array.from({ length: Math.max(0, take.frames - stepsSeen) }, (_, step) =>
    take.squareApart(step, step + stepsSeen),
  ).filter(Number.isFinite)
  const seen = apart.filter((square) => square > (1 + overNoise) * 2 * noiseSquare)
  return apart.length > 0 && seen.length > leastSeen * apart.length
}

function marksOf(frames: number, passed: readonly number[], still: readonly number[]): readonly number[] {
  const two = new Set(passed)
  const none = new Set(still)
  let mark = 0
  return Array.from({ length: frames }, (_, frame) => {
    if (frame > 0) mark += two.has(frame - 1) ? 2 : none.has(frame - 1) ? 0 : 1
    return mark
  })
}

interface MeasuredStep {
  /** How much more than a step it is. */
  readonly more: number
  /** What is left over of the squares, for each frame more than the course needs: were it one step, and at best. */
  readonly one: number
  readonly best: number
  /** And were it a step more or less than at best: the better of the two. */
  readonly other: number
}

function measured(
  take: FineTake,
  marks: readonly number[],
  odd: ReadonlySet<number>,
): readonly (MeasuredStep | null)[] {
  const measure = measuring(take)
  const isThere = (frame: number) => take.has(frame) && !odd.has(frame)
  return marks.slice(1).map((_, step) => {
    const frames = Array.from({ length: 2 * reach }, (_, k) => step - reach + 1 + k).filter(isThere)
    if (!isThere(step) || !isThere(step + 1)) return null
    const own = (marks[step + 1] ?? 0) - (marks[step] ?? 0)
    const places = frames.map(
      (frame) => (marks[frame] ?? 0) - (marks[step] ?? 0) + (frame > step ? 1 - own : 0),
    )
    return measure(frames, places)
  })
}

/** How far the product turns from one frame to another a turn before, and how sure that is. */
export interface FineSeam {
  /** In steps, from 0 to 3. */
  readonly steps: number
  /** What is left over of the squares, for each frame more than a smooth course needs. */
  readonly square: number
}

/** The turn from the loop's last frame back to its first, counted from 0; null where the picture does not tell. */
export function fineSeam(take: FineTake, first: number, last: number): FineSeam | null {
  const places = Array.from({ length: 2 * reach }, (_, k) => k - reach + 1)
  const at = places.map((place) => (place > 0 ? first + place - 1 : last + place))
  const there = places.map((_, k) => k).filter((k) => take.has(at[k] ?? 0))
  const seam = measuring(take)(
    there.map((k) => at[k] ?? 0),
    there.map((k) => places[k] ?? 0),
  )
  return seam && isTold(seam) ? { steps: Math.max(0, 1 + seam.more), square: seam.best } : null
}

/** Measures the step between two frames, from 0 to 1, by the frames at places around it; null where too few are there. */
function measuring(take: FineTake) {
  const rests = new Map<string, readonly Float64Array[]>()
  return (frames: readonly number[], places: readonly number[]): MeasuredStep | null => {
    const before = places.filter((place) => place <= 0).length
    const free = frames.length - degree - 1
    if (free < 2 || Math.min(before, frames.length - before) < 2) return null
    const key = `${before}: ${places.join(' ')}`
    const known = rests.get(key) ?? more.map((turn) => smoothRest(turnedBy(places, before, turn), degree))
    rests.set(key, known)
    const products = evenProducts(take, frames)
    return bestOf(known.map((rest) => leftOver(rest, products) / free))
  }
}

/** A whole step more or less would leave clearly more over. */
function isTold({ other, best }: MeasuredStep): boolean {
  return Math.log(other / best) > leastTold
}

function turnedBy(places: readonly number[], before: number, turn: number): readonly number[] {
  return places.map((place, at) => (at < before ? place : place + turn))
}

/** The products of all frames with each other, once what their mean picture shares with each is taken out: exposure. */
function evenProducts(take: FineTake, frames: readonly number[]): Float64Array {
  const count = frames.length
  const products = new Float64Array(count * count)
  frames.forEach((a, i) => {
    frames.forEach((b, j) => {
      products[i * count + j] = take.product(a, b)
    })
  })
  const withMean = frames.map(
    (_, i) => products.subarray(i * count, (i + 1) * count).reduce((a, b) => a + b) / count,
  )
  const mean = withMean.reduce((a, b) => a + b) / count
  return products.map(
    (value, at) => value - ((withMean[Math.floor(at / count)] ?? 0) * (withMean[at % count] ?? 0)) / mean,
  )
}

function leftOver(rest: Float64Array, products: Float64Array): number {
  let sum = 0
  for (let at = 0; at < rest.length; at++) sum += (rest[at] as number) * (products[at] as number)
  return sum
}

function bestOf(left: readonly number[]): MeasuredStep {
  const at = left.reduce((best, value, index) => (value < (left[best] ?? value) ? index : best), 0)
  const best = left[at] ?? 0
  const [before = best, behind = best] = [left[at - 1], left[at + 1]]
  const bend = before - 2 * best + behind
  const between = bend > 0 && at > 0 && at + 1 < left.length ? (every * (before - behind)) / (2 * bend) : 0
  return {
    more: (more[at] ?? 0) + between,
    one: left[inOneStep] ?? 0,
    best,
    other: Math.min(left[at - inOneStep] ?? Infinity, left[at + inOneStep] ?? Infinity),
  }
}

function judged(steps: readonly (MeasuredStep | null)[]) {
  const passed: Suspect[] = []
  const still: number[] = []
  const stillMaybe: Suspect[] = []
  const ratios = steps.map((own, step) => {
    if (!own) return null
    const roughness = Math.max(1, own.best / besideOf(steps, step))
    const sureness = Math.log(own.one / own.best) - Math.log(roughness) / 2
    const isPassed = own.more > leastPassed && own.more < mostPassed
    const isStill = own.more < mostStill && sureness > sureStill
    if (own.more < mostStill && !isStill) stillMaybe.push({ step, sureness })
    if (isPassed) passed.push({ step, sureness })
    if (isStill) still.push(step)
    return isTold(own) || isStill ? Math.max(0, 1 + own.more) : null
  })
  const least = steps.flatMap((own) => (own ? [own.best] : []))
  return {
    ratios,
    passed: passed.sort(bySureness),
    still,
    stillMaybe: stillMaybe.sort(bySureness),
    // Of a take of a few frames no step has enough beside it: nothing is seen over the noise yet.
    noiseSquare: least.length === 0 ? Number.POSITIVE_INFINITY : median(least),
  }
}

/** Puts the surest first. */
export function bySureness(a: Suspect, b: Suspect): number {
  return b.sureness - a.sureness
}

function besideOf(steps: readonly (MeasuredStep | null)[], step: number): number {
  const beside = steps.flatMap((other, at) => {
    const away = Math.abs(at - step)
    return other && away >= besideFrom && away <= besideTo ? [other.one] : []
  })
  return beside.length === 0 ? 0 : median(beside)
}
