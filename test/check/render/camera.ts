/** Where the camera stands and looks. Its middle is aimed at the platter's axis, less what `lateralMm` shifts it. */
export interface Camera {
  /** Level distance from the platter's axis, and height over the platter. */
  readonly distanceMm: number
  readonly heightMm: number
  /** The height over the platter at which the middle of the picture meets the axis. */
  readonly aimHeightMm: number
  /** How wide the picture is at the axis. */
  readonly fieldWidthMm: number
  /** Shifted to the right without being turned, so that the axis is seen left of the middle. */
  readonly lateralMm: number
  /** Turned about its line of sight. */
  readonly rollDeg: number
  /** How far it looks down. */
  readonly tiltDeg: number
  /** From the camera to where the line of sight meets the axis. */
  readonly rangeMm: number
  /** In the upright plane through the axis: away from the camera, and up. */
  readonly axes: { readonly forward: readonly [number, number]; readonly up: readonly [number, number] }
  readonly focalPx: (widthPx: number) => number
}

export function cameraOf(asked: Partial<Camera>, size: number): Camera {
  const distanceMm = asked.distanceMm ?? 900 * size
  const aimHeightMm = asked.aimHeightMm ?? 50 * size
  const heightMm = asked.heightMm ?? 200 * size
  const fieldWidthMm = asked.fieldWidthMm ?? 240 * size
  const tilt = Math.atan2(heightMm - aimHeightMm, distanceMm)
  const rangeMm = Math.hypot(distanceMm, heightMm - aimHeightMm)
  return {
    distanceMm,
    heightMm,
    aimHeightMm,
    fieldWidthMm,
    lateralMm: asked.lateralMm ?? 0,
    rollDeg: asked.rollDeg ?? 0,
    tiltDeg: (tilt * 180) / Math.PI,
    rangeMm,
    axes: { forward: [Math.cos(tilt), -Math.sin(tilt)], up: [Math.sin(tilt), Math.cos(tilt)] },
    focalPx: (widthPx) => (widthPx * rangeMm) / fieldWidthMm,
  }
}

/** The direction in which a place of the picture (column, row) is seen; its length is of no matter. */
export function rayDirection(
  camera: Camera,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  column: number,
  row: number,
): readonly [number, number, number] {
  const focal = (widthPx * camera.rangeMm) / camera.fieldWidthMm
  const u = (column - widthPx / 2) / focal
  const v = (heightPx / 2 - row) / focal
  const roll = camera.rollDeg * (Math.PI / 180)
  const cos = roll === 0 ? 1 : Math.cos(roll)
  const sin = roll === 0 ? 0 : Math.sin(roll)
  const right = u * cos + v * sin
  const above = v * cos - u * sin
  const { forward, up } = camera.axes
  return [right, forward[0] + above * up[0], forward[1] + above * up[1]]
}
