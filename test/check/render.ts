import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'
import { type Camera, cameraOf, rayDirection } from './render/camera.ts'
import { encode, gaussians, randomOf } from './render/noise.ts'
import { smallestCircle } from './render/smallestCircle.ts'
import { albedoAt, type Part, partsOf, planOf, type SolidKind } from './render/solids.ts'

export { randomOf } from './render/noise.ts'
export type { SolidKind } from './render/solids.ts'

/**
 * A take drawn from a known solid: a perspective camera, a platter, a backdrop, and a product that turns with the
 * platter. Millimetres; x to the right in the picture, y away from the camera, z up from the platter. Bearings as in
 * drawings of rigs: clockwise from the camera, seen from above. The same options give the same bytes.
 */
export interface RenderOptions {
  readonly kind: SolidKind
  readonly seed: number
  readonly widthPx: number
  readonly heightPx: number
  /** Where the platter stands for each frame; `turnAngles` makes them. */
  readonly anglesDeg: readonly number[]
  /** Seen from above; marks rise as the platter turns. */
  readonly turns: 'clockwise' | 'counter-clockwise'
  /** How far the middle of the product's body stands off the axis, and at which bearing in the pose of 0°. */
  readonly offsetMm: number
  readonly offsetBearingDeg: number
  /** How the product is turned about its own middle in the pose of 0°. */
  readonly poseDeg: number
  /** 1: sizes of the kind as they are, some 100 mm. */
  readonly size: number
  /** Light per frame in EV: of everything, of the backdrop alone, of the product alone. Missing: 0. */
  readonly lightEv: readonly number[]
  readonly backdropEv: readonly number[]
  readonly productEv: readonly number[]
  /** How bright a highlight swings through as the product turns: 0 none, 1 as bright as paper in the light. */
  readonly highlight: number
  /** Standard deviation of the noise in 8-bit codes. */
  readonly noiseCodes: number
  /** Linear luminance of the backdrop in its middle. */
  readonly backdropY: number
  /** How much brighter the backdrop is at its right than at its left, and at its top than at its bottom, as a part. */
  readonly gradient: number
  /** Linear luminance of the platter; null for none that is seen. */
  readonly platterY: number | null
  /** How much darker the platter is under the product: 0 none, 1 black. */
  readonly shadow: number
  /** Linear luminance of the product where the light falls on it squarely. */
  readonly productY: number
  /** How strong the product's pattern is; 0 for plain goods. A can has none that changes as it turns. */
  readonly texture: number
  /** Frames (from 0) before which a white card stands in front of the product, as a ticket does. */
  readonly ticketAt: readonly number[]
  /** A dark mark on the platter's edge, under the pointer's bearing 0 in the pose of 0°. */
  readonly edgeMark: boolean
  readonly camera: Partial<Camera>
}

export interface RenderedTake {
  readonly frames: readonly SmallFrame[]
  /** The same set before the product was placed, with noise of its own. */
  readonly emptyFrame: SmallFrame
  readonly truth: RenderTruth
}

export interface RenderTruth {
  readonly anglesDeg: readonly number[]
  /** Off the axis in the pose of 0°: of the middle of the body, and of the smallest circle round all of it. */
  readonly body: Place
  readonly leastSweep: Place & { readonly radiusMm: number }
  /** At the axis, level with what the camera aims at. */
  readonly mmPerPx: number
  readonly axisXPx: number
  readonly camera: Camera
}

export interface Place {
  readonly xMm: number
  readonly yMm: number
  readonly offsetMm: number
  readonly bearingDeg: number
}

const ordinary: RenderOptions = {
  kind: 'unsymmetrical',
  seed: 1,
  widthPx: 120,
  heightPx: 90,
  anglesDeg: [],
  turns: 'clockwise',
  offsetMm: 0,
  offsetBearingDeg: 0,
  poseDeg: 0,
  size: 1,
  lightEv: [],
  backdropEv: [],
  productEv: [],
  highlight: 0,
  noiseCodes: 1,
  backdropY: 0.75,
  gradient: 0.08,
  platterY: 0.5,
  shadow: 0.4,
  productY: 0.3,
  texture: 0.5,
  ticketAt: [],
  edgeMark: false,
  camera: {},
}

