import { meetsAxisMm } from '../looking.ts'
import {
  axisCross,
  type DrawingPage,
  type DrawnCamera,
  type DrawnRig,
  degreesLabel,
  dimension,
  type Grip,
  marginsOf,
  mmLabel,
  type RigDrawing,
  type Stroke,
  standStroke,
} from './drawing.ts'
import { type Extent, extentOf, type Fit, fitPage, onPage } from './fit.ts'
import { placeLabels, type Wanted } from './labels.ts'
import { type Point, sidePlaceOf } from './places.ts'

const standHalf = 9
const platterThickness = 5

/** What the side view of a rig has to hold, in mm round the middle of the platter's surface. */
export function sideExtent(rig: DrawnRig): Extent {
  const radius = Math.max(rig.platterDiameterMm, rig.product?.sweptMm ?? 0) / 2
  return extentOf([
    { x: -radius, y: 0 },
    { x: radius, y: -(rig.product?.heightMm ?? 0) },
    ...(rig.camera ? [cameraPlace(rig.camera)] : []),
    ...rig.rows.map(cameraPlace),
    ...rig.lights.map(sidePlaceOf),
  ])
}

/**
 * A rig from the side, to scale, seen from the camera's right: the camera at the left with its height and the line it
 * looks along, platter and product at the middle, each light at its height. Heights are over the platter's surface.
 */
export function sideDrawing(rig: DrawnRig, page: DrawingPage): RigDrawing {
  const fit = page.fit ?? fitPage(sideExtent(rig), { ...page, ...marginsOf(page) }, page.mmPer)
  const lights = rig.lights.map((light) => ({ light, at: onPage(fit, sidePlaceOf(light)) }))
  const camera = rig.camera && onPage(fit, cameraPlace(rig.camera))
  const aim = rig.camera && aimOf(rig.camera, fit)
  const grips: Grip[] = [
    ...(camera ? [{ of: 'camera' as const, index: 0, at: camera }] : []),
    ...(aim ? [{ of: 'aim' as const, index: 0, at: aim }] : []),
    ...lights.map(({ light: { index }, at }) => ({ of: 'light' as const, index, at })),
  ]
  const strokes: readonly Stroke[] = [
    {
      key: 'level',
      pen: 'thin',
      points: [
        { x: 4, y: fit.axis.y },
        { x: page.width - 4, y: fit.axis.y },
      ],
    },
    ...platterStrokes(rig, fit),
    ...(rig.camera && camera ? cameraStrokes(rig.camera, fit, camera, aim) : []),
    ...rig.rows.map((row) =>
      standStroke(
        `row ${row.row}`,
        onPage(fit, cameraPlace(row)),
        lookingAlong(row.viewAngleDeg),
        standHalf * 0.6,
      ),
    ),
    ...lights.flatMap(({ light, at }) => lightStrokes(light, fit, at)),
    ...axisCross(fit),
  ]
  const clear = { marks: grips.map(({ at }) => at), lines: strokes.map(({ points }) => points) }
  return {
    width: page.width,
    height: page.height,
    fit,
    strokes,
    rings: [],
    labels: page.lettering
      ? placeLabels(wantedLabels(rig, fit, camera, aim, lights), page, clear, page.lettering)
      : [],
    grips,
  }
}

function cameraPlace(place: { readonly distanceMm: number; readonly heightMm: number }): Point {
  return sidePlaceOf({ bearingDeg: 0, ...place })
}

/** Which way something looks that stands at the left, as a direction on the page. */
function lookingAlong(angleDeg: number): Point {
  const angle = (angleDeg * Math.PI) / 180
  return { x: Math.cos(angle), y: Math.sin(angle) }
}

function aimOf({ distanceMm, heightMm, tiltDeg }: DrawnCamera, fit: Fit): Point | null {
  const meets = meetsAxisMm(distanceMm, heightMm, tiltDeg)
  return meets === null ? null : onPage(fit, { x: 0, y: -meets })
}

function platterStrokes(rig: DrawnRig, fit: Fit): readonly Stroke[] {
  const { axis, perMm } = fit
  const radius = (rig.platterDiameterMm / 2) * perMm
  const { product } = rig
  const half = ((product?.sweptMm ?? 0) / 2) * perMm
  const high = (product?.heightMm ?? 0) * perMm
  return [
    ...(radius > 0
      ? [
          {
            key: 'platter',
            pen: 'platter' as const,
            isClosed: true,
            points: rectangle(axis, radius, -platterThickness),
          },
        ]
      : []),
    ...(product
      ? [{ key: 'product', pen: 'product' as const, isClosed: true, points: rectangle(axis, half, high) }]
      : []),
  ]
}

