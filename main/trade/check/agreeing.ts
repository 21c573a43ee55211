import { Refusal } from '../refusal.ts'
import type { FaultKind } from '../takes.ts'
import type { Finding } from './finding.ts'

/** A fault that a finding becomes once a person agrees. */
export interface AgreedFault {
  readonly kind: FaultKind
  readonly frame: number | null
  readonly note: string
}

/** A finding in more places than this is one fault where its mark stands: a rig's faults are counted. */
const mostFaults = 5

/**
 * The faults that a finding becomes: one at the beginning of each run of frames that it is about, with its sentence.
 * Refuses what is to be known and no fault.
 */
export function faultsOfFinding({ frames, sentence, fault }: Finding, note: string | null): AgreedFault[] {
  if (fault === null) {
    throw new Refusal(
      'no-fault',
      'This is to be known and no fault of the take. Wave it off once it is read.',
    )
  }
  const said = note === null ? sentence : `${sentence} ${note}`
  const runs = [...new Set(frames)]
    .sort((a, b) => a - b)
    .filter((frame, at, all) => frame - 1 !== all[at - 1])
  const places = runs.length === 0 || runs.length > mostFaults ? [frames[0] ?? null] : runs
  return places.map((frame) => ({ kind: fault, frame, note: said }))
}