/** The platter's radius in mm. */
const platterMm = 150

/** Renders a take. Without angles: 60 frames of one turn. */
export function renderTake(asked: Partial<RenderOptions> = {}): RenderedTake {
  const anglesDeg = asked.anglesDeg ?? turnAngles({ framesPerTurn: 60 })
  const options = { ...ordinary, ...asked, anglesDeg }
  const scene = sceneOf(options)
  const noise = gaussians(options.seed)
  const frames = anglesDeg.map((_, frame) => drawFrame(scene, options, frame, noise))
  return { frames, emptyFrame: drawFrame(scene, options, null, noise), truth: truthOf(options, scene) }
}

/** How a drawn frame is shot: its lights in EV, its noise in codes, and which noise. */
export interface Shot {
  readonly lightEv: number
  readonly backdropEv: number
  readonly productEv: number
  readonly noiseCodes: number
  readonly noiseSeed: number
}

/** A take drawn once, of which each frame can be shot again and again, under any light and with other noise. */
export interface DrawnTake {
  readonly truth: RenderTruth
  readonly shoot: (frame: number, shot: Shot) => SmallFrame
}

/** Draws a take without its light and its noise: what costs the time is then done once for many takes. */
export function drawTake(asked: Partial<RenderOptions> & Pick<RenderOptions, 'anglesDeg'>): DrawnTake {
  const options = { ...ordinary, ...asked }
  const { widthPx, heightPx } = options
  const scene = sceneOf(options)
  const drawn = options.anglesDeg.map((_, frame) => {
    const pose = poseOf(options, options.anglesDeg[frame] ?? 0)
    const backdrop = new Float32Array(widthPx * heightPx)
    const platter = new Float32Array(widthPx * heightPx)
    for (let at = 0; at < backdrop.length; at++) {
      const x = scene.platterX[at] ?? Number.NaN
      const empty = scene.emptyY[at] ?? 0
      if (Number.isNaN(x)) backdrop[at] = empty
      else platter[at] = platterLight(scene, options, pose, at, x) * empty
    }
    const product = new Float32Array(widthPx * heightPx)
    const uncovered = new Float32Array(widthPx * heightPx).fill(1)
    drawProduct(scene, options, pose, 1, product, uncovered)
    for (let at = 0; at < backdrop.length; at++) {
      backdrop[at] = (backdrop[at] as number) * (uncovered[at] as number)
      platter[at] = (platter[at] as number) * (uncovered[at] as number)
    }
    return { backdrop, platter, product }
  })
  return {
    truth: truthOf(options, scene),
    shoot: (frame, { lightEv, backdropEv, productEv, noiseCodes, noiseSeed }) => {
      const layers = drawn[frame]
      if (!layers) throw new Error(`Frame ${frame} was not drawn.`)
      const back = 2 ** backdropEv
      const front = 2 ** productEv
      const linear = layers.platter.slice()
      for (let at = 0; at < linear.length; at++) {
        const lit = back * (layers.backdrop[at] as number) + front * (layers.product[at] as number)
        linear[at] = (linear[at] as number) + lit
      }
      return encoded(options, linear, 2 ** lightEv, { of: gaussians(noiseSeed), start: 0, codes: noiseCodes })
    },
  }
}

/**
 * Angles of a turn shot from mark to mark.
 * @param missedAt  frames (from 0) before which a mark was passed over: the step to it is two
 * @param twiceAt   frames (from 0) that were shot at the mark of the frame before
 * @param wobbleDeg standard deviation of how badly a mark was met
 */
