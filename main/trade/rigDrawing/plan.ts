import {
  axisCross,
  type DrawingPage,
  type DrawnRig,
  degreesLabel,
  dimension,
  type Grip,
  marginsOf,
  mmLabel,
  type RigDrawing,
  type Ring,
  type Stroke,
  standStroke,
} from './drawing.ts'
import { type Extent, extentOf, type Fit, fitPage, onPage } from './fit.ts'
import { placeLabels, roundLine, type Wanted } from './labels.ts'
import { type Point, placeOf } from './places.ts'

const standHalf = 9

/** What the plan of a rig has to hold, in mm round the axis: platter, product, and all that stands. */
export function planExtent(rig: DrawnRig): Extent {
  const radius = Math.max(rig.platterDiameterMm, rig.product?.sweptMm ?? 0) / 2
  return extentOf([
    { x: -radius, y: -radius },
    { x: radius, y: radius },
    ...(rig.camera ? [placeOf({ bearingDeg: 0, distanceMm: rig.camera.distanceMm })] : []),
    ...rig.rows.map(({ distanceMm }) => placeOf({ bearingDeg: 0, distanceMm })),
    ...rig.lights.map(placeOf),
  ])
}

/**
 * A rig from above, to scale: platter and product as circles, the camera below with the lines of its field, each light
 * as a line along its bearing to where it stands, with its figures. Distances are level, from the platter's axis.
 */
export function planDrawing(rig: DrawnRig, page: DrawingPage): RigDrawing {
  const fit = page.fit ?? fitPage(planExtent(rig), { ...page, ...marginsOf(page) }, page.mmPer)
  const lights = rig.lights.map((light) => ({ light, at: onPage(fit, placeOf(light)) }))
  const camera = rig.camera && onPage(fit, placeOf({ bearingDeg: 0, distanceMm: rig.camera.distanceMm }))
  const grips: Grip[] = [
    ...(camera ? [{ of: 'camera' as const, index: 0, at: camera }] : []),
    ...lights.map(({ light: { index }, at }) => ({ of: 'light' as const, index, at })),
  ]
  const strokes = [
    ...(rig.camera && camera ? cameraStrokes(rig, fit, camera, page.lettering !== null) : []),
    ...lights.flatMap(({ light, at }) => lightStrokes(light.letter, rig, fit, at)),
    ...axisCross(fit),
  ]
  const rings = ringsOf(rig, fit)
  const clear = {
    marks: [...grips.map(({ at }) => at), fit.axis],
    lines: [...strokes.map(({ points }) => points), ...rings.map(({ at, radius }) => roundLine(at, radius))],
  }
  return {
    width: page.width,
    height: page.height,
    fit,
    strokes,
    rings,
    labels: page.lettering
      ? placeLabels(wantedLabels(rig, fit, camera, lights), page, clear, page.lettering)
      : [],
    grips,
  }
}

function ringsOf(rig: DrawnRig, { axis, perMm }: Fit): readonly Ring[] {
  const ring = (key: 'platter' | 'product', mm: number): readonly Ring[] =>
    mm > 0 ? [{ key, pen: key, at: axis, radius: (mm / 2) * perMm }] : []
  return [...ring('platter', rig.platterDiameterMm), ...ring('product', rig.product?.sweptMm ?? 0)]
}

