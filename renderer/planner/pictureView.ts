import { type Crop, cropToAspect, deliveredPxPerMm, turnedUpright } from '../../main/trade/optics/crop.ts'
import { type FrameFill, frameFill, type SweptOutline, sweptOutline } from '../../main/trade/optics/fill.ts'
import { magnification } from '../../main/trade/optics/magnification.ts'
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