export function turnAngles({
  framesPerTurn,
  frames = framesPerTurn,
  missedAt = [],
  twiceAt = [],
  wobbleDeg = 0,
  seed = 1,
}: {
  readonly framesPerTurn: number
  readonly frames?: number
  readonly missedAt?: readonly number[]
  readonly twiceAt?: readonly number[]
  readonly wobbleDeg?: number
  readonly seed?: number
}): number[] {
  const step = 360 / framesPerTurn
  const noise = gaussians(seed)
  let mark = 0
  return Array.from({ length: frames }, (_, frame) => {
    if (frame > 0 && !twiceAt.includes(frame)) mark += missedAt.includes(frame) ? 2 : 1
    return mark * step + wobbleDeg * noise.at(frame)
  })
}

interface Scene {
  readonly camera: Camera
  readonly parts: readonly Part[]
  /** Per pixel of the set without the product: linear luminance; where the platter is seen, x and y on it, else NaN. */
  readonly emptyY: Float32Array
  readonly platterX: Float32Array
  readonly platterY: Float32Array
  /** Rows and columns outside of which the product is never seen. */
  readonly bounds: { readonly x0: number; readonly x1: number; readonly y0: number; readonly y1: number }
  readonly radiusMm: number
  readonly heightMm: number
  readonly phase: number
}

function sceneOf(options: RenderOptions): Scene {
  const { widthPx, heightPx } = options
  const parts = partsOf(options.kind, options.size)
  const camera = cameraOf(options.camera, options.size)
  const emptyY = new Float32Array(widthPx * heightPx)
  const platterX = new Float32Array(widthPx * heightPx).fill(Number.NaN)
  const platterY = new Float32Array(widthPx * heightPx).fill(Number.NaN)
  const radius = platterMm * options.size
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const at = row * widthPx + column
      emptyY[at] = backdropAt(options, column, row)
      if (options.platterY === null) continue
      const middle = platterHit(camera, options, column + 0.5, row + 0.5)
      if (!middle || Math.abs(Math.hypot(...middle) - radius) > 0.2 * radius) {
        if (middle && Math.hypot(...middle) < radius) {
          emptyY[at] = options.platterY
          ;[platterX[at], platterY[at]] = middle
        }
        continue
      }
      // The platter's edge covers part of a pixel too.
      const shares = samples.map(([sx, sy]) => platterHit(camera, options, column + sx, row + sy))
      const inside = shares.filter((hit) => hit !== null && Math.hypot(hit[0], hit[1]) < radius)
      const share = inside.length / samples.length
      emptyY[at] = (emptyY[at] ?? 0) * (1 - share) + options.platterY * share
      if (share > 0) [platterX[at], platterY[at]] = middle
    }
  }
  const corners = parts.flatMap(({ corners: some }) => some)
  const radiusMm = Math.max(...corners.map(([x, y]) => Math.hypot(x, y)))
  const heightMm = Math.max(...corners.map(([, , z]) => z))
  const reach = radiusMm + options.offsetMm
  const phase = randomOf(options.seed + 77)() * 6.283
  const bounds = boundsOf(camera, options, reach, heightMm)
  return { camera, parts, emptyY, platterX, platterY, bounds, radiusMm, heightMm, phase }
}

/** Sixteen places in a pixel, each in a column and a row of its own, so that an upright edge is met in sixteenths. */
const samples: readonly (readonly [number, number])[] = Array.from({ length: 16 }, (_, i) => [
  (i + 0.5) / 16,
  (((i * 5) % 16) + 0.5) / 16,
])

function backdropAt({ widthPx, heightPx, backdropY, gradient }: RenderOptions, x: number, y: number): number {
  return backdropY * (1 + gradient * (x / widthPx - 0.5) - gradient * (y / heightPx - 0.5))
}

