import { changeoverMs, isDialled } from '../main/trade/changeover.ts'
import type { PlanData } from '../main/trade/plan/problem.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import type { BookedChange } from './placesNow.ts'
import { findRevision } from './rigRevisions.ts'

/** What a rig number of a plan stands for. */
export interface PlanRig {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly settingsId: Id<'settings'> | null
}

/** The rigs of a question by numbers: one for each revision with its settings, and one for each that is set up as booked. */
export interface PlanRigs {
  readonly known: readonly PlanRig[]
  readonly indexOf: (rigRevisionId: Id<'rig_revision'>, settingsId: Id<'settings'> | null) => number
  /** A number of its own for the rig of a block whose set change is kept as it was booked, behind the rig it was booked for. */
  readonly indexAsBooked: (
    rig: PlanRig,
    bookingId: Id<'booking'>,
    after: number | null,
    minutes: number,
  ) => number
  /** Minutes of set change between all rigs, and from an empty bench. */
  readonly changeTable: () => PlanData['changeMin']
}

interface Known extends PlanRig {
  /** Itself, or the number of the same rig without what is booked. */
  readonly plain: number
  readonly booked: { readonly after: number | null; readonly minutes: number } | null
}

/** A spin without a rig asks for no set change: what will be set up is not known yet. */
export const noRig = -1

export function planRigs(db: Db): PlanRigs {
  const known: Known[] = []
  const numbers = new Map<string, number>()
  const indexOf: PlanRigs['indexOf'] = (rigRevisionId, settingsId) => {
    const key = `${rigRevisionId} ${settingsId ?? ''}`
    const number =
      numbers.get(key) ?? known.push({ rigRevisionId, settingsId, plain: known.length, booked: null }) - 1
    numbers.set(key, number)
    return number
  }
  const changeOf = changeMinutes(db, known)
  return {
    known,
    indexOf,
    indexAsBooked: ({ rigRevisionId, settingsId }, bookingId, after, minutes) => {
      const plain = indexOf(rigRevisionId, settingsId)
      if (changeOf(after, plain) === minutes) return plain
      const key = `booked ${bookingId}`
      const number =
        numbers.get(key) ?? known.push({ rigRevisionId, settingsId, plain, booked: { after, minutes } }) - 1
      numbers.set(key, number)
      return number
    },
    changeTable: () =>
      [null, ...known.keys()].map((from) => [...known.keys()].map((to) => changeOf(from, to))),
  }
}

function changeMinutes(db: Db, known: readonly Known[]): (from: number | null, to: number) => number {
  const pace = thePace(db)
  const minutes = new Map<string, number>()
  const between = (from: number | null, to: number): number => {
    const after = known[to]
    const next = after && findRevision(db, after.rigRevisionId)
    if (!next || from === to) return 0
    const before = from === null ? undefined : known[from]
    const standing = before && findRevision(db, before.rigRevisionId)
    const newSettings = isDialled(before?.settingsId, after.settingsId)
    return Math.ceil(changeoverMs(standing ?? null, next, newSettings, pace) / 60_000)
  }
  return (from, to) => {
    const plainFrom = from === null ? null : (known[from]?.plain ?? null)
    const booked = known[to]?.booked
    if (booked && booked.after === plainFrom) return from === to ? 0 : booked.minutes
    const plainTo = known[to]?.plain ?? to
    const key = `${plainFrom} ${plainTo}`
    const found = minutes.get(key) ?? between(plainFrom, plainTo)
    minutes.set(key, found)
    return found
  }
}

/** The number of a spin's rig: as booked for the first spins of a block whose place is kept, else that of the rig. */
export function rigIndexOf(
  rigs: PlanRigs,
  { rigRevisionId, settingsId }: { readonly [K in keyof PlanRig]: PlanRig[K] | null },
  booked: BookedChange | undefined,
): number {
  if (rigRevisionId === null) return noRig
  if (!booked || booked.settingsId !== settingsId) return rigs.indexOf(rigRevisionId, settingsId)
  const { bookingId, after, minutes } = booked
  const stood = after && rigs.indexOf(after.rigRevisionId, after.settingsId)
  return rigs.indexAsBooked({ rigRevisionId, settingsId }, bookingId, stood ?? null, minutes)
}
