import { median, quantile } from '../../quantile.ts'
import type { Finding } from '../finding.ts'
import type { FrameTrace } from '../frameTrace.ts'
import type { CheckLimits } from '../limits.ts'
import type { LightVerdict } from '../report.ts'
import { type AreaLight, lightFindings } from './lightFindings.ts'
import { lightParts, type PartLimits } from './lightParts.ts'
import { type LightPlace, type StillLight, stillLightsOf } from './lightSeries.ts'
import { cleanLight, noLightTold, productDriftNotTold, productNotTold, tooFewForLight } from './lightWords.ts'
import { productFlicker, productGainEv, productLightEv, productTurnLaterEv } from './productLight.ts'

/** From which size on a change of light counts, in EV. */
export interface LightLimits extends PartLimits {
  /** Between the darkest and the brightest of what changes slowly. */
  readonly driftEv: number
  /** Between the last frame of the turn and the first. */
  readonly seamEv: number
}

/** A single frame so far from its neighbours is no flicker: something happened. Common practice, no published source. */
const usualOddEv = 0.3

/** The limits of the light by those of the studio; the seam of a loop is one step more, and is held to the same limit. */
export function lightLimitsOf({ flickerMev, lightStepMev, driftMev }: CheckLimits): LightLimits {
  return {
    flickerEv: flickerMev / 1000,
    stepEv: lightStepMev / 1000,
    driftEv: driftMev / 1000,
    seamEv: lightStepMev / 1000,
    oddEv: Math.max(usualOddEv, (3 * flickerMev) / 1000),
  }
}

/** The light of one frame in EV; null where it could not be told. */
export interface FrameLight {
  readonly frame: number
  /** Of what the take is judged by, against its median over the take and against the frame before. */
  readonly luminanceEv: number | null
  readonly changeEv: number | null
}

export interface LightCheck {
  readonly frames: readonly FrameLight[]
  /** What the light is judged by; null where nothing was read or nothing tells it. */
  readonly judgedBy: LightPlace | null
  /** Standard deviation of a frame's figure by the noise of the pictures themselves; null where nothing tells light. */
  readonly noiseEv: number | null
  /** Between the last frame of the turn and the first; null before the turn is closed. */
  readonly seamEv: number | null
  /**
   * Frames, from 1, before which the light changed on the product otherwise than on what stands still: there the picture
   * does not tell how far the product turned.
   */
  readonly unevenFrames: readonly number[]
  readonly verdict: LightVerdict
  readonly findings: readonly Finding[]
  /** What of the light cannot be told by these pictures, a sentence each. */
  readonly unknown: readonly string[]
}

/** Fewer frames than this tell neither flicker from a step nor a step from drift. */
const leastFrames = 6

/** Six standard deviations of a frame are five of its difference from those beside it: less than one in a million frames. */
const surely = 6

/**
 * Judges the light of a take, or of as much of it as there is: flicker from frame to frame, steps that stay, slow
 * drift, single odd frames, and the difference at the seam. It is judged by what stands still, since a product
 * brightens and darkens as it turns; the product is watched for what its own turning and highlights cannot do. What is
 * found exceeds both its limit and six standard deviations of the pictures' own noise.
 * @param traces         the take's frames in their order, null for one that could not be read
 * @param framesPerTurn  of the plan or as counted; the seam is judged from that frame on. Null where not known
 */
