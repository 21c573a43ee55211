import { type Crop, cropToAspect, deliveredPxPerMm, turnedUpright } from '../../main/trade/optics/crop.ts'
import { type FrameFill, frameFill, type SweptOutline, sweptOutline } from '../../main/trade/optics/fill.ts'
import { angleOfViewDeg, fieldMm, magnification } from '../../main/trade/optics/magnification.ts'
import type { AnglesView } from './anglesView.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

/** One row of the spin as its camera sees it. */
export interface RowPicture {
  readonly viewAngleDeg: number
  readonly outline: SweptOutline
  readonly fill: FrameFill
}

/** The picture of the turning product, from camera, lens and product, in the row that is shown. Lengths in mm. */
export interface PictureView extends RowPicture {
  /** All rows in their order, and the number of the one shown, from 1. */
  readonly rows: readonly RowPicture[]
  readonly row: number
  readonly distanceMm: number
  readonly sweptMm: number
  readonly heightMm: number
  readonly widthPx: number
  readonly heightPx: number
  readonly sensorPx: { readonly width: number; readonly height: number }
  readonly crop: Crop
  readonly magnification: number
  /** What the delivered picture and the whole sensor see in the plane of the axis. */
  readonly field: { readonly widthMm: number; readonly heightMm: number }
  readonly sensorField: { readonly widthMm: number; readonly heightMm: number }
  /** Over the delivered width. */
  readonly angleOfViewDeg: number
  readonly axisPxPerMm: number
}

/**
 * Field, fill and crop of a turning product.
 * @param angles  how far each row looks down, in thousandths of a degree
 * @param row     the row that is shown, from 1
 */
export function pictureView(typed: Typed, angles: AnglesView, row: number): Outcome<PictureView> {
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
      sweptMm: reader.mm('swept', 'The swept width'),
      productHeightMm: reader.mm('height', 'The height'),
      widthPx: reader.whole('pxW', 'The delivered width', { most: 20_000, unit: 'px' }),
      heightPx: reader.whole('pxH', 'The delivered height', { most: 20_000, unit: 'px' }),
    }),
    (values) => {
      const { distanceMm, sweptMm, productHeightMm: heightMm, widthPx, heightPx } = values
      const level = {
        widthMm: values.widthMm,
        heightMm: values.heightMm,
        widthPx: values.sensorWidthPx,
        heightPx: values.sensorHeightPx,
      }
      const sensor = typed.upright === 'yes' ? turnedUpright(level) : level
      const crop = cropToAspect(sensor, { widthPx, heightPx })
      const magnified = magnification(values.focalMm, distanceMm)
      const fieldOf = (sides: { readonly widthMm: number; readonly heightMm: number }) => ({
        widthMm: fieldMm(sides.widthMm, magnified),
        heightMm: fieldMm(sides.heightMm, magnified),
      })
      const field = fieldOf(crop)
      const rows = angles.map((viewAngleMdeg): RowPicture => {
        const viewAngleDeg = viewAngleMdeg / 1000
        const outline = sweptOutline({ sweptMm, heightMm, distanceMm, viewAngleDeg })
        return { viewAngleDeg, outline, fill: frameFill(outline, field) }
      })
      // The angles may stand as they were, for fewer rows.
      const shownRow = Math.min(row, rows.length)
      const shown = rows[shownRow - 1]
      if (!shown) throw new Error('A spin has no rows.')
      return {
        ...shown,
        rows,
        row: shownRow,
        distanceMm,
        sweptMm,
        heightMm,
        widthPx,
        heightPx,
        sensorPx: { width: sensor.widthPx, height: sensor.heightPx },
        crop,
        magnification: magnified,
        field,
        sensorField: fieldOf(sensor),
        angleOfViewDeg: angleOfViewDeg(crop.widthMm, values.focalMm, magnified),
        axisPxPerMm: deliveredPxPerMm(crop, magnified),
      }
    },
  )
}
