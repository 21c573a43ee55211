import type { ChangeItem } from './changeover.ts'

/**
 * In which parts another rig differs from the one that was planned, as one would say it: 'platter, lens, 2 lights'.
 * Empty where all of it stands alike.
 */
export function partsThatDiffer(items: readonly ChangeItem[]): string {
  const lights = items.filter(({ part }) => part === 'light').length
  const others = items.flatMap(({ part }) => (part === 'light' || part === 'settings' ? [] : [part]))
  return [...others, ...(lights === 0 ? [] : [lights === 1 ? '1\u00a0light' : `${lights}\u00a0lights`])].join(
    ', ',
  )
}

/** A client's yes to what is planned, on the rig it is planned on. */
export interface YesOnRig {
  /** Of the spins asked about, those whose family, product or job has it. */
  readonly spins: number
  /** One such family's name; null where none of them is in a family. */
  readonly family: string | null
}

/** What to think of before spins run on another rig than the planned one: P, no published source. */
export function otherRigCaution(yes: YesOnRig, rig: string): string {
  if (yes.spins === 0) {
    return 'Another rig may look different. Turn one spin and compare it before the rest.'
  }
  const whom = yes.family === null ? 'these products' : `the family ${yes.family}`
  return `The client said yes to ${whom} on ${rig}, and another rig may look different. Let them wait, unless the client agrees.`
}
