import { type Crop, cropToAspect, deliveredPxPerMm, turnedUpright } from '../../main/trade/optics/crop.ts'
import { type DepthOfField, depthOfField } from '../../main/trade/optics/depthOfField.ts'
import { exposureChangeEv } from '../../main/trade/optics/exposure.ts'
import { type FrameFill, frameFill, type SweptOutline, sweptOutline } from '../../main/trade/optics/fill.ts'
import { magnification } from '../../main/trade/optics/magnification.ts'
import { type SharpSweep, sharpSweep } from '../../main/trade/optics/sharpSweep.ts'
import { type StopDownWarning, stopDownWarning } from '../../main/trade/optics/stopDown.ts'
import { fStops, shutterTimes } from '../../main/trade/optics/stops.ts'
import { mmText, stopText } from './figures.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

/** The picture of the turning product, from camera, lens and product. Lengths in mm. */
export interface PictureView {
  readonly distanceMm: number
  readonly sweptMm: number
  readonly heightMm: number
  readonly viewAngleDeg: number
  readonly widthPx: number
  readonly heightPx: number
  readonly sensorPx: { readonly width: number; readonly height: number }
  readonly crop: Crop
  readonly magnification: number
  /** What the delivered picture and the whole sensor see in the plane of the axis. */
  readonly field: { readonly widthMm: number; readonly heightMm: number }
  readonly sensorField: { readonly widthMm: number; readonly heightMm: number }
  readonly outline: SweptOutline
  readonly fill: FrameFill
  readonly axisPxPerMm: number
}

/** Field, fill and crop of a turning product. */
export function pictureView(typed: Typed): Outcome<PictureView> {
  return workedOut(
    typed,
    {
      distanceMm: 'distance',
      focalMm: 'focal',
      sensorWidthMm: 'sensorW',
      sensorHeightMm: 'sensorH',
      sensorWidthPx: 'sensorPxW',
      sensorHeightPx: 'sensorPxH',
      sensorSideMm: 'sensorW',
      deliveredWidthPx: 'pxW',
      deliveredHeightPx: 'pxH',
      sweptMm: 'swept',
      heightMm: 'height',
      viewAngleDeg: 'angle',
    },
    (reader) => ({
      widthMm: reader.mm('sensorW', 'The sensor’s width'),
      heightMm: reader.mm('sensorH', 'The sensor’s height'),
      sensorWidthPx: reader.whole('sensorPxW', 'The sensor’s pixels across', { most: 50_000 }),
      sensorHeightPx: reader.whole('sensorPxH', 'The sensor’s pixels down', { most: 50_000 }),
      focalMm: reader.mm('focal', 'The focal length'),
      distanceMm: reader.mm('distance', 'The distance'),
      viewAngleDeg: reader.number('angle', 'The view angle', 3, { least: -90, most: 90, unit: '°' }),
      sweptMm: reader.mm('swept', 'The swept width'),
      productHeightMm: reader.mm('height', 'The height'),
      widthPx: reader.whole('pxW', 'The delivered width', { most: 20_000, unit: 'px' }),
      heightPx: reader.whole('pxH', 'The delivered height', { most: 20_000, unit: 'px' }),
    }),
    (values) => {
      const { distanceMm, sweptMm, productHeightMm: heightMm, viewAngleDeg, widthPx, heightPx } = values
      const level = {
        widthMm: values.widthMm,
        heightMm: values.heightMm,
        widthPx: values.sensorWidthPx,
        heightPx: values.sensorHeightPx,
      }
      const sensor = typed.upright === 'yes' ? turnedUpright(level) : level
      const crop = cropToAspect(sensor, { widthPx, heightPx })
      const magnified = magnification(values.focalMm, distanceMm)
      const outline = sweptOutline({ sweptMm, heightMm, distanceMm, viewAngleDeg })
      const field = { widthMm: crop.widthMm / magnified, heightMm: crop.heightMm / magnified }
      return {
        distanceMm,
        sweptMm,
        heightMm,
        viewAngleDeg,
        widthPx,
        heightPx,
        sensorPx: { width: sensor.widthPx, height: sensor.heightPx },
        crop,
        magnification: magnified,
        field,
        sensorField: { widthMm: sensor.widthMm / magnified, heightMm: sensor.heightMm / magnified },
        outline,
        fill: frameFill(outline, field),
        axisPxPerMm: deliveredPxPerMm(crop, magnified),
      }
    },
  )
}