function platterHit(
  camera: Camera,
  options: RenderOptions,
  x: number,
  y: number,
): readonly [number, number] | null {
  const [dx, dy, dz] = rayDirection(camera, options, x, y)
  if (dz >= 0) return null
  const t = -camera.heightMm / dz
  return [camera.lateralMm + dx * t, -camera.distanceMm + dy * t]
}

function boundsOf(camera: Camera, options: RenderOptions, reach: number, height: number): Scene['bounds'] {
  const { widthPx, heightPx } = options
  const found = { x0: widthPx, x1: 0, y0: heightPx, y1: 0 }
  for (const x of [-reach, reach]) {
    for (const y of [-reach, reach]) {
      for (const z of [0, height]) {
        const [px, py] = projected(camera, options, x, y, z)
        found.x0 = Math.min(found.x0, px)
        found.x1 = Math.max(found.x1, px)
        found.y0 = Math.min(found.y0, py)
        found.y1 = Math.max(found.y1, py)
      }
    }
  }
  return {
    x0: Math.max(0, Math.floor(found.x0) - 2),
    x1: Math.min(widthPx, Math.ceil(found.x1) + 2),
    y0: Math.max(0, Math.floor(found.y0) - 2),
    y1: Math.min(heightPx, Math.ceil(found.y1) + 2),
  }
}

/** Where a place is seen: column and row, from the top left. */
function projected(
  camera: Camera,
  options: RenderOptions,
  x: number,
  y: number,
  z: number,
): [number, number] {
  const { forward, up } = camera.axes
  const rx = x - camera.lateralMm
  const ry = y + camera.distanceMm
  const rz = z - camera.heightMm
  const depth = ry * forward[0] + rz * forward[1]
  const right = rx / depth
  const above = (ry * up[0] + rz * up[1]) / depth
  const focal = camera.focalPx(options.widthPx)
  const cos = Math.cos(camera.rollDeg * (Math.PI / 180))
  const sin = Math.sin(camera.rollDeg * (Math.PI / 180))
  return [
    options.widthPx / 2 + focal * (right * cos - above * sin),
    options.heightPx / 2 - focal * (right * sin + above * cos),
  ]
}

/** The product's place and yaw in a pose: x, y in mm, and the yaw as cosine and sine, counter-clockwise from above. */
function poseOf(options: RenderOptions, angleDeg: number) {
  const sign = options.turns === 'clockwise' ? 1 : -1
  const bearing = (options.offsetBearingDeg + sign * angleDeg) * (Math.PI / 180)
  const yaw = (options.poseDeg - sign * angleDeg) * (Math.PI / 180)
  return {
    x: -options.offsetMm * Math.sin(bearing),
    y: -options.offsetMm * Math.cos(bearing),
    cos: Math.cos(yaw),
    sin: Math.sin(yaw),
    angle: sign * angleDeg * (Math.PI / 180),
  }
}

type Pose = ReturnType<typeof poseOf>

function drawFrame(
  scene: Scene,
  options: RenderOptions,
  frame: number | null,
  noise: ReturnType<typeof gaussians>,
): SmallFrame {
  const { widthPx, heightPx } = options
  const all = 2 ** (frame === null ? 0 : (options.lightEv[frame] ?? 0))
  const back = 2 ** (frame === null ? 0 : (options.backdropEv[frame] ?? 0))
  const pose = poseOf(options, frame === null ? 0 : (options.anglesDeg[frame] ?? 0))
  const linear = new Float32Array(widthPx * heightPx)
  for (let at = 0; at < linear.length; at++) {
    const x = scene.platterX[at] ?? Number.NaN
    const empty = scene.emptyY[at] ?? 0
    if (Number.isNaN(x)) linear[at] = empty * back
    else linear[at] = platterLight(scene, options, frame === null ? null : pose, at, x) * empty
  }
  if (frame !== null) {
    drawProduct(scene, options, pose, 2 ** (options.productEv[frame] ?? 0), linear)
    if (options.ticketAt.includes(frame)) drawTicket(options, linear)
  }
  return encoded(options, linear, all, {
    of: noise,
    start: (frame ?? 999_983) * 7919,
    codes: options.noiseCodes,
  })
}

