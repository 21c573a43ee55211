/** One thing that differs between two revisions of a rig; `light` says which light, where it is one. */
export interface RigDifference {
  readonly field: string
  readonly light: number | null
  readonly before: string | number | null
  readonly after: string | number | null
}

type Value = string | number | null

/** What two revisions are compared by: plain values by name, and the lights in their order. */
export interface Comparable {
  readonly values: Readonly<Record<string, Value>>
  readonly lights: readonly (Readonly<Record<string, Value>> & { readonly kind: string })[]
}

/**
 * What differs from one revision to another, values first, then light by light in their order. A light that
 * only one of them has counts as one difference, named by its kind.
 */
export function rigDifferences(before: Comparable, after: Comparable): readonly RigDifference[] {
  const lights = Array.from({ length: Math.max(before.lights.length, after.lights.length) }, (_, index) => {
    const [old, now] = [before.lights[index], after.lights[index]]
    if (old && now) return valueDifferences(old, now, index + 1)
    return [{ field: 'light', light: index + 1, before: old?.kind ?? null, after: now?.kind ?? null }]
  })
  return [...valueDifferences(before.values, after.values, null), ...lights.flat()]
}

function valueDifferences(
  before: Readonly<Record<string, Value>>,
  after: Readonly<Record<string, Value>>,
  light: number | null,
): readonly RigDifference[] {
  return Object.keys(before)
    .filter((field) => before[field] !== after[field])
    .map((field) => ({ field, light, before: before[field] ?? null, after: after[field] ?? null }))
}

/**
 * The platter's diameter for a drawing, in mm: the rim as its tape reads it over π. The tape's own thickness
 * makes it read a little long, which no drawing shows.
 */
export function platterDiameterMm(rimMm: number): number {
  return rimMm / Math.PI
}

/**
 * Width of the field at the axis in mm, by a thin lens focused there: sensor width ÷ magnification, with the
 * magnification f ÷ (distance − f). Null where the sensor is not known or the camera stands inside the focal length.
 */
export function fieldWidthMm(
  sensorWidthMm: number | null,
  focalMm: number,
  cameraDistanceMm: number,
): number | null {
  if (sensorWidthMm === null || cameraDistanceMm <= focalMm) return null
  return (sensorWidthMm * (cameraDistanceMm - focalMm)) / focalMm
}
