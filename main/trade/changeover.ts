import { pairLights, type StandingLight } from './lightPairs.ts'
import type { Pace } from './pace.ts'

/** What stands, as far as a set change has to move it. */
export interface StandingRig {
  readonly platterId: number
  readonly backdrop: string
  readonly camera: string
  readonly cameraDistanceUm: number
  readonly cameraHeightUm: number
  readonly cameraTiltMdeg: number
  readonly lens: string
  readonly focalUm: number
  readonly lights: readonly StandingLight[]
}

export type ChangeTimes = Pick<
  Pace,
  | 'changePlatterMs'
  | 'changeLightMs'
  | 'changeCameraMs'
  | 'changeLensMs'
  | 'changeBackdropMs'
  | 'changeSettingsMs'
>

/** One thing to do in a set change, and the time it takes. */
export interface ChangeItem {
  readonly part: 'platter' | 'backdrop' | 'camera' | 'lens' | 'light' | 'settings'
  /** Which light, by its place in either rig from 0; null for the other parts, and on the side that lacks it. */
  readonly light: { readonly before: number | null; readonly after: number | null } | null
  readonly ms: number
}

/**
 * What a change from one rig to the next is made of: the parts that differ (platter, backdrop, camera, lens, and each light moved,
 * added or taken away), and the dialling of new settings, each with the studio's own time for it. Nothing between two
 * rigs that stand alike with the same settings. From an empty bench (null) every part is set up.
 */
export function changeoverItems(
  from: StandingRig | null,
  to: StandingRig,
  newSettings: boolean,
  times: ChangeTimes,
): readonly ChangeItem[] {
  const once = (differs: boolean, part: ChangeItem['part'], ms: number): readonly ChangeItem[] =>
    differs ? [{ part, light: null, ms }] : []
  return [
    ...once(from?.platterId !== to.platterId, 'platter', times.changePlatterMs),
    ...once(from?.backdrop !== to.backdrop, 'backdrop', times.changeBackdropMs),
    ...once(cameraPlace(from) !== cameraPlace(to), 'camera', times.changeCameraMs),
    ...once(from?.lens !== to.lens || from?.focalUm !== to.focalUm, 'lens', times.changeLensMs),
    ...pairLights(from?.lights ?? [], to.lights)
      .filter(({ stays }) => !stays)
      .map(({ before, after }) => ({
        part: 'light' as const,
        light: { before, after },
        ms: times.changeLightMs,
      })),
    ...once(newSettings, 'settings', times.changeSettingsMs),
  ]
}

/**
 * True where settings are dialled between two spins: the second has others than the first. On a bench where nothing is dialled
 * yet (undefined), a spin whose settings are not known (null) dials none.
 */
export function isDialled(before: number | null | undefined, after: number | null): boolean {
  return (before ?? null) !== after
}

/** Time to change from one rig to the next, in ms: the sum of its items; the same both ways. */
export function changeoverMs(
  from: StandingRig | null,
  to: StandingRig,
  newSettings: boolean,
  times: ChangeTimes,
): number {
  return changeoverItems(from, to, newSettings, times).reduce((sum, { ms }) => sum + ms, 0)
}

function cameraPlace(standing: StandingRig | null): string | undefined {
  if (standing === null) return undefined
  const { camera, cameraDistanceUm, cameraHeightUm, cameraTiltMdeg } = standing
  return JSON.stringify([camera, cameraDistanceUm, cameraHeightUm, cameraTiltMdeg])
}
