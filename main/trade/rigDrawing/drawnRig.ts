import { fieldWidthMm, platterDiameterMm } from '../rigs.ts'
import type { DrawnLight, DrawnRig } from './drawing.ts'

/** What of a revision a rig is drawn from; parts still to be typed are null and are left out of the drawing. */
export interface Drawable {
  readonly rimMm: number | null
  readonly sensorWidthMm: number | null
  readonly sensorHeightMm: number | null
  readonly focalMm: number | null
  readonly cameraDistanceMm: number | null
  readonly cameraHeightMm: number | null
  readonly cameraTiltDeg: number | null
  readonly productSweptMm: number | null
  readonly productHeightMm: number | null
  readonly lights: readonly {
    readonly bearingDeg: number | null
    readonly distanceMm: number | null
    readonly heightMm: number | null
    readonly elevationDeg: number | null
  }[]
}

/** A row of settings with its own camera place; what it leaves null is the rig's. */
export interface DrawableRow {
  readonly viewAngleDeg: number
  readonly cameraDistanceMm: number | null
  readonly cameraHeightMm: number | null
}

/** A revision as its drawings need it, its lights lettered in their order, with the further rows of settings. */
export function drawnRig(revision: Drawable, rows: readonly DrawableRow[] = []): DrawnRig {
  const { cameraDistanceMm: distanceMm, productSweptMm, productHeightMm } = revision
  const heightMm = revision.cameraHeightMm ?? 0
  return {
    platterDiameterMm: platterDiameterMm(revision.rimMm ?? 0),
    camera:
      distanceMm === null
        ? null
        : {
            distanceMm,
            heightMm,
            tiltDeg: revision.cameraTiltDeg ?? 0,
            fieldWidthMm: fieldMm(revision.sensorWidthMm, revision.focalMm, distanceMm),
            fieldHeightMm: fieldMm(revision.sensorHeightMm, revision.focalMm, distanceMm),
          },
    rows:
      distanceMm === null
        ? []
        : rows
            .map((row, index) => ({
              row: index + 1,
              viewAngleDeg: row.viewAngleDeg,
              distanceMm: row.cameraDistanceMm ?? distanceMm,
              heightMm: row.cameraHeightMm ?? heightMm,
            }))
            .filter((row) => row.distanceMm !== distanceMm || row.heightMm !== heightMm),
    lights: revision.lights.flatMap((light, index): DrawnLight[] =>
      light.bearingDeg === null || light.distanceMm === null
        ? []
        : [
            {
              index,
              letter: lightLetter(index),
              bearingDeg: light.bearingDeg,
              distanceMm: light.distanceMm,
              heightMm: light.heightMm ?? 0,
              elevationDeg: light.elevationDeg ?? 0,
            },
          ],
    ),
    product:
      productSweptMm === null || productHeightMm === null
        ? null
        : { sweptMm: productSweptMm, heightMm: productHeightMm },
  }
}

function fieldMm(sensorMm: number | null, focalMm: number | null, distanceMm: number): number | null {
  return focalMm === null ? null : fieldWidthMm(sensorMm, focalMm, distanceMm)
}

/** 'A' for the first light, 'B' for the second; a rig has 24 at most. */
export function lightLetter(index: number): string {
  return String.fromCharCode(65 + index)
}
