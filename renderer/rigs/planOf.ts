import { fieldWidthMm, platterDiameterMm } from '../../main/trade/rigs.ts'
import { extentOf, placeOf } from '../parts/rigGeometry.ts'
import type { PlanLight, RigPlanProps } from '../parts/rigPlan.tsx'

/** What of a revision a plan is drawn from; parts still to be typed are null and are left out of the drawing. */
export interface Drawable {
  readonly rimMm: number | null
  readonly sensorWidthMm: number | null
  readonly focalMm: number | null
  readonly cameraDistanceMm: number | null
  readonly lights: readonly {
    readonly bearingDeg: number | null
    readonly distanceMm: number | null
  }[]
}

/** The drawing of a revision, its lights lettered in their order. */
export function planOf(
  revision: Drawable,
): Pick<RigPlanProps, 'platterDiameterMm' | 'lights'> & Pick<RigPlanProps, 'camera'> {
  const { focalMm, cameraDistanceMm } = revision
  const width =
    focalMm !== null && cameraDistanceMm !== null
      ? fieldWidthMm(revision.sensorWidthMm, focalMm, cameraDistanceMm)
      : null
  return {
    platterDiameterMm: platterDiameterMm(revision.rimMm ?? 0),
    lights: revision.lights.flatMap(({ bearingDeg, distanceMm }, index): PlanLight[] =>
      bearingDeg === null || distanceMm === null
        ? []
        : [{ key: index, name: lightLetter(index), bearingDeg, distanceMm }],
    ),
    ...(cameraDistanceMm === null
      ? {}
      : {
          camera: {
            distanceMm: cameraDistanceMm,
            ...(width === null ? {} : { fieldWidthMm: width }),
          },
        }),
  }
}

/** 'A' for the first light, 'B' for the second. */
export function lightLetter(index: number): string {
  return String.fromCharCode(65 + index)
}

/** The scale at which every plan of a wall fits its frame: the one that the widest of them needs. */
export function wallScale(
  revisions: readonly Drawable[],
  frame: { readonly width: number; readonly height: number },
): number {
  const needed = revisions.map((revision) => {
    const plan = planOf(revision)
    const { left, right, top, bottom } = extentOf(plan.platterDiameterMm / 2, [
      ...plan.lights.map(placeOf),
      ...(plan.camera ? [placeOf({ bearingDeg: 0, distanceMm: plan.camera.distanceMm })] : []),
    ])
    // The same margins as the small plan leaves.
    return Math.max((right - left) / (frame.width - 28), (bottom - top) / (frame.height - 24))
  })
  return Math.max(...needed)
}
