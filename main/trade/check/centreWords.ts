import { loadCautions } from '../caution.ts'
import type { CentreChoice, CentreMeasured, CentreUnknown } from './centre.ts'
import type { Finding } from './finding.ts'
import type { Nudge } from './nudge.ts'

interface Told {
  readonly choice: CentreChoice
  readonly measuredOn: CentreMeasured
  readonly unit: 'mm' | 'px'
  readonly offset: number
  readonly error: number
  readonly quality: number
  readonly nudge: Nudge
}

export const measuredWords: Readonly<Record<CentreMeasured, string>> = {
  'round body': 'both edges of the round body, without what stands out from it',
  body: 'both edges of the band that turns most evenly',
  'swept outline': 'the outermost edges of the whole outline',
}

export function unknownCentre(sentence: string): CentreUnknown {
  return { state: 'unknown', sentence }
}

/** How far off, how sure, and what to do, in a sentence or two. */
export function centreSentence(told: Told, centreUm: number): string {
  const { offset, error, unit } = told
  const figure = `${length(offset, unit)} ± ${length(error, unit)}`
  const of = told.choice === 'body' ? 'The body’s middle' : 'The middle of what it sweeps'
  if (unit === 'px')
    return `${of} is ${figure} off the axis; with the rig’s lens and distance it is told in mm.`
  if (isOff(told, centreUm)) return `${of} is ${figure} off the axis. ${nudgeWords(told)}`
  return `${of} is ${figure} off the axis, within the limit of ${length(centreUm / 1000, unit)}.`
}

/** The finding where it is off by more than the limit, beyond the error bar; none where the bar leaves it open. */
export function centreFinding(told: Told, centreUm: number): readonly Finding[] {
  if (!isOff(told, centreUm)) return []
  return [{ key: 'off centre', frames: [], sentence: centreSentence(told, centreUm), fault: 'off centre' }]
}

function isOff({ offset, error, unit }: Told, centreUm: number): boolean {
  return unit === 'mm' && offset - error > centreUm / 1000
}

/** How to push it, with the usual caution: it stands on a platter that can tip, and may be heavy or fragile. */
export function nudgeWords({ nudge, unit }: Pick<Told, 'nudge' | 'unit'>): string {
  const { distance, towardsMark, farthestRightMark } = nudge
  return `Push it ${length(distance, unit)} towards mark ${towardsMark}; with mark ${farthestRightMark} at the pointer that is to the left in the picture.`
}

/** To be shown beside a nudge. */
export const nudgeCautions: readonly string[] = [
  'Push at its foot, with both hands where it is heavy or fragile, and hold the platter still.',
  ...loadCautions.map(({ sentence }) => sentence),
]

function length(value: number, unit: 'mm' | 'px'): string {
  return `${value.toFixed(1)}\u00a0${unit}`
}
