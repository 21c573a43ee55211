import { loadCautions } from '../../caution.ts'
import type { Finding } from '../finding.ts'
import type { CentreChoice, CentreUnknown } from './centre.ts'
import type { CentreMeasured } from './centreMeasured.ts'
import { type Nudge, ringMark } from './nudge.ts'

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

/** Whether it stands off the axis by more than the limit, within it, or nobody can tell by the error bar. */
export type CentreStanding = 'off' | 'within' | 'open'

/**
 * Off only where the offset less its error bar is over the limit, and the bar is shorter than a third of the offset: a
 * longer one does not tell which way to push. Within where the offset and its bar are.
 */
export function centreStanding(
  { offset, error, unit }: Pick<Told, 'offset' | 'error' | 'unit'>,
  centreUm: number,
): CentreStanding {
  const limit = centreUm / 1000
  if (unit !== 'mm') return 'open'
  if (offset - error > limit && error < offset / 3) return 'off'
  return offset + error <= limit ? 'within' : 'open'
}

/** How far off, how sure, and what to do, in a sentence or two. */
export function centreSentence(told: Told, centreUm: number): string {
  const { offset, error, unit } = told
  const limit = length(centreUm / 1000, unit)
  const of = told.choice === 'body' ? 'The body’s middle' : 'The middle of what it sweeps'
  const figure = `${of} is ${length(offset, unit)} ± ${length(error, unit)} off the axis`
  if (unit === 'px') return `${figure}; with the rig’s lens and distance it is told in mm.`
  switch (centreStanding(told, centreUm)) {
    case 'off':
      return `${figure}. ${nudgeWords(told)}`
    case 'within':
      return `${figure}, within the limit of ${limit}.`
    case 'open':
      return error < offset / 2 || error < centreUm / 1000
        ? `${figure}: whether that is over the limit of ${limit} cannot be told.`
        : `${figure}, too unsure to go by. See that light and backdrop part the product clearly from what is behind it.`
  }
}

const offCentre = 'off centre'

/** True of the key of the finding that says to push. */
export function isOffCentre(key: string): boolean {
  return key === offCentre
}

/** The finding where it stands off the axis; none where the error bar leaves it open. */
export function centreFinding(told: Told, centreUm: number): readonly Finding[] {
  if (centreStanding(told, centreUm) !== 'off') return []
  const sentence = centreSentence(told, centreUm)
  return [{ key: offCentre, size: told.offset, frames: [], sentence, fault: 'off centre' }]
}

/** How to push it, with the usual caution: it stands on a platter that can tip, and may be heavy or fragile. */
function nudgeWords({ nudge, unit }: Pick<Told, 'nudge' | 'unit'>): string {
  const { distance, towardsMark, farthestRightMark } = nudge
  return `Push it ${length(distance, unit)} towards mark ${ringMark(towardsMark)}; with mark ${ringMark(farthestRightMark)} at the pointer that is to the left in the picture.`
}

/** Said after a nudge whose mark rests on a place of the pointer that nobody has said. */
export const pointerNotSaid =
  'This is reckoned with the pointer on the camera’s side: where it stands elsewhere, say so under ‘Centre’ before a take.'

/** To be said with every nudge. */
export const pushCaution =
  'Push at its foot, with both hands where it is heavy or fragile, and hold the platter still.'

/** To be shown beside a nudge, where no page shows the cautions of the load of its own. */
export const nudgeCautions: readonly string[] = [pushCaution, ...loadCautions.map(({ sentence }) => sentence)]

function length(value: number, unit: 'mm' | 'px'): string {
  return `${value.toFixed(1)}\u00a0${unit}`
}