/** What is sharp at the f-number that is set, and what the whole sweep asks for. */
export interface SharpView {
  readonly fNumber: number
  readonly sweep: SharpSweep
  readonly depth: DepthOfField
  readonly holdsSweep: boolean
  readonly verdict: string
  /** Where to focus, in a sentence. */
  readonly focus: string
  readonly warning: StopDownWarning | null
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
      const sweep = sharpSweep({
        focalMm,
        nearMm,
        farMm,
        circleMm,
        widestFNumber: widest,
        smallestFNumber: smallest,
      })
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
        holdsSweep: depth.nearMm <= nearMm && depth.farMm >= farMm,
        verdict: verdict(sweep, picture, { widest, smallest }),
        focus: `Focus at ${mmText(sweep.focusMm)} from the lens, ${mmText(picture.distanceMm - sweep.focusMm)} before the axis: there the nearest and the farthest part are equally sharp.`,
        warning: stopDownWarning(
          { apertureHeld: typed.held, apertureCenti: Math.round(fNumber * 100) },
          widest,
        ),
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

/** How much brighter the second setting is under the same light, in a sentence; more than 0 is brighter. */
export interface ExposureView {
  readonly changeEv: number
  readonly sentence: string
}

/** The change of exposure from what is set to another aperture, time and ISO. */
export function exposureView(typed: Typed): Outcome<ExposureView> {
  const stops = { least: 0.5, most: 128 }
  const isos = { least: 1, most: 10_000_000 }
  return workedOut(
    typed,
    { fNumber: 'toFNumber', seconds: 'toShutter', iso: 'toIso' },
    (reader) => ({
      from: {
        fNumber: reader.number('fNumber', 'The f-number', 2, stops),
        shutter: reader.shutter('shutter', 'The shutter time'),
        iso: reader.whole('iso', 'The ISO setting', isos),
      },
      to: {
        fNumber: reader.number('toFNumber', 'The other f-number', 2, stops),
        shutter: reader.shutter('toShutter', 'The other shutter time'),
        iso: reader.whole('toIso', 'The other ISO setting', isos),
      },
    }),
    ({ from, to }) => {
      const exact = ({ fNumber, shutter, iso }: typeof from) => ({
        fNumber: exactFNumber(fNumber),
        seconds: exactSeconds(shutter),
        iso,
      })
      const changeEv = exposureChangeEv(exact(from), exact(to))
      return { changeEv, sentence: exposureSentence(changeEv) }
    },
  )
}

function exposureSentence(changeEv: number): string {
  const thirds = Math.round(changeEv * 3)
  if (thirds === 0) return 'Both give the same exposure.'
  const stops = Math.abs(thirds) / 3
  const whole = Math.floor(stops + 1e-9)
  const rest = Math.abs(thirds) % 3
  const part = rest === 0 ? '' : rest === 1 ? '⅓' : '⅔'
  const count = `${whole === 0 ? '' : whole}${part}`
  const word = stops > 1 ? 'stops' : 'stop'
  return `The second is ${count} ${word} ${changeEv > 0 ? 'brighter' : 'darker'} under the same light.`
}

/** What an engraved f-number stands for: f/11 is 11.31. One that no scale bears stands for itself. */
function exactFNumber(marked: number): number {
  return fStops.find((stop) => stop.marked === marked)?.exact ?? marked
}

function exactSeconds({ num, den }: { readonly num: number; readonly den: number }): number {
  return shutterTimes.find((time) => time.num / time.den === num / den)?.exactSeconds ?? num / den
}
