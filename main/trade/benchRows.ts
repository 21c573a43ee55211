/** Where the camera stands for one row, as far as the settings say; heights from the platter's surface. */
export interface CameraRow {
  readonly row: number
  readonly viewAngleDeg: number
  readonly cameraHeightMm: number | null
  readonly cameraDistanceMm: number | null
}

/** What the camera is to do for the next row: signs tell up from down and nearer from farther. */
export interface CameraChange {
  readonly heightMm: number | null
  /** Against the row before; 0 where it stays, null where one of the two is not written down. */
  readonly byMm: number | null
  readonly distanceMm: number | null
  readonly distanceByMm: number | null
  /** Degrees from the level; more than 0 looks down (`looking.ts`). */
  readonly tiltDeg: number
}

/**
 * The camera's change from one row to the next. A camera that is moved along an arc about the product and keeps
 * looking at it tilts by the row's viewing angle, downwards for a row seen from above.
 */
export function cameraChange(from: CameraRow | undefined, to: CameraRow): CameraChange {
  return {
    heightMm: to.cameraHeightMm,
    byMm: by(from?.cameraHeightMm, to.cameraHeightMm),
    distanceMm: to.cameraDistanceMm,
    distanceByMm: by(from?.cameraDistanceMm, to.cameraDistanceMm),
    tiltDeg: to.viewAngleDeg,
  }
}

function by(from: number | null | undefined, to: number | null): number | null {
  return from === null || from === undefined || to === null ? null : to - from
}