function cameraStrokes(rig: DrawnRig, fit: Fit, at: Point, isDimensioned: boolean): readonly Stroke[] {
  const { axis, perMm } = fit
  const half = ((rig.camera?.fieldWidthMm ?? 0) / 2) * perMm
  const beyond = (rig.platterDiameterMm / 2) * perMm
  const run = at.y - axis.y
  const spread = run > 0 ? (half * (run + beyond)) / run : 0
  const side = axis.x + Math.max(half, beyond, 12) + 14
  return [
    ...(half > 0
      ? [
          {
            key: 'field',
            pen: 'field' as const,
            points: [
              { x: axis.x - spread, y: axis.y - beyond },
              at,
              { x: axis.x + spread, y: axis.y - beyond },
            ],
          },
        ]
      : []),
    { key: 'sight', pen: 'thin', points: [axis, at] },
    ...rig.rows.map(({ row, distanceMm }) =>
      standStroke(
        `row ${row}`,
        onPage(fit, placeOf({ bearingDeg: 0, distanceMm })),
        { x: 0, y: 1 },
        standHalf * 0.6,
      ),
    ),
    standStroke('camera', at, { x: 0, y: 1 }, standHalf),
    ...(isDimensioned
      ? [
          {
            key: 'from axis',
            pen: 'thin' as const,
            points: [
              { x: axis.x + 8, y: axis.y },
              { x: side + 4, y: axis.y },
            ],
          },
          {
            key: 'from camera',
            pen: 'thin' as const,
            points: [
              { x: at.x + 14, y: at.y },
              { x: side + 4, y: at.y },
            ],
          },
          ...dimension('camera distance', { x: side, y: axis.y }, { x: side, y: at.y }),
        ]
      : []),
  ]
}

function lightStrokes(letter: string, rig: DrawnRig, { axis, perMm }: Fit, at: Point): readonly Stroke[] {
  const along = { x: at.x - axis.x, y: at.y - axis.y }
  const length = Math.hypot(along.x, along.y)
  // The bearing line begins at the platter's edge, so that a dozen lights leave the axis readable.
  const part = length > 0 ? Math.min((rig.platterDiameterMm / 2) * perMm, length) / length : 0
  return [
    {
      key: `bearing ${letter}`,
      pen: 'bearing',
      points: [{ x: axis.x + along.x * part, y: axis.y + along.y * part }, at],
    },
    standStroke(`light ${letter}`, at, along, standHalf),
  ]
}

function wantedLabels(
  rig: DrawnRig,
  { axis, perMm }: Fit,
  camera: Point | null,
  lights: readonly { readonly light: DrawnRig['lights'][number]; readonly at: Point }[],
): readonly Wanted[] {
  const radius = (rig.platterDiameterMm / 2) * perMm
  const field = rig.camera?.fieldWidthMm ?? null
  const side = axis.x + Math.max(((field ?? 0) / 2) * perMm, radius, 12) + 14
  return [
    ...(rig.camera && camera
      ? [
          { key: 'camera', lines: ['camera'], at: camera, towards: { x: 0, y: 1 } },
          {
            key: 'camera distance',
            lines: [mmLabel(rig.camera.distanceMm)],
            at: { x: side, y: (axis.y + camera.y) / 2 },
            towards: { x: 1, y: 0 },
          },
        ]
      : []),
    ...lights.map(({ light, at }) => ({
      key: `light ${light.letter}`,
      lines: [
        light.letter,
        `${degreesLabel(light.bearingDeg)} ${mmLabel(light.distanceMm)}`,
        `${mmLabel(light.heightMm)} high`,
      ],
      short: light.letter,
      at,
      towards: { x: at.x - axis.x, y: at.y - axis.y },
    })),
    ...(rig.platterDiameterMm > 0
      ? [
          {
            key: 'platter',
            lines: [`${mmLabel(rig.platterDiameterMm)} across`],
            at: { x: axis.x, y: axis.y - radius },
            towards: { x: 0, y: -1 },
          },
        ]
      : []),
    ...(field === null
      ? []
      : [
          {
            key: 'field',
            lines: [`field ${mmLabel(field)}`],
            at: { x: axis.x - (field / 2) * perMm, y: axis.y },
            towards: { x: -1, y: 0.3 },
          },
        ]),
    ...(rig.product
      ? [
          {
            key: 'product',
            lines: [`product ${mmLabel(rig.product.sweptMm)}`],
            // Beside the platter rather than on it, where its rim and the lines of sight run.
            at: { x: axis.x - radius * 0.7, y: axis.y + radius * 0.7 },
            towards: { x: -1, y: 0.7 },
          },
        ]
      : []),
  ]
}
