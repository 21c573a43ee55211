export interface Circle {
  readonly x: number
  readonly y: number
  readonly radius: number
}

type Point = readonly [number, number]

/** The smallest circle round all points: every pair and every three of the hull tried (small sets only). */
export function smallestCircle(points: readonly Point[]): Circle {
  let circle: Circle = { x: points[0]?.[0] ?? 0, y: points[0]?.[1] ?? 0, radius: 0 }
  // Welzl 1991 without its shuffle: a point outside lies on the new circle.
  for (let i = 0; i < points.length; i++) {
    const a = points[i] as Point
    if (isInside(circle, a)) continue
    circle = { x: a[0], y: a[1], radius: 0 }
    for (let j = 0; j < i; j++) {
      const b = points[j] as Point
      if (isInside(circle, b)) continue
      circle = onTwo(a, b)
      for (let k = 0; k < j; k++) {
        const c = points[k] as Point
        if (!isInside(circle, c)) circle = onThree(a, b, c)
      }
    }
  }
  return circle
}

function isInside({ x, y, radius }: Circle, [px, py]: Point): boolean {
  return Math.hypot(px - x, py - y) <= radius * (1 + 1e-9) + 1e-9
}

function onTwo(a: Point, b: Point): Circle {
  return { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, radius: Math.hypot(a[0] - b[0], a[1] - b[1]) / 2 }
}

function onThree(a: Point, b: Point, c: Point): Circle {
  const bx = b[0] - a[0]
  const by = b[1] - a[1]
  const cx = c[0] - a[0]
  const cy = c[1] - a[1]
  const d = 2 * (bx * cy - by * cx)
  if (Math.abs(d) < 1e-12) return onTwo(a, Math.hypot(bx, by) > Math.hypot(cx, cy) ? b : c)
  const x = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d
  const y = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d
  return { x: a[0] + x, y: a[1] + y, radius: Math.hypot(x, y) }
}
