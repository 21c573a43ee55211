/**
 * 'unsymmetrical': a box with a nose; 'mug': a round body and a handle; 'can': round, the same from all sides;
 * 'box': a box, the same from its two ends in outline. The middle of the body is the origin, z from 0.
 */
export type SolidKind = 'unsymmetrical' | 'mug' | 'can' | 'box'

type Triple = readonly [number, number, number]

export interface Part {
  readonly corners: readonly Triple[]
  /** How far along a ray it is met, infinite where it is not. */
  readonly hit: (ox: number, oy: number, oz: number, dx: number, dy: number, dz: number) => number
  /** Which way its surface faces there, written into `out`: a ray a pixel leaves no array behind. */
  readonly normal: (x: number, y: number, z: number, out: Float64Array) => void
}

export function partsOf(kind: SolidKind, size: number): readonly Part[] {
  const box = (...sides: readonly [number, number, number, number, number, number]) =>
    boxOf(sides.map((side) => side * size) as [number, number, number, number, number, number])
  switch (kind) {
    case 'can':
      return [roundOf(33 * size, 115 * size)]
    case 'mug':
      // A handle of three bars: one can look through it.
      return [
        roundOf(40 * size, 95 * size),
        box(38, 70, -6, 6, 66, 76),
        box(38, 70, -6, 6, 22, 32),
        box(62, 72, -6, 6, 22, 76),
      ]
    case 'box':
      return [box(-45, 45, -25, 25, 0, 90)]
    case 'unsymmetrical':
      return [box(-37.5, 37.5, -22, 22, 0, 60), box(37.5, 66, -9, 9, 8, 36), box(-36, -6, -15, 15, 60, 95)]
  }
}

/** The outline seen from above, as places of its hull. */
export function planOf(kind: SolidKind, size: number): readonly (readonly [number, number])[] {
  const rounds = kind === 'can' ? 33 * size : kind === 'mug' ? 40 * size : 0
  const rim = Array.from({ length: rounds > 0 ? 180 : 0 }, (_, i) => {
    const angle = (i * Math.PI) / 90
    return [rounds * Math.cos(angle), rounds * Math.sin(angle)] as const
  })
  const corners = partsOf(kind, size)
    .slice(rounds > 0 ? 1 : 0)
    .flatMap((part) => part.corners.map(([x, y]) => [x, y] as const))
  return [...rim, ...corners]
}

/**
 * How light the product is at a place: a pattern that differs from side to side, and none round a can.
 * @param height  0 at the platter, 1 at the top
 */
export function albedoAt(
  kind: SolidKind,
  nx: number,
  ny: number,
  x: number,
  y: number,
  height: number,
  phase: number,
  texture: number,
): number {
  if (texture === 0) return 1
  if (kind === 'can') return 1 + texture * 0.5 * Math.sin(9 * height + phase)
  const pattern =
    0.35 * (nx * Math.sin(phase) + ny * Math.cos(phase)) +
    0.25 * Math.sin(3 * Math.atan2(y, x) + 4 * height + phase) +
    0.2 * Math.sin(0.11 * x - 0.07 * y + 9 * height)
  return Math.max(0.15, 1 + texture * pattern)
}

function roundOf(radius: number, height: number): Part {
  return {
    corners: [-radius, radius].flatMap((x) =>
      [-radius, radius].flatMap((y) => [
        [x * Math.SQRT1_2, y * Math.SQRT1_2, 0],
        [x * Math.SQRT1_2, y * Math.SQRT1_2, height],
      ]),
    ) as Triple[],
    hit: (ox, oy, oz, dx, dy, dz) => {
      const a = dx * dx + dy * dy
      const b = ox * dx + oy * dy
      const c = ox * ox + oy * oy - radius * radius
      const root = b * b - a * c
      if (root < 0) return Number.POSITIVE_INFINITY
      const t = (-b - Math.sqrt(root)) / a
      const z = oz + dz * t
      if (t > 0 && z >= 0 && z <= height) return t
      if (dz >= 0 || oz < height) return Number.POSITIVE_INFINITY
      const top = (height - oz) / dz
      return (ox + dx * top) ** 2 + (oy + dy * top) ** 2 <= radius * radius ? top : Number.POSITIVE_INFINITY
    },
    normal: (x, y, z, out) => (z > height - 1e-6 ? face(out, 0, 0, 1) : face(out, x / radius, y / radius, 0)),
  }
}

function boxOf([x0, x1, y0, y1, z0, z1]: readonly [number, number, number, number, number, number]): Part {
  const near = 1e-6 * (Math.abs(x1) + Math.abs(x0) + z1)
  return {
    corners: [x0, x1].flatMap((x) => [y0, y1].flatMap((y) => [z0, z1].map((z): Triple => [x, y, z]))),
    hit: (ox, oy, oz, dx, dy, dz) => {
      const ax = (x0 - ox) / dx
      const bx = (x1 - ox) / dx
      const ay = (y0 - oy) / dy
      const by = (y1 - oy) / dy
      const az = (z0 - oz) / dz
      const bz = (z1 - oz) / dz
      const enters = Math.max(Math.min(ax, bx), Math.min(ay, by), Math.min(az, bz))
      const leaves = Math.min(Math.max(ax, bx), Math.max(ay, by), Math.max(az, bz))
      return enters > 0 && enters <= leaves ? enters : Number.POSITIVE_INFINITY
    },
    normal: (x, y, z, out) => {
      if (Math.abs(x - x0) < near) face(out, -1, 0, 0)
      else if (Math.abs(x - x1) < near) face(out, 1, 0, 0)
      else if (Math.abs(y - y0) < near) face(out, 0, -1, 0)
      else if (Math.abs(y - y1) < near) face(out, 0, 1, 0)
      else face(out, 0, 0, z > (z0 + z1) / 2 ? 1 : -1)
    },
  }
}

function face(out: Float64Array, x: number, y: number, z: number): void {
  out[0] = x
  out[1] = y
  out[2] = z
}
