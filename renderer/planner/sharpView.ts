import { closeUpDepthMm, type DepthOfField, depthOfField } from '../../main/trade/optics/depthOfField.ts'
import type { SweptOutline } from '../../main/trade/optics/fill.ts'
import { magnification } from '../../main/trade/optics/magnification.ts'
import { type SharpSweep, sharpSweep } from '../../main/trade/optics/sharpSweep.ts'
import { type StopDownWarning, stopDownWarning } from '../../main/trade/optics/stopDown.ts'
import { fStops } from '../../main/trade/optics/stops.ts'
import { mmText, stopText } from './figures.ts'
import type { PictureView } from './pictureView.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

/** What is sharp at the f-number that is set, and what the whole sweep asks for. */
export interface SharpView {
  readonly fNumber: number
  readonly sweep: SharpSweep
  readonly depth: DepthOfField
  /** The whole depth once more, by magnification alone. */
  readonly closeUpMm: number
  readonly holdsSweep: boolean
  readonly verdict: string
  /** Where to focus, in a sentence. */
  readonly focus: string
  readonly warning: StopDownWarning | null
  /** The f-number from which each row's sweep is sharp, in their order. */
  readonly holdsFromFNumbers: readonly number[]
}

/** Sharpness of the whole sweep by the delivered pixel, and the aperture's own doings. */
export function sharpView(typed: Typed, picture: PictureView): Outcome<SharpView> {
  return workedOut(
    typed,
    {
      fNumber: 'fNumber',
      widestFNumber: 'widest',
      smallestFNumber: 'smallest',
      focalMm: 'focal',
      distanceMm: 'distance',
    },
    (reader) => ({
      focalMm: reader.mm('focal', 'The focal length'),
      fNumber: reader.number('fNumber', 'The f-number', 2, { least: 0.5, most: 128 }),
      widest: reader.number('widest', 'The widest f-number', 2, { least: 0.5, most: 128 }),
      smallest: reader.number('smallest', 'The smallest f-number', 2, { least: 0.5, most: 128 }),
    }),
    ({ focalMm, fNumber, widest, smallest }) => {
      const { nearMm, farMm } = picture.outline
      const circleMm = picture.crop.deliveredPixelMm
      const sweepOf = (row: Pick<SweptOutline, 'nearMm' | 'farMm'>) =>
        sharpSweep({
          focalMm,
          nearMm: row.nearMm,
          farMm: row.farMm,
          circleMm,
          widestFNumber: widest,
          smallestFNumber: smallest,
        })
      const sweep = sweepOf(picture.outline)
      const depth = depthOfField({
        focalMm,
        distanceMm: sweep.focusMm,
        fNumber: exactFNumber(fNumber),
        circleMm,
      })
      return {
        fNumber,
        sweep,
        depth,
        closeUpMm: closeUpDepthMm(exactFNumber(fNumber), circleMm, magnification(focalMm, sweep.focusMm)),
        holdsSweep: depth.nearMm <= nearMm && depth.farMm >= farMm,
        verdict: verdict(sweep, picture, { widest, smallest }),
        focus: `Focus at ${mmText(sweep.focusMm)} from the lens, ${mmText(picture.distanceMm - sweep.focusMm)} before the axis: there the nearest and the farthest part are equally sharp.`,
        warning: stopDownWarning(
          { apertureHeld: typed.held, apertureCenti: Math.round(fNumber * 100) },
          widest,
        ),
        holdsFromFNumbers: picture.rows.map(({ outline }) => sweepOf(outline).holdsFromFNumber),
      }
    },
  )
}

/** What the f-numbers of the lens can do for the whole sweep, as a photographer would say it. */
function verdict(
  sweep: SharpSweep,
  picture: PictureView,
  lens: { readonly widest: number; readonly smallest: number },
): string {
  const holds = stopText(sweep.holdsFromFNumber)
  const limit = stopText(sweep.diffractionFNumber)
  const best = `f/${sweep.stop.marked}`
  const blur = `At ${best} its ends blur over ${times(sweep.defocusCircles)} by defocus, and everything over ${times(sweep.diffractionCircles)} by diffraction.`
  switch (sweep.code) {
    case 'sharp':
      return `${best} holds the whole turn sharp to one delivered pixel: the sweep needs ${holds} or smaller openings, and diffraction passes a pixel only from ${limit}.`
    case 'diffraction': {
      const pixels = Math.floor(picture.widthPx * sweep.sharpPixelsPart)
      return `No f-number holds the whole turn sharp to one delivered pixel: the sweep needs ${holds}, and diffraction passes a pixel from ${limit}. ${best} is the best compromise. ${blur} Sharp throughout would be ${pixels} pixels across instead of ${picture.widthPx}.`
    }
    case 'too-open':
      return `The sweep needs ${holds}, but the lens closes only to f/${lens.smallest}. ${blur} Take a lens that closes further, or move the camera back.`
    case 'too-closed':
      return `Diffraction passes a delivered pixel from ${limit}, but the lens opens only to f/${lens.widest}. ${blur} Take a faster lens, or deliver fewer pixels.`
  }
}

function times(circles: number): string {
  const value = Math.round(circles * 10) / 10
  return value === 1 ? '1 pixel' : `${value} pixels`
}

/** What an engraved f-number stands for: f/11 is 11.31. One that no scale bears stands for itself. */
export function exactFNumber(marked: number): number {
  return fStops.find((stop) => stop.marked === marked)?.exact ?? marked
}
