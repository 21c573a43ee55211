import { median, quantile } from '../../quantile.ts'

/** How much brighter (over 0) or darker one place of a series is, in EV. Places count from 0. */
export interface LightMark {
  readonly at: number
  readonly ev: number
}

/** A series of light taken apart. Figures in EV. */
export interface LightParts {
  /** Single places, or two in a row, far from those before and after them, which agree. */
  readonly odd: readonly LightMark[]
  /** Places from which on the light stays changed. */
  readonly steps: readonly LightMark[]
  /** Places that differ from those beside them by more than the limit. */
  readonly flicker: readonly LightMark[]
  /** How far the place that differs most differs from those beside it. */
  readonly largestFlickerEv: number
  /** Between the darkest and the brightest of the slow curve, odd places and steps taken out; over 0 is brighter later. */
  readonly driftEv: number
  /** Those two, in the order of the series. */
  readonly driftBetween: readonly [from: number, to: number]
}

/** From which size on something counts, in EV. */
export interface PartLimits {
  readonly flickerEv: number
  readonly stepEv: number
  readonly oddEv: number
}

/** Places on either side that say what a place should be, and that a step must stand through. */
const beside = 2
const stepSpan = 6
const leastSpan = 3
const mostSteps = 12

/** A noise of this many standard deviations happens in no take: 5 leaves less than one in a million frames. */
const surely = 5

interface Place {
  readonly at: number
  ev: number
}

/**
 * Takes a series of light apart into odd places, steps that stay, slow drift and fast flicker, in this order, so that
 * none of them is told twice. Places without a figure (NaN) are left out and keep their number.
 * @param isEnded  no more places follow. Until then the newest two are called odd or nothing: they may begin a step
 */
export function lightParts(
  series: ArrayLike<number>,
  limits: PartLimits,
  { isEnded }: { readonly isEnded: boolean } = { isEnded: true },
): LightParts {
  const places = Array.from(series, (ev, at): Place => ({ at, ev })).filter(({ ev }) => Number.isFinite(ev))
  const odd = oddPlaces(places, limits)
  const isOdd = new Set(odd.map(({ at }) => at))
  const rest = places.filter(({ at }) => !isOdd.has(at)).map((place) => ({ ...place }))
  const steps = takeStepsOut(rest, limits)
  const off = rest.map(({ at, ev }, index) => ({
    at,
    ev: ev - besideEv(rest, index),
    isInside: isInside(rest, index),
  }))
  // At the ends neighbours on one side have to do, and a slope that bends looks like flicker there.
  const flicker = off.filter(
    ({ ev, isInside }, index) =>
      Math.abs(ev) > (isInside ? limits.flickerEv : 2 * limits.flickerEv) &&
      (isEnded || index + beside < off.length),
  )
  const largestFlickerEv = off.reduce(
    (most, { ev, isInside }) => (isInside ? Math.max(most, Math.abs(ev)) : most),
    0,
  )
  const flickers = new Set(flicker.map(({ at }) => at))
  const calm = rest.filter(({ at }) => !flickers.has(at))
  return {
    odd,
    steps,
    flicker: flicker.map(({ at, ev }) => ({ at, ev })),
    largestFlickerEv,
    ...drift(calm.length > rest.length / 2 ? calm : rest),
  }
}

/** Standard deviation of what is fast, told from the quiet three quarters, so that single frames do not count. */
function noiseEv(places: readonly Place[]): number {
  if (places.length < 2 * beside) return 0
  const off = places.map(({ ev }, index) => Math.abs(ev - besideEv(places, index)))
  // 1.1503: the third quartile of the absolute value of a standard normal; 5/4 is the variance the neighbours add.
  return quantile(off, 0.75) / 1.1503 / Math.sqrt(1.25)
}

/**
 * What a place should be by those beside it. At the ends, where a curve may go on as it does or level off, the one of
 * the two that is nearer to what it is.
 */
function besideEv(places: readonly Place[], index: number): number {
  const here = places[index]
  if (!here) return 0
  const level = expectedEv(places, index, 0)
  if (isInside(places, index)) return level
  const onSlope = expectedEv(places, index, slopeAt(places, index))
  return Math.abs(here.ev - level) < Math.abs(here.ev - onSlope) ? level : onSlope
}

function expectedEv(places: readonly Place[], index: number, slope: number): number {
  const here = places[index]
  if (!here) return 0
  const reach = isInside(places, index) ? beside : 2 * beside
  const others: number[] = []
  for (let i = Math.max(0, index - reach); i <= Math.min(places.length - 1, index + reach); i++) {
    const other = places[i]
    if (i !== index && other) others.push(other.ev + slope * (here.at - other.at))
  }
  return others.length === 0 ? here.ev : median(others)
}

/** Whether it has neighbours enough on both sides, so that no slope is needed. */
function isInside(places: readonly Place[], index: number): boolean {
  return index >= beside && index + beside < places.length
}

/**
 * EV per frame around a place: the median of the slopes over some frames each, so that neither a step nor a single
 * frame tells in it (after Theil and Sen): slopes across a step are a third of them at most.
 */
