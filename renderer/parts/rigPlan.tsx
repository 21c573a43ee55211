import { numberText, withUnit } from './format.ts'
import { type Bearing, extentOf, fitPlan, placeOf } from './rigGeometry.ts'
import css from './rigPlan.module.css'
import type { Point } from './ringGeometry.ts'

/** A light as the plan draws it. */
export interface PlanLight extends Bearing {
  readonly key: string | number
  /** A letter or short name beside the line's end. */
  readonly name: string
}

export interface RigPlanProps {
  readonly width: number
  readonly height: number
  /** What it is a plan of: `Rig Tall glass, revision 3`. */
  readonly label: string
  readonly platterDiameterMm: number
  /** The camera's distance from the axis, and the width it sees there where that is known. */
  readonly camera?: { readonly distanceMm: number; readonly fieldWidthMm?: number }
  readonly lights: readonly PlanLight[]
  /** A backdrop behind the platter: distance from the axis and width. */
  readonly backdrop?: { readonly distanceMm: number; readonly widthMm: number }
  /** One scale for a wall of plans; without it the plan fills its frame. */
  readonly mmPerPx?: number
}

/**
 * A rig from above, to scale: the platter as a circle, the camera's place with the lines of its field, each
 * light as a line along its bearing. Under 220 px of width the figures are left out.
 */
export function RigPlan(props: RigPlanProps) {
  const { camera, backdrop, lights } = props
  const isSmall = props.width < 220
  const radiusMm = props.platterDiameterMm / 2
  const cameraPlace = camera && placeOf({ bearingDeg: 0, distanceMm: camera.distanceMm })
  const extent = extentOf(radiusMm, [
    ...(cameraPlace ? [cameraPlace] : []),
    ...lights.map(placeOf),
    ...(backdrop
      ? [
          { x: -backdrop.widthMm / 2, y: -backdrop.distanceMm },
          { x: backdrop.widthMm / 2, y: -backdrop.distanceMm },
        ]
      : []),
  ])
  const margin = isSmall ? { marginX: 14, marginY: 12 } : { marginX: 76, marginY: 28 }
  const { pxPerMm, axis } = fitPlan(
    extent,
    { width: props.width, height: props.height, ...margin },
    props.mmPerPx,
  )
  const at = (place: Point): Point => ({ x: axis.x + place.x * pxPerMm, y: axis.y + place.y * pxPerMm })
  const radius = radiusMm * pxPerMm
  return (
    <svg
      className={css.plan}
      width={props.width}
      height={props.height}
      viewBox={`0 0 ${props.width} ${props.height}`}
      role="img"
      aria-label={planSentence(props)}
    >
      {backdrop ? (
        <line
          className={css.end}
          {...ends(
            at({ x: -backdrop.widthMm / 2, y: -backdrop.distanceMm }),
            at({ x: backdrop.widthMm / 2, y: -backdrop.distanceMm }),
          )}
        />
      ) : null}
      <circle className={css.platter} cx={axis.x} cy={axis.y} r={radius} />
      <path className={css.axis} d={`M${axis.x - 5} ${axis.y}h10M${axis.x} ${axis.y - 5}v10`} />
      {camera && cameraPlace ? (
        <Camera
          axis={axis}
          place={at(cameraPlace)}
          distance={isSmall ? undefined : withUnit(camera.distanceMm, 'mm', 0)}
          halfField={((camera.fieldWidthMm ?? 0) / 2) * pxPerMm}
          beyond={radius}
        />
      ) : null}
      {lights.map((light) => (
        <Light
          key={light.key}
          light={light}
          axis={axis}
          place={at(placeOf(light))}
          radius={radius}
          isSmall={isSmall}
        />
      ))}
      {isSmall ? null : (
        <text className={`${css.text} ${css.quiet}`} x={axis.x} y={axis.y - radius - 7} textAnchor="middle">
          {`⌀ ${withUnit(props.platterDiameterMm, 'mm', 0)}`}
        </text>
      )}
    </svg>
  )
}

