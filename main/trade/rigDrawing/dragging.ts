import { angleToAxisDeg } from '../looking.ts'
import { type Bearing, bearingOf, type Point, placeOf } from './places.ts'

/** What a hand can set on a drawing: whole degrees and five millimetres. Finer figures are typed. */
export const dragStepDeg = 1
export const dragStepMm = 5

/** The limits of what is kept, in mm: distances from the axis, heights over the platter. */
export const placeLimitsMm = { nearest: 10, farthest: 50_000, lowest: -5_000, highest: 10_000 } as const

/**
 * A light dragged in plan: where it stood moved by the same way, to the nearest of the steps a hand can set and the
 * figures it had. Dragged to where it lies it keeps them, however fine they were typed.
 * @param moved  in mm, x to the right, y towards the camera
 */
export function draggedLight(from: Bearing, moved: Point): Bearing {
  const start = placeOf(from)
  const to = bearingOf({ x: start.x + moved.x, y: start.y + moved.y })
  // Over the camera, 0° lies between the two and is the nearer: the way round needs no care.
  const bearingDeg = stepped(from.bearingDeg, to.bearingDeg, dragStepDeg)
  return {
    bearingDeg: bearingDeg === 360 ? 0 : bearingDeg,
    distanceMm: draggedDistanceMm(from.distanceMm, to.distanceMm),
  }
}

/** A distance from the axis dragged to another, within what is kept. */
export function draggedDistanceMm(fromMm: number, toMm: number): number {
  return within(stepped(fromMm, toMm, dragStepMm), placeLimitsMm.nearest, placeLimitsMm.farthest)
}

/** A height dragged to another, within what is kept. */
export function draggedHeightMm(fromMm: number, toMm: number): number {
  return within(stepped(fromMm, toMm, dragStepMm), placeLimitsMm.lowest, placeLimitsMm.highest)
}

/** The tilt that looks from the camera's place at a height on the axis, to half a degree; as it was where it looks there already. */
export function draggedTiltDeg(
  from: { readonly distanceMm: number; readonly heightMm: number; readonly tiltDeg: number },
  axisHeightMm: number,
): number {
  return within(
    stepped(from.tiltDeg, angleToAxisDeg(from.distanceMm, from.heightMm, axisHeightMm), 0.5),
    -89.5,
    89.5,
  )
}

/** A bearing turned by some degrees, from 0 to under 360. */
export function turnedBearingDeg(fromDeg: number, byDeg: number): number {
  return (Math.round((((fromDeg + byDeg) % 360) + 360) * 1000) % 360_000) / 1000
}

/**
 * The nearest of the steps a hand can set and the figure it had. What is worked out from a place misses the figure by a
 * last bit, and halfway between two steps that bit must not tell them apart.
 */
function stepped(from: number, to: number, step: number): number {
  // -0 is 0 to everyone but a test.
  const nearest = Math.round(to / step) * step + 0
  return Math.abs(to - from) <= Math.abs(to - nearest) ? from : nearest
}

function within(value: number, least: number, most: number): number {
  return Math.min(Math.max(value, least), most)
}
