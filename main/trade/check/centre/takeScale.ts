import type { CameraStand } from './scale.ts'
import { longSideAtAxisMm, mmPerPixel } from './scale.ts'
import type { CentreCamera } from './tangents.ts'

/** The scale of a take's frames at the axis, or why it is not known. */
export type TakeScale = { readonly mmPerPx: number } | { readonly mmPerPx: null; readonly sentence: string }

/** Two pictures of one sensor differ by no more than this in their sides, as a part: cameras leave some rows out. */
const sameSides = 0.02

/**
 * The scale of a take's frames by lens and distance of its rig. It is told of whole frames alone: one that has other
 * sides than the sensor was cut, nobody knows where.
 * @param camera  null where the rig's sensor is not written down
 * @param frame   of the small frames, in pixels
 */
export function takeScale(
  camera: CameraStand | null,
  frame: { readonly widthPx: number; readonly heightPx: number },
): TakeScale {
  if (camera === null) {
    return {
      mmPerPx: null,
      sentence:
        'The size of the camera’s sensor is not written down at the rig: distances are told in pixels. Add it to the rig’s next revision.',
    }
  }
  const sensor = sidesOf(camera.sensorWidthMm, camera.sensorHeightMm)
  const sides = sidesOf(frame.widthPx, frame.heightPx)
  if (Math.abs(sides / sensor - 1) > sameSides) {
    return {
      mmPerPx: null,
      sentence:
        'The frames have other sides than the camera’s sensor, so they were cropped and their scale is not known: distances are told in pixels. Point to the frames as the camera wrote them.',
    }
  }
  if (camera.cameraDistanceMm <= camera.focalMm) {
    return {
      mmPerPx: null,
      sentence:
        'The rig’s camera stands nearer than its focal length, so the scale is not known: distances are told in pixels. Measure the camera’s distance again.',
    }
  }
  return { mmPerPx: mmPerPixel(longSideAtAxisMm(camera), frame) }
}

/**
 * The camera by whose perspective the centre is reckoned; none where the scale is not known: a frame that was cut does
 * not have the lens's axis in its middle.
 */
export function centreCamera(
  camera: CameraStand | null,
  scale: TakeScale | undefined,
): { readonly camera?: CentreCamera } {
  if (camera === null || scale === undefined || scale.mmPerPx === null) return {}
  return { camera: { distanceMm: camera.cameraDistanceMm, tiltDeg: camera.cameraTiltDeg } }
}

/** The longer side over the shorter: a camera may stand upright. */
function sidesOf(a: number, b: number): number {
  return Math.max(a, b) / Math.min(a, b)
}