function slopeAt(places: readonly Place[], index: number): number {
  const span = Math.min(8, Math.floor(places.length / 5))
  if (span < 2) return 0
  const slopes: number[] = []
  const from = Math.max(0, Math.min(index - 3 * span, places.length - 6 * span))
  for (let i = from; i + span < places.length && i <= Math.max(index, from) + 2 * span; i++) {
    const a = places[i]
    const b = places[i + span]
    if (a && b) slopes.push((b.ev - a.ev) / (b.at - a.at))
  }
  return slopes.length === 0 ? 0 : median(slopes)
}

function oddPlaces(places: readonly Place[], { oddEv }: PartLimits): LightMark[] {
  const least = Math.max(oddEv, surely * noiseEv(places))
  const marks = places.flatMap(({ at, ev }, index): LightMark[] => {
    const before = places.slice(Math.max(0, index - leastSpan), index).map((place) => place.ev)
    const after = places.slice(index + 1, index + 1 + leastSpan).map((place) => place.ev)
    if (before.length + after.length < leastSpan) return []
    // The newest frame is odd only while it is alone; two that agree may be the beginning of a step.
    const last = before.at(-1) ?? ev
    if (after.length === 0 && Math.abs(ev - last) < least) return []
    const from = [before, after].filter(({ length }) => length > 0).map((side) => ev - median(side))
    const isOdd = from.every((each) => Math.abs(each) > least && Math.sign(each) === Math.sign(from[0] ?? 0))
    return isOdd ? [{ at, ev: from.reduce((sum, each) => sum + each, 0) / from.length }] : []
  })
  // What happens in every tenth frame is no odd frame: the light flickers.
  return marks.length > Math.max(2, places.length / 10) ? [] : marks
}

/** Finds the steps, the clearest first, and takes each out of the places after it. */
function takeStepsOut(places: Place[], limits: PartLimits): LightMark[] {
  const steps: LightMark[] = []
  // No step tells in a slope, so that they hold while steps are taken out.
  const slopes = places.map((_, index) => slopeAt(places, index))
  while (steps.length < mostSteps) {
    const step = clearestStep(places, slopes, limits)
    if (!step) break
    steps.push({ at: places[step.index]?.at ?? 0, ev: step.ev })
    for (const place of places.slice(step.index)) place.ev -= step.ev
  }
  return steps.sort((a, b) => a.at - b.at)
}

function clearestStep(
  places: readonly Place[],
  slopes: readonly number[],
  { stepEv, oddEv }: PartLimits,
): { readonly index: number; readonly ev: number } | null {
  const noise = noiseEv(places)
  let best: { index: number; ev: number } | null = null
  let clearest = 0
  for (let index = leastSpan; index + 2 <= places.length; index++) {
    const span = Math.min(stepSpan, index, places.length - index)
    const jumps = jumpsEv(places, index, span, slopes[index] ?? 0)
    const ev = jumps.reduce((sum, jump) => sum + jump, 0) / span
    // Two frames are enough for a large step only: while a take runs it must be told early.
    const least = Math.max(span < leastSpan ? oddEv : stepEv, surely * noise * Math.sqrt(2 / span))
    // A step happens between two frames, as a slope does not; and it stays, as a frame that flickers does not.
    const isSudden = (jumps[0] ?? 0) / ev > 0.5
    const signed = jumps.map((jump) => Math.sign(ev) * jump)
    // Two frames that flicker, one on either side and of other signs, lift the median of four, but not the rest.
    const stays = median(signed) > least && quantile(signed, 0.25) > least / 2
    const clear = Math.abs(ev) * Math.sqrt(span)
    if (Math.abs(ev) > least && isSudden && stays && clear > clearest) {
      clearest = clear
      // The frames nearest to it know its size best: further off a slope bends.
      best = { index, ev: jumps.slice(0, 4).reduce((sum, jump) => sum + jump, 0) / Math.min(4, span) }
    }
  }
  return best
}

/** How much brighter each frame from a place on is than its mirror before the place, less what the slope brings. */
function jumpsEv(places: readonly Place[], index: number, span: number, slope: number): readonly number[] {
  return Array.from({ length: span }, (_, i) => {
    const before = places[index - 1 - i]
    const after = places[index + i]
    return before && after ? after.ev - before.ev - slope * (after.at - before.at) : 0
  })
}

function drift(places: readonly Place[]): Pick<LightParts, 'driftEv' | 'driftBetween'> {
  const reach = Math.max(beside, Math.round(places.length / 24))
  const slow = places.map((_, index) => {
    const near = Math.min(reach, Math.max(beside, index), Math.max(beside, places.length - 1 - index))
    return middleMean(places.slice(Math.max(0, index - near), index + near + 1).map(({ ev }) => ev))
  })
  if (slow.length === 0) return { driftEv: 0, driftBetween: [0, 0] }
  const darkest = slow.indexOf(Math.min(...slow))
  const brightest = slow.indexOf(Math.max(...slow))
  const [from, to] = [darkest, brightest].sort((a, b) => a - b) as [number, number]
  return {
    driftEv: (slow[to] ?? 0) - (slow[from] ?? 0),
    driftBetween: [places[from]?.at ?? 0, places[to]?.at ?? 0],
  }
}

/** The mean without the highest and the lowest quarter: neither a frame that flickers nor every second one moves it. */
function middleMean(values: readonly number[]): number {
  const cut = Math.floor(values.length / 4)
  const middle = values.toSorted((a, b) => a - b).slice(cut, values.length - cut)
  return middle.reduce((sum, each) => sum + each, 0) / middle.length
}