function Camera(props: {
  readonly axis: Point
  readonly place: Point
  readonly distance: string | undefined
  readonly halfField: number
  /** How far the field's lines run on past the axis, in px. */
  readonly beyond: number
}) {
  const { axis, place, halfField, beyond } = props
  const run = place.y - axis.y
  const spread = run > 0 ? (halfField * (run + beyond)) / run : 0
  const dimensionX = axis.x + Math.max(halfField, 12) + 26
  return (
    <>
      {halfField > 0 ? (
        <path
          className={css.field}
          d={`M${axis.x - spread} ${axis.y - beyond}L${place.x} ${place.y}L${axis.x + spread} ${axis.y - beyond}`}
        />
      ) : null}
      <line className={css.thin} {...ends(axis, place)} />
      <path className={css.end} d={`M${place.x - 9} ${place.y}h18`} />
      {props.distance ? (
        <>
          <path
            className={css.thin}
            d={`M${axis.x + 8} ${axis.y}H${dimensionX + 5}M${place.x + 14} ${place.y}H${dimensionX + 5}M${dimensionX} ${axis.y}V${place.y}M${dimensionX - 4} ${axis.y + 4}l8 -8M${dimensionX - 4} ${place.y + 4}l8 -8`}
          />
          <text
            className={css.text}
            transform={`translate(${dimensionX + 13} ${(axis.y + place.y) / 2}) rotate(-90)`}
            textAnchor="middle"
          >
            {props.distance}
          </text>
          <text className={css.text} x={place.x} y={place.y + 17} textAnchor="middle">
            camera
          </text>
        </>
      ) : null}
    </>
  )
}

function Light(props: {
  readonly light: PlanLight
  readonly axis: Point
  readonly place: Point
  readonly radius: number
  readonly isSmall: boolean
}) {
  const { light, axis, place, radius } = props
  const length = Math.hypot(place.x - axis.x, place.y - axis.y) || 1
  const along = { x: (place.x - axis.x) / length, y: (place.y - axis.y) / length }
  const from = {
    x: axis.x + along.x * Math.min(radius, length),
    y: axis.y + along.y * Math.min(radius, length),
  }
  // The stroke across the line's end is where the light stands, facing the axis.
  const across = { x: -along.y * 9, y: along.x * 9 }
  const isLeft = along.x < -0.15
  const isRight = along.x > 0.15
  const anchor = isLeft ? 'end' : isRight ? 'start' : 'middle'
  const label = {
    x: place.x + (isLeft ? -16 : isRight ? 16 : 0),
    y: place.y + (isLeft || isRight ? along.y * 8 : along.y * 18),
  }
  return (
    <>
      <line className={css.bearing} {...ends(from, place)} />
      <line
        className={css.end}
        x1={place.x - across.x}
        y1={place.y - across.y}
        x2={place.x + across.x}
        y2={place.y + across.y}
      />
      {props.isSmall ? null : (
        <text className={css.text} textAnchor={anchor} x={label.x} y={label.y}>
          <tspan x={label.x} fontWeight="600">
            {light.name}
          </tspan>
          <tspan className={css.quiet} x={label.x} dy="13">
            {`${numberText(light.bearingDeg, 0)}° ${withUnit(light.distanceMm, 'mm', 0)}`}
          </tspan>
        </text>
      )}
    </>
  )
}

function ends(a: Point, b: Point) {
  return { x1: a.x, y1: a.y, x2: b.x, y2: b.y }
}

/** The plan as a sentence; the text alternative of `RigPlan`. */
export function planSentence(props: RigPlanProps): string {
  const { camera, backdrop } = props
  const lights = props.lights.map(
    (light) =>
      `light ${light.name} at ${numberText(light.bearingDeg, 0)}° and ${withUnit(light.distanceMm, 'mm', 0)}`,
  )
  return [
    props.label,
    `platter ${withUnit(props.platterDiameterMm, 'mm', 0)} across`,
    camera && `camera at ${withUnit(camera.distanceMm, 'mm', 0)}`,
    ...lights,
    backdrop && `backdrop ${withUnit(backdrop.distanceMm, 'mm', 0)} behind the axis`,
  ]
    .filter(Boolean)
    .join(', ')
}