/** Linear luminance as codes of sRGB, with noise of its own in each channel. */
function encoded(
  { widthPx, heightPx }: RenderOptions,
  linear: Float32Array,
  light: number,
  noise: { readonly of: ReturnType<typeof gaussians>; readonly start: number; readonly codes: number },
): SmallFrame {
  const rgb = new Uint8ClampedArray(linear.length * 3)
  for (let at = 0; at < linear.length; at++) {
    const code = encode((linear[at] as number) * light)
    for (let channel = at * 3; channel < at * 3 + 3; channel++) {
      rgb[channel] = code + noise.codes * noise.of.at(noise.start + channel)
    }
  }
  return { widthPx, heightPx, rgb: new Uint8Array(rgb.buffer) }
}

/** How the platter's light is changed at a place: by the product's shadow and by the mark on its edge. */
function platterLight(
  scene: Scene,
  options: RenderOptions,
  pose: Pose | null,
  at: number,
  x: number,
): number {
  const y = scene.platterY[at] ?? 0
  let light = 1
  if (options.edgeMark) {
    const radius = Math.hypot(x, y) / (platterMm * options.size)
    if (radius > 0.88 && radius < 1 && Math.cos(Math.atan2(-x, -y) - (pose?.angle ?? 0)) > 0.9976)
      light = 0.15
  }
  if (pose && options.shadow > 0) {
    const away = ((x - pose.x) ** 2 + (y - pose.y) ** 2) / (1.3 * scene.radiusMm) ** 2
    if (away < 6) light *= 1 - options.shadow * Math.exp(-away)
  }
  return light
}

/** Corners of a pixel that differ by less show one face. */
const evenLight = 0.01

function drawProduct(
  scene: Scene,
  options: RenderOptions,
  pose: Pose,
  productLight: number,
  linear: Float32Array,
  uncovered?: Float32Array,
): void {
  const { x0, x1, y0, y1 } = scene.bounds
  const cast = casterOf(scene, options, pose, productLight)
  const wide = x1 - x0 + 1
  // Luminance at the corners of pixels, -1 where there is no product; only a pixel on an edge is looked at closely.
  const above = new Float32Array(wide)
  const below = new Float32Array(wide)
  for (let i = 0; i < wide; i++) above[i] = cast(x0 + i, y0)
  for (let row = y0; row < y1; row++) {
    for (let i = 0; i < wide; i++) below[i] = cast(x0 + i, row + 1)
    for (let i = 0; i + 1 < wide; i++) {
      const a = above[i] as number
      const b = above[i + 1] as number
      const c = below[i] as number
      const d = below[i + 1] as number
      if (a < 0 && b < 0 && c < 0 && d < 0) continue
      const at = row * options.widthPx + x0 + i
      // So is one on an edge between two faces, or its light would leap as the edge moves on.
      const isWhole = a >= 0 && b >= 0 && c >= 0 && d >= 0
      if (isWhole && Math.max(a, b, c, d) - Math.min(a, b, c, d) < evenLight) {
        linear[at] = (a + b + c + d) / 4
        if (uncovered) uncovered[at] = 0
        continue
      }
      let sum = 0
      let beside = 0
      for (const sample of samples) {
        const y = cast(x0 + i + sample[0], row + sample[1])
        sum += y >= 0 ? y : (linear[at] ?? 0)
        if (y < 0) beside++
      }
      linear[at] = sum / samples.length
      if (uncovered) uncovered[at] = beside / samples.length
    }
    above.set(below)
  }
}

