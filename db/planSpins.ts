import { addDays, instantAt } from '../main/trade/calendar.ts'
import type { PlanItem, Span } from '../main/trade/plan/problem.ts'
import { type RowPace, rowPartsMin } from '../main/trade/plan/rowParts.ts'
import type { Bench } from './benches.ts'
import type { Id } from './ids.ts'
import { learnedPace } from './learnedPace.ts'
import type { Db } from './open.ts'
import { bookedChanges, type PlaceNow, wholeMin } from './placesNow.ts'
import { firstSpinsEnd, type RigOutage, type SpinToPlan } from './planItems.ts'
import type { PlanRequest } from './planProblem.ts'
import { type PlanRigs, rigIndexOf } from './planRigs.ts'
import { planWeights } from './planWeights.ts'

/** What the spins of a plan are measured against. */
export interface SpinsGround {
  readonly request: PlanRequest
  readonly benches: readonly Bench[]
  readonly today: string
  readonly zone: string
  /** Minutes are counted from here, in ms since 1970. */
  readonly baseMs: number
  readonly now: string
  readonly rigs: PlanRigs
  readonly outages: readonly RigOutage[]
  readonly places: ReadonlyMap<Id<'shoot'>, PlaceNow>
}

/**
 * The spins as the solver takes them. Where places are kept, a block keeps the length and the set change that it was booked
 * with, as long as its spins fit into it and the same rig stands before it: a person may know better than the
 * studio's times.
 */
export function itemsOf(
  db: Db,
  spins: readonly SpinToPlan[],
  ground: SpinsGround,
  scarce: ReadonlyMap<Id<'rig_revision'>, readonly Id<'equipment'>[]>,
): readonly PlanItem[] {
  const { request, benches, baseMs, now, places, rigs } = ground
  const weights = planWeights(db)
  const { pace } = learnedPace(db)
  const jobIds = [...new Set(spins.map(({ jobId }) => jobId))]
  const firstsEnd = firstSpinsEnd(db, jobIds, request.replanned, now)
  const changes = request.keepsPlaces ? bookedChanges(db, request.replanned, now) : undefined
  return spins.map((spin): PlanItem => {
    const place = places.get(spin.shootId)
    const kept = request.keepsPlaces ? place : undefined
    const parts = partsOf(spin, pace, kept)
    const firstEnd = spin.isFirst === 1 ? undefined : firstsEnd.get(spin.jobId)
    return {
      id: spin.shootId,
      partsMin: benches.map((bench) => (canHold(bench, spin) ? parts : null)),
      earliestMin: Math.max(
        earliestOf(spin, ground),
        firstEnd === undefined ? 0 : Math.ceil((Date.parse(firstEnd) - baseMs) / 60_000),
      ),
      dueMin: spin.dueDay === null ? null : minuteOn(ground, spin.dueDay, 1440),
      weight: weights[spin.priority],
      rig: rigIndexOf(rigs, spin, kept && changes?.get(kept.bookingId)),
      ...(spin.firstShootId === null ? {} : { after: spin.firstShootId }),
      away: awayOf(spin, ground),
      needs: spin.rigRevisionId === null ? [] : (scarce.get(spin.rigRevisionId) ?? []),
      ...(place ? { now: place.now } : {}),
    }
  })
}

function minuteOn({ zone, baseMs }: SpinsGround, day: string, minute: number): number {
  return Math.round((instantAt(day, minute, zone).getTime() - baseMs) / 60_000)
}

/** On the day after its last sample is expected, or today where it is in; not while its job is on hold. */
function earliestOf({ lastExpectedDay, samplesOut, holdUntil }: SpinToPlan, ground: SpinsGround): number {
  const days = [ground.today, ...(holdUntil === null ? [] : [holdUntil])]
  // Goods come in the course of a day: only the next one is sure.
  if (samplesOut > 0 && lastExpectedDay !== null) days.push(addDays(lastExpectedDay, 1))
  return minuteOn(ground, days.toSorted().at(-1) ?? ground.today, 0)
}

/** The stretches that are never broken: the whole spin, or each row where it may break between them. */
function partsOf(
  { estimateMs, rowFrames }: SpinToPlan,
  pace: RowPace,
  kept: PlaceNow | undefined,
): readonly number[] {
  const frames = rowFrames === null ? [] : (JSON.parse(rowFrames) as number[])
  if (frames.length > 1) return rowPartsMin(estimateMs, frames, pace)
  return [kept?.isLongEnough ? kept.now.endMin - kept.now.startMin : wholeMin(estimateMs)]
}

function canHold(bench: Bench, { platterId, massG }: SpinToPlan): boolean {
  const hasPlatter =
    platterId === null || bench.platterIds.length === 0 || bench.platterIds.includes(platterId)
  return hasPlatter && (bench.loadLimitG === null || massG <= bench.loadLimitG)
}

function awayOf({ rigRevisionId }: SpinToPlan, ground: SpinsGround): readonly Span[] {
  const horizon = addDays(ground.today, ground.request.days)
  return ground.outages
    .filter((outage) => outage.rigRevisionId === rigRevisionId)
    .map(({ fromDay, toDay }) => ({
      fromMin: minuteOn(ground, fromDay, 0),
      toMin: minuteOn(ground, toDay ?? horizon, 1440),
    }))
}
