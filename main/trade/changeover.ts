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

export interface StandingLight {
  readonly kind: string
  readonly modifier: string | null
  readonly bearingMdeg: number
  readonly elevationMdeg: number
  readonly distanceUm: number
  readonly heightUm: number
}

type ChangeTimes = Pick<
  Pace,
  | 'changePlatterMs'
  | 'changeLightMs'
  | 'changeCameraMs'
  | 'changeLensMs'
  | 'changeBackdropMs'
  | 'changeSettingsMs'
>

/**
 * Time to change from one rig to the next, in ms: the sum of the parts that differ (platter, backdrop,
 * camera, lens, and each light moved, added or taken away), and the dialling of new settings. The same both
 * ways, and 0 between two rigs that stand alike with the same settings. From an empty bench (null) every part
 * is set up.
 */
export function changeoverMs(
  from: StandingRig | null,
  to: StandingRig,
  newSettings: boolean,
  times: ChangeTimes,
): number {
  const settings = newSettings ? times.changeSettingsMs : 0
  const once = (differs: boolean, ms: number) => (differs ? ms : 0)
  return (
    settings +
    once(from?.platterId !== to.platterId, times.changePlatterMs) +
    once(from?.backdrop !== to.backdrop, times.changeBackdropMs) +
    once(cameraPlace(from) !== cameraPlace(to), times.changeCameraMs) +
    once(from?.lens !== to.lens || from?.focalUm !== to.focalUm, times.changeLensMs) +
    lightsMoved(from?.lights ?? [], to.lights) * times.changeLightMs
  )
}

function cameraPlace(standing: StandingRig | null): string | undefined {
  if (standing === null) return undefined
  const { camera, cameraDistanceUm, cameraHeightUm, cameraTiltMdeg } = standing
  return JSON.stringify([camera, cameraDistanceUm, cameraHeightUm, cameraTiltMdeg])
}

/** Lights to touch: a light of one rig that stands nowhere in the other is moved, brought or taken away. */
function lightsMoved(from: readonly StandingLight[], to: readonly StandingLight[]): number {
  const left = from.map(lightPlace)
  let stays = 0
  for (const place of to.map(lightPlace)) {
    const index = left.indexOf(place)
    if (index < 0) continue
    left.splice(index, 1)
    stays += 1
  }
  return Math.max(from.length, to.length) - stays
}

function lightPlace({
  kind,
  modifier,
  bearingMdeg,
  elevationMdeg,
  distanceUm,
  heightUm,
}: StandingLight): string {
  return JSON.stringify([kind, modifier, bearingMdeg, elevationMdeg, distanceUm, heightUm])
}
