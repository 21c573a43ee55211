/** A point of a drawing in px, y downwards. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** The place at an angle on a circle round `centre`: degrees clockwise from the top. */
export function onCircle(centre: number, radius: number, angleDeg: number): Point {
  const angle = (angleDeg * Math.PI) / 180
  return { x: centre + radius * Math.sin(angle), y: centre - radius * Math.cos(angle) }
}

/**
 * Where each frame of a turn stands on the rim, in degrees clockwise from the start mark.
 * @param framesPerTurn  a whole number, 1 or more
 * @param tape  the tape's readings and its rim, in one and the same unit; without it the frames are even
 */
export function markAngles(framesPerTurn: number, tape?: Tape): number[] {
  return Array.from({ length: framesPerTurn }, (_, index) => {
    const reading = tape?.readings[index]
    return tape && reading !== undefined ? (reading / tape.rim) * 360 : (index / framesPerTurn) * 360
  })
}

/** A turn's readings and the rim they are read on, in one and the same unit. */
export interface Tape {
  readonly readings: readonly number[]
  readonly rim: number
}

/**
 * The stretch between the last mark and the start, in degrees, where it is not a step like the others (by more
 * than half of one); undefined where the turn closes.
 */
export function openSeam(
  angles: readonly number[],
): { readonly from: number; readonly to: number } | undefined {
  const last = angles.at(-1)
  if (last === undefined || angles.length < 3) return undefined
  const step = last / (angles.length - 1)
  return Math.abs(360 - last - step) > step / 2 ? { from: last, to: 360 } : undefined
}

/** Every how many frames a mark is drawn, so that marks stand at least `apartPx` from each other on a rim. */
export function markEvery(framesPerTurn: number, radiusPx: number, apartPx: number): number {
  const apart = (2 * Math.PI * radiusPx) / framesPerTurn
  return [1, 2, 5, 10, 20, 50, 100].find((every) => every * apart >= apartPx) ?? 200
}

/**
 * An arc as an SVG path, clockwise from one angle to the other (degrees from the top). A whole turn or more is
 * drawn as a full circle.
 */
export function arcPath(centre: number, radius: number, fromDeg: number, toDeg: number): string {
  const sweep = toDeg - fromDeg
  if (sweep <= 0) return ''
  const a = onCircle(centre, radius, fromDeg)
  if (sweep >= 360) {
    const b = onCircle(centre, radius, fromDeg + 180)
    return `M${xy(a)}A${px(radius)} ${px(radius)} 0 0 1 ${xy(b)}A${px(radius)} ${px(radius)} 0 0 1 ${xy(a)}`
  }
  const b = onCircle(centre, radius, toDeg)
  return `M${xy(a)}A${px(radius)} ${px(radius)} 0 ${sweep > 180 ? 1 : 0} 1 ${xy(b)}`
}

/** Short lines across a circle at the given angles, as one SVG path. */
export function ticksPath(centre: number, inner: number, outer: number, angles: readonly number[]): string {
  return angles
    .map((angle) => `M${xy(onCircle(centre, inner, angle))}L${xy(onCircle(centre, outer, angle))}`)
    .join('')
}

function xy(point: Point): string {
  return `${px(point.x)} ${px(point.y)}`
}

function px(value: number): string {
  return String(Math.round(value * 100) / 100)
}
