/** A point of the solid round the axis in mm: x to the right, y away from the camera, z up. */
export interface Corner {
  readonly x: number
  readonly y: number
  readonly z: number
}

/** A face as the camera sees it: its corners in mm at the axis plane, and how much light it takes, 0 to 1. */
export interface SeenFace {
  readonly points: readonly { readonly x: number; readonly y: number }[]
  readonly light: number
}

/** An upright prism: its outline seen from above, from its foot to its head. */
interface Prism {
  readonly outline: readonly { readonly x: number; readonly y: number }[]
  readonly from: number
  readonly to: number
}

/**
 * The abstract thing that turns in the preview: a six-sided foot as wide as the swept circle with a block set
 * off the axis on it, so that every position of the turn looks different. It just fills the product's cylinder.
 */
export function steppedSolid(sweptMm: number, heightMm: number): readonly Prism[] {
  const radius = sweptMm / 2
  const ring = Array.from({ length: 6 }, (_, k) => ({
    x: radius * Math.cos((k * Math.PI) / 3),
    y: radius * Math.sin((k * Math.PI) / 3),
  }))
  const block = [
    { x: -0.1, y: -0.32 },
    { x: 0.78, y: -0.32 },
    { x: 0.78, y: 0.32 },
    { x: -0.1, y: 0.32 },
  ].map((corner) => ({ x: corner.x * radius, y: corner.y * radius }))
  const post = [
    { x: -0.62, y: -0.18 },
    { x: -0.26, y: -0.18 },
    { x: -0.26, y: 0.18 },
    { x: -0.62, y: 0.18 },
  ].map((corner) => ({ x: corner.x * radius, y: corner.y * radius }))
  const half = heightMm / 2
  const step = -half + heightMm * 0.42
  return [
    { outline: ring, from: -half, to: step },
    { outline: block, from: step, to: -half + heightMm * 0.72 },
    { outline: post, from: step, to: half },
  ]
}

/** The camera: how far from the axis, and how steeply it looks down. */
export interface SolidView {
  readonly distanceMm: number
  readonly viewAngleDeg: number
}

/**
 * The faces of the solid that look at the camera, the farthest first, turned by an angle: a central projection
 * on the plane through the axis, as the swept outline is worked out.
 */
export function seenFaces(solid: readonly Prism[], turnedDeg: number, view: SolidView): readonly SeenFace[] {
  const turn = (turnedDeg * Math.PI) / 180
  const turned = solid.map((prism) => ({
    ...prism,
    outline: prism.outline.map(({ x, y }) => ({
      x: x * Math.cos(turn) - y * Math.sin(turn),
      y: x * Math.sin(turn) + y * Math.cos(turn),
    })),
  }))
  return [...turned]
    .sort((a, b) => a.from - b.from || farthest(b) - farthest(a))
    .flatMap((prism) => facesOf(prism, view))
}

function farthest({ outline }: Prism): number {
  return Math.max(...outline.map(({ y }) => y))
}

/** Walls before the top: seen from level or above, the top hides none of them. */
function facesOf({ outline, from, to }: Prism, view: SolidView): SeenFace[] {
  const walls = outline.flatMap((corner, index) => {
    const next = outline[(index + 1) % outline.length] ?? corner
    const normal = { x: next.y - corner.y, y: corner.x - next.x }
    const middle = { x: (corner.x + next.x) / 2, y: (corner.y + next.y) / 2 }
    const eye = -view.distanceMm * Math.cos((view.viewAngleDeg * Math.PI) / 180)
    // A wall is seen where its outside faces the camera on the −y side.
    const facing = normal.x * (0 - middle.x) + normal.y * (eye - middle.y)
    if (facing <= 0) return []
    const length = Math.hypot(normal.x, normal.y)
    return [
      {
        depth: middle.y,
        points: [
          { ...corner, z: from },
          { ...next, z: from },
          { ...next, z: to },
          { ...corner, z: to },
        ],
        light: 0.42 + 0.34 * Math.max(0, (-normal.x * 0.75 - normal.y * 0.55) / length),
      },
    ]
  })
  walls.sort((a, b) => b.depth - a.depth)
  const eyeZ = view.distanceMm * Math.sin((view.viewAngleDeg * Math.PI) / 180)
  const top = eyeZ > to ? [{ points: outline.map((corner) => ({ ...corner, z: to })), light: 0.94 }] : []
  return [...walls, ...top].map(({ points, light }) => ({
    points: points.map((corner) => projected(corner, view)),
    light,
  }))
}

/** Where a point falls in the plane through the axis, in mm, y downwards. */
export function projected({ x, y, z }: Corner, view: SolidView): { readonly x: number; readonly y: number } {
  const tilt = (view.viewAngleDeg * Math.PI) / 180
  const towards = -y * Math.cos(tilt) + z * Math.sin(tilt)
  const up = z * Math.cos(tilt) + y * Math.sin(tilt)
  const scale = view.distanceMm / (view.distanceMm - towards)
  return { x: x * scale, y: -up * scale }
}