export function lightOf(
  traces: readonly (FrameTrace | null)[],
  limits: LightLimits,
  framesPerTurn: number | null,
): LightCheck {
  const read = traces.filter((trace) => trace !== null).length
  const [still = null, ...others] = read < leastFrames ? [] : stillLightsOf(traces, limits.flickerEv / surely)
  const frames = frameLights(traces, still?.ev ?? null)
  if (!still || surely * still.noiseEv > limits.driftEv) return untold(frames, read, still)
  const told = aboveNoise(limits, still.noiseEv)
  const hasTurned = framesPerTurn !== null && traces.length >= framesPerTurn
  const judged = { ...still, parts: lightParts(still.ev, told, { isEnded: hasTurned }), showsDrift: true }
  const beside = others.map((other) => besideArea(other, limits))
  const product = productLight(traces, [judged, ...beside], told, framesPerTurn)
  const areas = [judged, ...beside, ...(product.area ? [product.area] : [])]
  const seamEv = framesPerTurn === null ? null : seamOf(areas, framesPerTurn)
  const laterEv = hasTurned ? productTurnLaterEv(traces, still.ev, framesPerTurn) : null
  const findings = lightFindings(areas, told, { seamEv, productLaterEv: laterEv ?? 0 })
  const figures = {
    flickerEv: judged.parts.largestFlickerEv,
    stepEv: largest(
      (areas.find(({ parts }) => parts.steps.length > 0) ?? judged).parts.steps.map(({ ev }) => ev),
    ),
    driftEv: judged.parts.driftEv,
  }
  const verdict: LightVerdict = {
    state: findings.some(({ fault }) => fault !== null) ? 'found' : 'clean',
    sentence: findings[0]?.sentence ?? cleanLight(judged.place, figures, told, seamEv, hasTurned),
    ...figures,
  }
  return {
    frames,
    judgedBy: judged.place,
    noiseEv: still.noiseEv,
    seamEv,
    unevenFrames: unevenFrames(traces, areas),
    verdict,
    findings,
    unknown: [
      ...product.unknown,
      ...(hasTurned && product.area && laterEv === null ? [productDriftNotTold] : []),
    ],
  }
}

function untold(frames: readonly FrameLight[], read: number, still: StillLight | null): LightCheck {
  const sentence = read < leastFrames ? tooFewForLight(read, leastFrames) : noLightTold(still?.place ?? null)
  return {
    frames,
    judgedBy: null,
    noiseEv: still?.noiseEv ?? null,
    seamEv: null,
    unevenFrames: [],
    verdict: { state: 'unknown', sentence, flickerEv: null, stepEv: null, driftEv: null },
    findings: [],
    unknown: [],
  }
}

/** The limits, raised to what the noise of the pictures lets be told. */
function aboveNoise(limits: LightLimits, noiseEv: number): LightLimits {
  const least = surely * noiseEv
  return {
    flickerEv: Math.max(limits.flickerEv, least),
    stepEv: Math.max(limits.stepEv, least),
    driftEv: Math.max(limits.driftEv, least),
    seamEv: Math.max(limits.seamEv, least),
    oddEv: Math.max(limits.oddEv, least),
  }
}

/**
 * What else stands still beside what the take is judged by: where that is clipped, only this tells how bright a frame
 * was. A backdrop's steps count too, as it may have a light of its own; on the platter the product's shadow turns.
 */
function besideArea(other: StillLight, limits: LightLimits): AreaLight {
  const told = aboveNoise(limits, other.noiseEv)
  const parts = lightParts(other.ev, { ...told, flickerEv: Number.POSITIVE_INFINITY })
  const steps = other.place === 'backdrop' ? parts.steps : []
  return { place: other.place, ev: other.ev, parts: { ...parts, steps }, showsDrift: false }
}

/** A facet that turns into the light changes a product by less than this within a step. Common practice, no published source. */
const leastOfProductEv = 0.25
/** A light on the product alone that dies takes a stop away or more; what must be larger to be told is not looked for. */
const mostOfProductEv = 0.5

interface ProductPart {
  /** Null where nothing is told of it. */
  readonly area: AreaLight | null
  readonly unknown: readonly string[]
}

const noChange = {
  odd: [],
  steps: [],
  flicker: [],
  largestFlickerEv: 0,
  driftEv: 0,
  driftBetween: [0, 0],
} as const

/** The product's light: steps and odd frames by its series, flicker by each frame against those beside it. */
function productLight(
  traces: readonly (FrameTrace | null)[],
  still: readonly AreaLight[],
  limits: LightLimits,
  framesPerTurn: number | null,
): ProductPart {
  // A frame that is odd by what stands still is told, and must not be told again by the product.
  const odd = new Set(still.flatMap(({ parts }) => parts.odd.map(({ at }) => at)))
  const rest = traces.map((trace, at) => (odd.has(at) ? null : trace))
  const flicker =
    framesPerTurn === null
      ? []
      : productFlicker(rest, still[0]?.ev ?? [], { flickerEv: limits.flickerEv, framesPerTurn })
  if (flicker.length === 0) return productChanges(rest, limits)
  // Where it flickers all round, single frames and steps are no news.
  const largestFlickerEv = Math.abs(largest(flicker.map(({ ev }) => ev)))
  const parts = { ...noChange, flicker, largestFlickerEv }
  return { area: { place: 'product', ev: new Float64Array(), parts, showsDrift: false }, unknown: [] }
}

