import type { LightPair } from './lightPairs.ts'

type Value = string | number | null

/** What two revisions are compared by: plain values by name, and the lights in their order. */
export interface Comparable {
  readonly values: Readonly<Record<string, Value>>
  readonly lights: readonly (Readonly<Record<string, Value>> & { readonly kind: string })[]
}

/** One figure of two rigs beside each other. */
export interface ComparedFigure {
  readonly field: string
  /** Which light, by its place in either rig from 0; null for what belongs to no light. */
  readonly light: { readonly before: number | null; readonly after: number | null } | null
  readonly before: Value
  readonly after: Value
  readonly differs: boolean
}

/**
 * Two rigs figure by figure, values first, then light by light as they belong together. A light that only one of them has is
 * one figure, named by its kind.
 */
export function compareRigs(
  before: Comparable,
  after: Comparable,
  pairs: readonly LightPair[],
): readonly ComparedFigure[] {
  return [
    ...compareValues(before.values, after.values, null),
    ...pairs.flatMap((pair) => {
      const light = { before: pair.before, after: pair.after }
      const [was, is] = [lightAt(before, pair.before), lightAt(after, pair.after)]
      if (was && is) return compareValues(was, is, light)
      return [{ field: 'light', light, before: was?.kind ?? null, after: is?.kind ?? null, differs: true }]
    }),
  ]
}

function lightAt({ lights }: Comparable, place: number | null): Comparable['lights'][number] | undefined {
  return place === null ? undefined : lights[place]
}

function compareValues(
  before: Readonly<Record<string, Value>>,
  after: Readonly<Record<string, Value>>,
  light: ComparedFigure['light'],
): readonly ComparedFigure[] {
  return Object.keys(before).map((field) => {
    const [was = null, is = null] = [before[field], after[field]]
    return { field, light, before: was, after: is, differs: was !== is }
  })
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