/** Standing on a point, so far to either side, so high. */
function rectangle({ x, y }: Point, half: number, high: number): readonly Point[] {
  return [
    { x: x - half, y },
    { x: x - half, y: y - high },
    { x: x + half, y: y - high },
    { x: x + half, y },
  ]
}

function cameraStrokes(camera: DrawnCamera, fit: Fit, at: Point, aim: Point | null): readonly Stroke[] {
  const along = lookingAlong(camera.tiltDeg)
  return [
    ...(aim && camera.fieldHeightMm !== null ? [fieldStroke(camera, fit, at, aim)] : []),
    ...(aim ? [{ key: 'sight', pen: 'thin' as const, points: [at, aim] }] : []),
    standStroke('camera', at, along, standHalf),
    ...dimension('camera height', { x: at.x - 16, y: fit.axis.y }, { x: at.x - 16, y: at.y }),
  ]
}

/** The edges of the field: as far from the line of sight, across it at the axis, as half the field's height. */
function fieldStroke(camera: DrawnCamera, fit: Fit, at: Point, aim: Point): Stroke {
  const along = lookingAlong(camera.tiltDeg)
  const half = ((camera.fieldHeightMm ?? 0) / 2) * fit.perMm
  return {
    key: 'field',
    pen: 'field',
    points: [
      { x: aim.x - along.y * half, y: aim.y + along.x * half },
      at,
      { x: aim.x + along.y * half, y: aim.y - along.x * half },
    ],
  }
}

/** The light's height as an upright, and a short line along which its light falls. */
function lightStrokes(light: DrawnRig['lights'][number], fit: Fit, at: Point): readonly Stroke[] {
  // Seen from the side, a light's way to the axis is shortened by its bearing.
  const towards = Math.cos((light.bearingDeg * Math.PI) / 180)
  const angle = (light.elevationDeg * Math.PI) / 180
  const falls = { x: towards * Math.cos(angle), y: Math.sin(angle) }
  return [
    { key: `height ${light.letter}`, pen: 'bearing', points: [{ x: at.x, y: fit.axis.y }, at] },
    {
      key: `falls ${light.letter}`,
      pen: 'thin',
      points: [at, { x: at.x + falls.x * 24, y: at.y + falls.y * 24 }],
    },
    standStroke(
      `light ${light.letter}`,
      at,
      Math.hypot(falls.x, falls.y) > 0.05 ? falls : { x: 0, y: 1 },
      standHalf,
    ),
  ]
}

function wantedLabels(
  rig: DrawnRig,
  fit: Fit,
  camera: Point | null,
  aim: Point | null,
  lights: readonly { readonly light: DrawnRig['lights'][number]; readonly at: Point }[],
): readonly Wanted[] {
  const { axis } = fit
  return [
    ...(rig.camera && camera
      ? [
          {
            key: 'camera height',
            lines: ['camera', `${mmLabel(rig.camera.heightMm)} high`],
            at: { x: camera.x - 16, y: camera.y },
            towards: { x: -0.3, y: -1 },
          },
          ...(aim
            ? [
                {
                  key: 'tilt',
                  lines: [tiltLabel(rig.camera.tiltDeg)],
                  at: { x: (camera.x + aim.x) / 2, y: (camera.y + aim.y) / 2 },
                  towards: { x: 0, y: -1 },
                },
              ]
            : []),
        ]
      : []),
    ...lights.map(({ light, at }) => ({
      key: `light ${light.letter}`,
      lines: [`${light.letter} ${mmLabel(light.heightMm)}`],
      short: light.letter,
      at,
      towards: { x: at.x - axis.x, y: at.y <= axis.y ? -Math.abs(at.x - axis.x) - 1 : 1 },
    })),
    ...(rig.product
      ? [
          {
            key: 'product',
            lines: [`product ${mmLabel(rig.product.heightMm)}`],
            at: { x: axis.x, y: axis.y - rig.product.heightMm * fit.perMm },
            towards: { x: 1, y: -1 },
          },
        ]
      : []),
    ...rig.rows.map((row) => ({
      key: `row ${row.row}`,
      lines: [`row ${row.row}`, `${mmLabel(row.heightMm)} high, ${tiltLabel(row.viewAngleDeg)}`],
      short: `row ${row.row}`,
      at: onPage(fit, cameraPlace(row)),
      towards: { x: -1, y: -0.5 },
    })),
  ]
}

function tiltLabel(degrees: number): string {
  const label = degreesLabel(Math.abs(degrees))
  return Math.round(degrees * 10) === 0 ? 'level' : `${label} ${degrees > 0 ? 'down' : 'up'}`
}