/** Looks along a ray: the luminance of the product there, or -1. */
function casterOf(scene: Scene, options: RenderOptions, pose: Pose, productLight: number) {
  const { camera, parts } = scene
  const { cos, sin } = pose
  const ex = camera.lateralMm - pose.x
  const ey = -camera.distanceMm - pose.y
  const ox = ex * cos + ey * sin
  const oy = -ex * sin + ey * cos
  const oz = camera.heightMm
  // A ray's direction is linear in its column and row: in the product's own frame it is two products and a sum.
  const [fx, fy, fz] = rayDirection(camera, options, 0, 0)
  const [ax, ay, az] = minus(rayDirection(camera, options, 1, 0), [fx, fy, fz])
  const [bx, by, bz] = minus(rayDirection(camera, options, 0, 1), [fx, fy, fz])
  const [x0, xa, xb] = [fx * cos + fy * sin, ax * cos + ay * sin, bx * cos + by * sin]
  const [y0, ya, yb] = [fy * cos - fx * sin, ay * cos - ax * sin, by * cos - bx * sin]
  // The light stands to the left before the set; a highlight is seen where a face turns between it and the camera.
  const lx = -0.5 * cos - 0.7 * sin
  const ly = 0.5 * sin - 0.7 * cos
  const normal = new Float64Array(3)
  return (px: number, py: number): number => {
    const dx = x0 + xa * px + xb * py
    const dy = y0 + ya * px + yb * py
    const dz = fz + az * px + bz * py
    let nearest: Part | null = null
    let t = Number.POSITIVE_INFINITY
    for (const part of parts) {
      const found = part.hit(ox, oy, oz, dx, dy, dz)
      if (found < t) {
        t = found
        nearest = part
      }
    }
    if (!nearest) return -1
    const x = ox + dx * t
    const y = oy + dy * t
    const z = oz + dz * t
    nearest.normal(x, y, z, normal)
    const nx = normal[0] as number
    const ny = normal[1] as number
    const nz = normal[2] as number
    const facing = Math.max(0, nx * lx + ny * ly + nz * 0.5)
    const albedo = albedoAt(options.kind, nx, ny, x, y, z / scene.heightMm, scene.phase, options.texture)
    const shine = options.highlight > 0 ? options.highlight * facing ** 24 : 0
    return productLight * (options.productY * albedo * (0.55 + 0.45 * facing) + 0.8 * shine)
  }
}

function minus(a: readonly [number, number, number], b: readonly [number, number, number]) {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]] as const
}

/** A white card with a dark pattern, held before the product. */
function drawTicket({ widthPx, heightPx }: RenderOptions, linear: Float32Array): void {
  for (let row = Math.floor(heightPx * 0.25); row < heightPx * 0.85; row++) {
    for (let column = Math.floor(widthPx * 0.33); column < widthPx * 0.67; column++) {
      const isDark =
        row > heightPx * 0.4 &&
        column > widthPx * 0.4 &&
        column < widthPx * 0.6 &&
        (row * 7 + column * 3) % 5 < 2
      linear[row * widthPx + column] = isDark ? 0.03 : 0.85
    }
  }
}

function truthOf(options: RenderOptions, { camera }: Scene): RenderTruth {
  const pose = poseOf(options, 0)
  const placed = planOf(options.kind, options.size).map(
    ([x, y]) => [pose.x + x * pose.cos - y * pose.sin, pose.y + x * pose.sin + y * pose.cos] as const,
  )
  const circle = smallestCircle(placed)
  const focal = camera.focalPx(options.widthPx)
  return {
    anglesDeg: options.anglesDeg,
    body: placeAt(pose.x, pose.y),
    leastSweep: { ...placeAt(circle.x, circle.y), radiusMm: circle.radius },
    mmPerPx: camera.rangeMm / focal,
    axisXPx: projected(camera, options, 0, 0, camera.aimHeightMm)[0],
    camera,
  }
}

function placeAt(xMm: number, yMm: number): Place {
  const bearing = (Math.atan2(-xMm, -yMm) * 180) / Math.PI
  return { xMm, yMm, offsetMm: Math.hypot(xMm, yMm), bearingDeg: (bearing + 360) % 360 }
}
