import { Refusal } from '../refusal.ts'
import { fNumberHolding, focusBetweenMm } from './depthOfField.ts'
import { airyDiscMm, diffractionFNumber } from './diffraction.ts'
import { checkOver0 } from './guard.ts'
import { magnification } from './magnification.ts'
import { type FStop, fStops, nearestFStop } from './stops.ts'

export interface SweepRequest {
  readonly focalMm: number
  /** Nearest and farthest part of the turning product from the lens: `sweptOutline` gives them. */
  readonly nearMm: number
  readonly farMm: number
  /** One delivered pixel on the sensor, `Crop.deliveredPixelMm`, or as many as may blur. */
  readonly circleMm: number
  /** The f-numbers the lens has, as engraved. */
  readonly widestFNumber: number
  readonly smallestFNumber: number
}

/**
 * sharp: an f-number of the lens holds the sweep and keeps under diffraction. diffraction: none does, on any
 * lens. too-open: one would, but the lens does not close so far. too-closed: one would, but the lens does not
 * open so far.
 */
export type SweepCode = 'sharp' | 'diffraction' | 'too-open' | 'too-closed'

/** What keeps a whole turn sharp to one delivered pixel, or comes nearest to it. */
export interface SharpSweep {
  readonly code: SweepCode
  readonly focusMm: number
  /** The widest f-number that holds the swept depth. */
  readonly holdsFromFNumber: number
  /** The smallest opening whose diffraction stays inside the circle. */
  readonly diffractionFNumber: number
  /** The f-number of least blur at the ends of the sweep, within the lens. */
  readonly bestFNumber: number
  /** The mark to set: of the lens's thirds the nearest to the best, one that holds both where there is one. */
  readonly stop: FStop
  /** Blur at that stop, in circles: of the nearest and farthest part by defocus, and of all by diffraction. */
  readonly defocusCircles: number
  readonly diffractionCircles: number
  /** Delivered pixels along a side that one f-number could keep sharp, as a part of those asked for. */
  readonly sharpPixelsPart: number
}

/**
 * The f-number and focus that keep a turning product sharp, judged by the delivered pixel. Where depth of
 * field and diffraction cannot both be met, the best compromise is the stop at which both blur alike: it makes
 * the root of the sum of their squares least (Hansma's way to join them, as told in the literature on depth of
 * field; Hansma 1996).
 */
export function sharpSweep(request: SweepRequest): SharpSweep {
  const { focalMm, nearMm, farMm, circleMm, widestFNumber: widest, smallestFNumber: smallest } = request
  checkOver0(widest, 'The widest f-number', 'widestFNumber', '')
  checkOver0(smallest, 'The smallest f-number', 'smallestFNumber', '')
  if (smallest < widest) {
    throw new Refusal(
      'stops-swapped',
      `The lens closes to f/${smallest} but opens only to f/${widest}. Swap or correct them.`,
      { field: 'smallestFNumber' },
    )
  }
  const holds = fNumberHolding(focalMm, nearMm, farMm, circleMm)
  const focusMm = focusBetweenMm(nearMm, farMm)
  const magnified = magnification(focalMm, focusMm)
  const limit = diffractionFNumber(circleMm, magnified)
  const onLens = stopsOfLens(widest, smallest)
  const range = { from: onLens[0]?.exact ?? widest, to: onLens.at(-1)?.exact ?? smallest }
  const bestFNumber = Math.min(Math.max(Math.sqrt(holds * limit), range.from), range.to)
  const holding = onLens.filter(({ exact }) => exact >= holds && exact <= limit)
  const stop = nearestFStop(bestFNumber, holding.length > 0 ? holding : onLens) as FStop
  return {
    code: codeOf(holds, limit, range),
    focusMm,
    holdsFromFNumber: holds,
    diffractionFNumber: limit,
    bestFNumber,
    stop,
    defocusCircles: holds / stop.exact,
    diffractionCircles: airyDiscMm(stop.exact, magnified) / circleMm,
    sharpPixelsPart: Math.sqrt(limit / holds),
  }
}

/** Where the lens stands between the two limits. */
function codeOf(holds: number, limit: number, range: { from: number; to: number }): SweepCode {
  if (holds > limit) return 'diffraction'
  if (holds > range.to) return 'too-open'
  return limit < range.from ? 'too-closed' : 'sharp'
}

/** The stops between the ends of a lens, and its ends where they are no stops of the scale; widest first. */
function stopsOfLens(widest: number, smallest: number): readonly FStop[] {
  const end = (marked: number) =>
    fStops.find((stop) => stop.marked === marked) ?? { marked, exact: marked, full: false }
  const [first, last] = [end(widest), end(smallest)]
  const between = fStops.filter(({ exact }) => exact > first.exact && exact < last.exact)
  return first.marked === last.marked ? [first] : [first, ...between, last]
}
