import { fieldMm, magnification } from '../../optics/magnification.ts'

/** Camera and lens as they stand before the platter. */
export interface CameraStand {
  readonly focalMm: number
  readonly sensorWidthMm: number
  readonly sensorHeightMm: number
  /** Level, from the platter's axis. */
  readonly cameraDistanceMm: number
  /** More than 0 looks down. */
  readonly cameraTiltDeg: number
}

/** A camera's stand as the rig and its settings keep it, in micrometres and thousandths of a degree; null without a sensor. */
export function cameraStandOf(kept: {
  readonly focalUm: number
  readonly sensorWidthUm: number | null
  readonly sensorHeightUm: number | null
  readonly distanceUm: number
  readonly tiltMdeg: number
}): CameraStand | null {
  const { focalUm, sensorWidthUm, sensorHeightUm, distanceUm, tiltMdeg } = kept
  if (sensorWidthUm === null || sensorHeightUm === null) return null
  return {
    focalMm: focalUm / 1000,
    sensorWidthMm: sensorWidthUm / 1000,
    sensorHeightMm: sensorHeightUm / 1000,
    cameraDistanceMm: distanceUm / 1000,
    cameraTiltDeg: tiltMdeg / 1000,
  }
}

/**
 * What the longer side of a whole frame spans at the platter's axis, in mm: side of the sensor ÷ magnification, at the
 * distance along the lens's axis, level distance ÷ cos(tilt). Refuses a lens as `magnification` does.
 * A thing nearer to the camera spans less: the scale is that of the axis, on which offsets are told.
 */
export function longSideAtAxisMm(stand: CameraStand): number {
  const alongMm = stand.cameraDistanceMm / Math.cos((stand.cameraTiltDeg * Math.PI) / 180)
  const sensorLongMm = Math.max(stand.sensorWidthMm, stand.sensorHeightMm)
  return fieldMm(sensorLongMm, magnification(stand.focalMm, alongMm))
}

/** Millimetres at the axis for one pixel of a frame made small; the frame may stand upright. */
export function mmPerPixel(
  longSideMm: number,
  frame: { readonly widthPx: number; readonly heightPx: number },
): number {
  return longSideMm / Math.max(frame.widthPx, frame.heightPx)
}
