import { leastSquares } from '../centre/leastSquares.ts'

/** How a mark on a turning edge moves along a picture: x = centre + radius · sin t ÷ (1 − nearness · cos t). */
export interface MarkCircle {
  readonly centrePx: number
  /** Under 0 where the front moves to the left. */
  readonly radiusPx: number
  /** The radius as a part of the camera's distance: 0 from very far away. */
  readonly nearness: number
  /** Where the mark stands nearest to the camera, in radians of the angles that were fitted. */
  readonly phase: number
}

/** A mark seen at a place of the picture, at an angle of the platter in radians. */
export interface MarkSeen {
  readonly angle: number
  readonly xPx: number
}

const mostNearness = 0.6

/**
 * Fits the circle of a mark that is seen on the near side of a turn: by x = c + a·cos θ + b·sin θ, then by least squares
 * with the camera's nearness as a fourth term (Levenberg and Marquardt's damped steps).
 * @returns null where the mark is seen in too little of a turn to tell its circle
 */
export function fitMarkCircle(seen: readonly MarkSeen[]): MarkCircle | null {
  const flat = flatCircle(seen)
  if (!flat) return null
  let circle = flat
  let squares = squaresOf(circle, seen)
  let damping = 1e-3
  for (let round = 0; round < 40 && damping < 1e6; round++) {
    const next = stepOf(circle, seen, damping)
    const nextSquares = next ? squaresOf(next, seen) : Number.POSITIVE_INFINITY
    if (next && nextSquares <= squares) {
      const isDone = squares - nextSquares < 1e-12 * squares
      circle = next
      squares = nextSquares
      damping /= 4
      if (isDone) break
    } else damping *= 8
  }
  return circle
}

/** Where the circle shows a mark at an angle. */
export function placeOfMark({ centrePx, radiusPx, nearness, phase }: MarkCircle, angle: number): number {
  const t = angle - phase
  return centrePx + (radiusPx * Math.sin(t)) / (1 - nearness * Math.cos(t))
}

/** How far a mark at a place of the picture has turned past the camera's side, in radians from −π/2 to π/2; NaN outside. */
export function turnOfMark({ centrePx, radiusPx, nearness }: MarkCircle, xPx: number): number {
  const part = (xPx - centrePx) / radiusPx
  const lean = part * nearness
  return Math.asin(part / Math.hypot(1, lean)) - Math.atan(lean)
}

/** The circle as seen from very far away. */
function flatCircle(seen: readonly MarkSeen[]): MarkCircle | null {
  const rows = seen.map(({ angle }) => [1, Math.cos(angle), Math.sin(angle)])
  const fit = leastSquares(
    rows,
    seen.map(({ xPx }) => xPx),
  )
  if (!fit || seen.length < 5) return null
  const [centrePx = 0, a = 0, b = 0] = fit.terms
  const middle = (seen[0]?.angle ?? 0) / 2 + (seen.at(-1)?.angle ?? 0) / 2
  const radius = Math.hypot(a, b)
  const phase = Math.atan2(-a, b)
  // The near side is the one that is seen: there the mark moves with the radius's sign.
  const isNear = Math.cos(middle - phase) > 0
  return {
    centrePx,
    radiusPx: isNear ? radius : -radius,
    nearness: 0,
    phase: isNear ? phase : phase + Math.PI,
  }
}

function squaresOf(circle: MarkCircle, seen: readonly MarkSeen[]): number {
  return seen.reduce((sum, { angle, xPx }) => sum + (xPx - placeOfMark(circle, angle)) ** 2, 0)
}

function stepOf(circle: MarkCircle, seen: readonly MarkSeen[], damping: number): MarkCircle | null {
  const { radiusPx, nearness, phase } = circle
  const scale = Math.abs(radiusPx)
  const rows = seen.map(({ angle }) => {
    const sin = Math.sin(angle - phase)
    const cos = Math.cos(angle - phase)
    const depth = 1 - nearness * cos
    const turned = (-radiusPx * (cos - nearness)) / depth ** 2
    // Lengths are reckoned in radii, so that the damping means the same for every term.
    return [scale, (scale * sin) / depth, turned, (radiusPx * sin * cos) / depth ** 2]
  })
  const off = seen.map(({ angle, xPx }) => xPx - placeOfMark(circle, angle))
  const fit = leastSquares(rows, off, { ridge: damping * scale ** 2 * seen.length })
  if (!fit) return null
  return {
    centrePx: circle.centrePx + scale * (fit.terms[0] ?? 0),
    radiusPx: radiusPx + scale * (fit.terms[1] ?? 0),
    phase: phase + (fit.terms[2] ?? 0),
    nearness: Math.min(mostNearness, Math.max(0, nearness + (fit.terms[3] ?? 0))),
  }
}
