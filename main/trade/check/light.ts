import { median } from '../quantile.ts'
import type { Finding } from './finding.ts'
import type { FrameTrace } from './frameTrace.ts'
import { type AreaLight, lightFindings } from './lightFindings.ts'
import { type LightParts, lightParts, type PartLimits } from './lightParts.ts'
import { type LightPlace, meansEv, productLightEv, stillPixelsEv, tellsLight } from './lightSeries.ts'
import { cleanLight, tooFewForLight } from './lightWords.ts'
import type { CheckLimits } from './limits.ts'
import type { LightVerdict } from './report.ts'

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

/** The light of one frame in EV, each against its median over the take; null where it could not be told. */
export interface FrameLight {
  readonly frame: number
  readonly frameEv: number | null
  readonly backdropEv: number | null
  readonly platterEv: number | null
  readonly productEv: number | null
  /** Of what the take is judged by, and against the frame before. */
  readonly luminanceEv: number | null
  readonly changeEv: number | null
}

export interface LightCheck {
  readonly frames: readonly FrameLight[]
  /** What the light is judged by; null where nothing was read. */
  readonly judgedBy: LightPlace | null
  /** Between the last frame of the turn and the first; null before the turn is closed. */
  readonly seamEv: number | null
  readonly verdict: LightVerdict
  readonly findings: readonly Finding[]
}

/** Fewer frames than this tell neither flicker from a step nor a step from drift. */
const leastFrames = 6

/**
 * Judges the light of a take, or of as much of it as there is: flicker from frame to frame, steps that stay, slow
 * drift, single odd frames, and the difference at the seam. It is judged by the backdrop and the platter, since a product
 * brightens and darkens as it turns; the product is watched for what its own turning and highlights cannot do.
 * @param traces         the take's frames in their order, null for one that could not be read
 * @param framesPerTurn  of the plan or as counted; the seam is judged from that frame on. Null where not known
 */
export function lightOf(
  traces: readonly (FrameTrace | null)[],
  limits: LightLimits,
  framesPerTurn: number | null,
): LightCheck {
  const areas = areasOf(traces, limits)
  const judged = areas[0]
  const frames = frameLights(traces, judged?.ev ?? null)
  const read = traces.filter((trace) => trace !== null).length
  if (!judged || read < leastFrames) {
    const verdict = { state: 'unknown', sentence: tooFewForLight(read, leastFrames), ...noFigures } as const
    return { frames, judgedBy: null, seamEv: null, verdict, findings: [] }
  }
  const seamEv = framesPerTurn === null ? null : seamOf(judged, framesPerTurn)
  const findings = lightFindings(areas, limits, seamEv)
  const figures = {
    flickerEv: largest(areas.map(({ parts }) => parts.largestFlickerEv)),
    stepEv: largest(
      (areas.find(({ parts }) => parts.steps.length > 0) ?? judged).parts.steps.map(({ ev }) => ev),
    ),
    driftEv: largest(areas.flatMap(({ parts, showsDrift }) => (showsDrift ? [parts.driftEv] : []))),
  }
  const verdict: LightVerdict = {
    state: findings.some(({ fault }) => fault !== null) ? 'found' : 'clean',
    sentence: findings[0]?.sentence ?? cleanLight(judged.place, figures, limits, seamEv),
    ...figures,
  }
  return { frames, judgedBy: judged.place, seamEv, verdict, findings }
}

const noFigures = { flickerEv: null, stepEv: null, driftEv: null }

/** What the light is judged by: the backdrop, else the platter, else most of the picture; then the product. */
function areasOf(traces: readonly (FrameTrace | null)[], limits: LightLimits): readonly AreaLight[] {
  const still = stillLight(traces)
  const areas: AreaLight[] = still
    ? [{ ...still, parts: lightParts(still.ev, limits), showsDrift: true }]
    : []
  // A frame that is odd by what stands still is told, and must not be told again by the product.
  const odd = new Set(areas.flatMap(({ parts }) => parts.odd.map(({ at }) => at)))
  const product = productLightEv(traces.map((trace, index) => (odd.has(index) ? null : trace)))
  if (!product || !still) return areas
  return [
    ...areas,
    { place: 'product', ev: product, parts: productParts(product, limits), showsDrift: false },
  ]
}

/** A facet that turns into the light changes a product by less than this within a step. Common practice, no published source. */
const leastOfProductEv = 0.25

/** The product's light taken apart, with only what stands far out of how its own turning changes it from step to step. */
function productParts(ev: Float64Array, limits: LightLimits): LightParts {
  const gains = Array.from(ev, (each, index) => Math.abs(each - (ev[index - 1] ?? each))).filter(
    Number.isFinite,
  )
  const least = Math.max(leastOfProductEv, 6 * median(gains))
  return lightParts(ev, {
    flickerEv: 4 * limits.flickerEv,
    stepEv: Math.max(least, limits.stepEv),
    oddEv: Math.max(least, limits.oddEv),
  })
}

/**
 * The light of what does not turn. The backdrop's mean is the surest; the platter's own mean changes with the product's
 * shadow and with what the product hides, so that of it, as of the picture, most pixels decide.
 */
function stillLight(
  traces: readonly (FrameTrace | null)[],
): { readonly place: LightPlace; readonly ev: Float64Array } | null {
  const backdrop = meansEv(traces, ({ backdropY }) => backdropY)
  if (backdrop && tellsLight(backdrop.medianY)) return { place: 'backdrop', ev: backdrop.ev }
  const platter = meansEv(traces, ({ platterY }) => platterY)
  const byPlatter = platter && tellsLight(platter.medianY) ? stillPixelsEv(traces, platter.medianY) : null
  if (byPlatter) return { place: 'platter', ev: byPlatter }
  const picture = stillPixelsEv(traces, null)
  return picture && { place: 'picture', ev: picture }
}

function frameLights(
  traces: readonly (FrameTrace | null)[],
  judged: Float64Array | null,
): readonly FrameLight[] {
  const frame = meansEv(traces, ({ frameY }) => frameY)
  const backdrop = meansEv(traces, ({ backdropY }) => backdropY)
  const platter = meansEv(traces, ({ platterY }) => platterY)
  const product = meansEv(traces, ({ productY }) => productY)
  const figure = (ev: Float64Array | null | undefined, index: number) => {
    const value = ev?.[index]
    return value === undefined || Number.isNaN(value) ? null : value
  }
  return traces.map((_, index) => {
    const luminanceEv = figure(judged, index)
    const before = figure(judged, index - 1)
    return {
      frame: index + 1,
      frameEv: figure(frame?.ev, index),
      backdropEv: figure(backdrop?.ev, index),
      platterEv: figure(platter?.ev, index),
      productEv: figure(product?.ev, index),
      luminanceEv,
      changeEv: luminanceEv === null || before === null ? null : luminanceEv - before,
    }
  })
}

/**
 * How much brighter the turn ends than it began: by its overlap against the same marks where there is one, else by its
 * last frames against its first. Odd frames do not count.
 */
function seamOf({ ev, parts }: AreaLight, framesPerTurn: number): number | null {
  if (ev.length < framesPerTurn) return null
  const isOdd = new Set(parts.odd.map(({ at }) => at))
  const some = (from: number, to: number) =>
    Array.from(ev.subarray(Math.max(0, from), to)).filter(
      (each, index) => Number.isFinite(each) && !isOdd.has(from + index),
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
