import { dayOf, minutesOfDay } from '../main/trade/calendar.ts'
import type { ItemCost } from '../main/trade/plan/itemCosts.ts'
import type { Move, MoveReason } from '../main/trade/plan/moves.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { PlanQuestion } from './planProblem.ts'
import { rigNameOf } from './standingRig.ts'

/** What one spin costs in a plan, so that it can be explained. */
export interface ToldItem extends Instant {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly latenessMinutes: number
  readonly weight: number
  readonly weightedLatenessMinutes: number
  /** What stood there before (null for an empty bench), what the spin needs, and the minutes between the two. */
  readonly rigBefore: string | null
  readonly rig: string | null
  readonly setChangeMinutes: number
}

/** By the studio's clock. */
interface Instant {
  readonly day: string
  readonly minute: number
}

export interface ToldPlace extends Instant {
  /** Null for a bench that is not among those planned. */
  readonly bench: string | null
}

/** A spin that a plan takes from its place of today, and the reason that can be shown for it. */
export interface ToldMove {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly from: ToldPlace
  /** Null where the plan has no place for it. */
  readonly to: ToldPlace | null
  readonly why: MoveReason['why']
  /** The spin it makes room for, or the first spin it waits for. */
  readonly spin: string | null
  readonly isDueEarlier: boolean
  /** Until when goods or equipment are missing. */
  readonly until: Instant | null
  /** What is saved: minutes of set change, minutes late by weight in all, minutes it begins sooner. */
  readonly minutes: number | null
}

/** What each spin of a plan costs and which spins it moves, in the names and by the clock of the studio. */
export function planTold(
  db: Db,
  { spins, benches, rigs, baseMs }: PlanQuestion,
  found: { readonly items: readonly ItemCost[]; readonly moves: readonly Move[] },
): { readonly items: readonly ToldItem[]; readonly moves: readonly ToldMove[] } {
  const zone = studioZone(db)
  const byId = new Map(spins.map((spin) => [spin.shootId as number, spin]))
  const clockOf = (min: number): Instant => {
    const at = new Date(baseMs + min * 60_000)
    return { day: dayOf(at, zone), minute: minutesOfDay(at, zone) }
  }
  const rigNames = rigs.map(({ rigRevisionId }) => rigNameOf(db, rigRevisionId))
  const rigName = (rig: number | null) => rigNames[rig ?? -1] ?? null
  const placeOf = ({ bench, startMin }: { readonly bench: number | null; readonly startMin: number }) => ({
    bench: benches[bench ?? -1]?.name ?? null,
    ...clockOf(startMin),
  })
  const headOf = (id: number) => {
    const spin = byId.get(id)
    if (!spin) throw new Error(`The plan speaks of spin ${id}, which was not in its question.`)
    const { shootId, name, jobId, jobNumber } = spin
    return { shootId, name, jobId, jobNumber }
  }
  return {
    items: found.items.map((cost) => ({
      ...headOf(cost.id),
      ...clockOf(cost.startMin),
      latenessMinutes: cost.latenessMin,
      weight: cost.weight,
      weightedLatenessMinutes: cost.weightedLatenessMin,
      rigBefore: rigName(cost.rigBefore),
      rig: rigName(cost.rig),
      setChangeMinutes: cost.changeoverMin,
    })),
    moves: found.moves.map(({ id, from, to, reason }) => ({
      ...headOf(id),
      from: placeOf(from),
      to: to && placeOf(to),
      why: reason.why,
      spin: spinOf(reason, (other) => byId.get(other)?.name ?? null),
      isDueEarlier: reason.why === 'made room' && reason.isDueEarlier,
      until: 'untilMin' in reason ? clockOf(reason.untilMin) : null,
      minutes: minutesSaved(reason),
    })),
  }
}

function spinOf(reason: MoveReason, nameOf: (id: number) => string | null): string | null {
  if (reason.why === 'made room') return nameOf(reason.forId)
  return reason.why === 'first spin' ? nameOf(reason.firstId) : null
}

function minutesSaved(reason: MoveReason): number | null {
  if ('savesMin' in reason) return reason.savesMin
  if ('savesLateMin' in reason) return reason.savesLateMin
  return 'byMin' in reason ? reason.byMin : null
}