/**
 * Steps and odd frames of the product's light, with only what stands far out of how its own turning changes it from step
 * to step. Where its turning alone changes it by as much as a light that dies, nothing is told of it.
 */
function productChanges(traces: readonly (FrameTrace | null)[], limits: LightLimits): ProductPart {
  const ev = productLightEv(traces)
  if (!ev) return { area: null, unknown: [productNotTold] }
  const known = Array.from(ev).filter(Number.isFinite)
  const gains = known.slice(1).map((each, index) => Math.abs(each - (known[index] ?? each)))
  if (gains.length === 0) return { area: null, unknown: [productNotTold] }
  const leastEv = Math.max(leastOfProductEv, limits.stepEv, 6 * median(gains), 3 * quantile(gains, 0.85))
  if (leastEv > mostOfProductEv) return { area: null, unknown: [productNotTold] }
  const { odd, steps } = lightParts(ev, {
    flickerEv: Number.POSITIVE_INFINITY,
    stepEv: leastEv,
    oddEv: leastEv,
  })
  return {
    area: { place: 'product', ev, parts: { ...noChange, odd, steps }, showsDrift: false },
    unknown: [],
  }
}

/**
 * Frames where a step of light, or one of an odd frame's two, is another on the product than on what stands still, by a
 * third of it or more; all of them where the product's light flickers.
 */
function unevenFrames(
  traces: readonly (FrameTrace | null)[],
  areas: readonly AreaLight[],
): readonly number[] {
  if (areas.some(({ place, parts }) => place === 'product' && parts.flicker.length > 0)) {
    return traces.map((_, at) => at + 1).slice(1)
  }
  const changed = areas.flatMap(({ parts }) => [
    ...parts.steps,
    ...parts.odd.flatMap(({ at, ev }) => [
      { at, ev },
      { at: at + 1, ev },
    ]),
  ])
  const still = areas[0]?.ev ?? []
  const uneven = changed.filter(({ at, ev }) => {
    const stillEv = (still[at] ?? Number.NaN) - (still[at - 1] ?? Number.NaN)
    return Math.abs(productGainEv(traces[at - 1], traces[at]) - stillEv) > Math.abs(ev) / 3
  })
  return [...new Set(uneven.map(({ at }) => at + 1))].sort((a, b) => a - b)
}

function frameLights(
  traces: readonly (FrameTrace | null)[],
  judged: Float64Array | null,
): readonly FrameLight[] {
  const figure = (index: number) => {
    const value = judged?.[index]
    return value === undefined || Number.isNaN(value) ? null : value
  }
  return traces.map((_, index) => {
    const luminanceEv = figure(index)
    const before = figure(index - 1)
    return {
      frame: index + 1,
      luminanceEv,
      changeEv: luminanceEv === null || before === null ? null : luminanceEv - before,
    }
  })
}

/**
 * How much brighter the turn ends than it began: by its overlap against the same marks where there is one, else by its
 * last frames against its first. Odd frames do not count.
 */
function seamOf(areas: readonly AreaLight[], framesPerTurn: number): number | null {
  const ev = areas[0]?.ev ?? new Float64Array()
  if (ev.length < framesPerTurn) return null
  const isOdd = new Set(areas.flatMap(({ parts }) => parts.odd.map(({ at }) => at)))
  const some = (from: number, to: number) =>
    Array.from(ev.subarray(Math.max(0, from), to)).filter(
      (each, index) => Number.isFinite(each) && !isOdd.has(Math.max(0, from) + index),
    )
  const ends =
    ev.length > framesPerTurn ? some(framesPerTurn, ev.length) : some(framesPerTurn - 3, framesPerTurn)
  const begins = some(0, Math.min(3, framesPerTurn))
  const few = ends.slice(0, 3)
  return few.length === 0 || begins.length === 0 ? null : median(few) - median(begins)
}

/** The value farthest from 0, with its sign; 0 of none. */
function largest(values: readonly number[]): number {
  return values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0)
}
