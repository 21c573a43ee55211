/** Where the pointer may stand, as said of the picture: `TurnFacts.pointerBearingDeg` of each. */
export const pointerDeg = { camera: 0, left: 90, behind: 180, right: 270 } as const
export type PointerSide = keyof typeof pointerDeg

/** How the platter turns and where its marks are read. */
export interface TurnFacts {
  /** Seen from above, while the marks rise. */
  readonly turns: 'clockwise' | 'counter-clockwise'
  /** Where the pointer stands: clockwise from the camera, seen from above; 0 is on the camera's side. */
  readonly pointerBearingDeg: number
  /** Marks of a turn. They are reckoned with from 0; `ringMark` is what is said of them. */
  readonly framesPerTurn: number
}

/** How to bring a product to the axis. Angles are places of the turn: where the platter stands with that mark at the pointer. */
export interface Nudge {
  readonly distance: number
  /** The mark on the platter's rim to push it towards, in degrees of the turn and as the nearest mark. */
  readonly towardsDeg: number
  readonly towardsMark: number
  /** With this mark at the pointer it stands farthest to the right in the picture, so that it is pushed to the left. */
  readonly farthestRightDeg: number
  readonly farthestRightMark: number
}

/** The number that stands on the ring, and that words say, of a mark counted from 0: the ring's first mark is 1. */
export function ringMark(mark: number): number {
  return mark + 1
}

/**
 * Which way to push a product that stands off the axis.
 * @param x  how far to the right in the pose of 0°
 * @param y  how far away from the camera in the pose of 0°
 */
export function nudgeOf(x: number, y: number, { turns, pointerBearingDeg, framesPerTurn }: TurnFacts): Nudge {
  const sign = turns === 'clockwise' ? 1 : -1
  const bearingDeg = (Math.atan2(-x, -y) * 180) / Math.PI
  // A mark `a` lies at pointer − a in the pose of 0° where the platter turns clockwise: it comes to the pointer at a.
  const towardsDeg = full(sign * (pointerBearingDeg - (bearingDeg + 180)))
  // The right of the picture is the bearing of 270°.
  const farthestRightDeg = full(sign * (270 - bearingDeg))
  const markOf = (angleDeg: number) => Math.round((angleDeg / 360) * framesPerTurn) % framesPerTurn
  return {
    distance: Math.hypot(x, y),
    towardsDeg,
    towardsMark: markOf(towardsDeg),
    farthestRightDeg,
    farthestRightMark: markOf(farthestRightDeg),
  }
}

function full(angleDeg: number): number {
  const within = ((angleDeg % 360) + 360) % 360
  return within === 360 ? 0 : within
}
