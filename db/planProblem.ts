import { addDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import { changeoverMs } from '../main/trade/changeover.ts'
import type { PlanData, PlanItem, Span } from '../main/trade/plan/problem.ts'
import { type RowPace, rowPartsMin } from '../main/trade/plan/rowParts.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, listBenches } from './benches.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import { learnedPace } from './learnedPace.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { placesNow, wholeMin } from './placesNow.ts'
import {
  firstSpinsEnd,
  type RigOutage,
  rigOutages,
  type SpinToPlan,
  scarceEquipment,
  spinsToPlan,
} from './planItems.ts'
import { planWeights } from './planWeights.ts'
import { benchTimes, stayingBlocks } from './planWindows.ts'
import { findRevision } from './rigRevisions.ts'
import { rigStandingAt } from './standingRig.ts'
import { prepared } from './statement.ts'

/** What a plan is asked for. */
export interface PlanRequest {
  readonly shootIds: readonly Id<'shoot'>[]
  readonly benchIds: readonly Id<'bench'>[]
  readonly personIds: readonly Id<'person'>[]
  /** Blocks whose spins are planned anew; all others stay. */
  readonly replanned: readonly Id<'booking'>[]
  readonly keepsPlaces: boolean
  readonly days: number
  /** What a spin would be if it were otherwise: for questions about work that is not ordered yet. */
  readonly asIf?: (spin: SpinToPlan) => SpinToPlan
}

/** Why a spin is not in the plan. */
export interface LeftOut {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobId: Id<'job'>
  readonly why: 'no estimate' | 'no day for its sample'
}

/** A plan's question as the solver takes it, and what its numbers stand for. */
export interface PlanQuestion {
  readonly data: PlanData
  readonly spins: readonly SpinToPlan[]
  readonly benches: readonly Bench[]
  /** What the rig numbers of the problem stand for. */
  readonly rigs: RigIndexes['known']
  /** Minutes of the problem are counted from this instant, in ms since 1970. */
  readonly baseMs: number
  readonly leftOut: readonly LeftOut[]
  readonly outages: readonly RigOutage[]
  /** Spins whose job's first spin has no yes yet, and how long they take. */
  readonly atRisk: { readonly spins: number; readonly ms: number }
}

/**
 * Reads from the store what the plan of some spins needs: when their goods are in, when they are due, what their rigs need,
 * when the benches are free. Refuses a request without a bench, without hands or without spins.
 */
export function planQuestion(db: Db, request: PlanRequest, now: string): PlanQuestion {
  const benches = listBenches(db).filter(({ id }) => request.benchIds.includes(id))
  const asIf = request.asIf ?? ((spin: SpinToPlan) => spin)
  const all = spinsToPlan(db, request.shootIds).map(asIf)
  refuseEmpty(request, benches, all)
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  const baseMs = instantAt(today, 0, zone).getTime()
  const leftOut = all.flatMap((spin) => whyLeftOut(spin))
  const spins = all.filter(({ shootId }) => !leftOut.some((one) => one.shootId === shootId))
  const rigs = rigIndexes()
  const revisions = [...new Set(spins.flatMap(({ rigRevisionId }) => (rigRevisionId ? [rigRevisionId] : [])))]
  const outages = rigOutages(db, revisions, today)
  const scarce = scarceEquipment(db, revisions)
  const at = (day: string, minute: number) =>
    Math.round((instantAt(day, minute, zone).getTime() - baseMs) / 60_000)
  const places = placesNow(db, request.replanned, benches, baseMs)
  const weights = planWeights(db)
  const { pace } = learnedPace(db)
  const jobIds = [...new Set(spins.map(({ jobId }) => jobId))]
  const firstsEnd = firstSpinsEnd(db, jobIds, request.replanned, now)
  const items = spins.map((spin): PlanItem => {
    const place = places.get(spin.shootId)
    const parts = partsOf(spin, pace)
    const firstEnd = spin.isFirst === 1 ? undefined : firstsEnd.get(spin.jobId)
    return {
      id: spin.shootId,
      partsMin: benches.map((bench) => (canHold(bench, spin) ? parts : null)),
      earliestMin: Math.max(
        earliestOf(spin, today, at),
        firstEnd === undefined ? 0 : Math.ceil((Date.parse(firstEnd) - baseMs) / 60_000),
      ),
      dueMin: spin.dueDay === null ? null : at(spin.dueDay, 1440),
      weight: weights[spin.priority],
      rig: spin.rigRevisionId === null ? noRig : rigs.indexOf(spin.rigRevisionId, spin.settingsId),
      ...(spin.firstShootId === null ? {} : { after: spin.firstShootId }),
      away: awayOf(spin, outages, at, addDays(today, request.days)),
      needs: spin.rigRevisionId === null ? [] : (scarce.get(spin.rigRevisionId) ?? []),
      ...(place ? { now: place } : {}),
    }
  })
  const staying = stayingBlocks(db, request.replanned, now, baseMs, rigs.indexOf)
  const times = benchTimes(db, {
    benches,
    personIds: request.personIds,
    days: request.days,
    now,
    baseMs,
    staying,
  })
  const standing = benches.map((bench) => rigStandingAt(db, bench.id, now))
  const startRigs = standing.map((one) =>
    one === undefined ? null : rigs.indexOf(one.rigRevisionId, one.settingsId),
  )
  const risky = spins.filter(({ firstShootId }) => firstShootId !== null)
  return {
    data: {
      items,
      benches: times.map((one, index) => ({ ...one, rig: startRigs[index] ?? null })),
      hands: request.personIds.length,
      changeMin: changeTable(db, rigs),
      turningCapMin: turningCap(db),
      keepsPlaces: request.keepsPlaces,
    },
    spins,
    benches,
    rigs: rigs.known,
    baseMs,
    leftOut,
    outages,
    atRisk: { spins: risky.length, ms: risky.reduce((sum, { estimateMs }) => sum + estimateMs, 0) },
  }
}

/** A spin without a rig asks for no set change: what will be set up is not known yet. */
const noRig = -1

function refuseEmpty(request: PlanRequest, benches: readonly Bench[], spins: readonly SpinToPlan[]): void {
  if (benches.length === 0) {
    throw new Refusal('no-bench', 'No bench is chosen. Choose where the spins are turned.', {
      field: 'benchIds',
    })
  }
  if (request.personIds.length === 0) {
    throw new Refusal('no-hands', 'Nobody is chosen who turns. Choose at least one person.', {
      field: 'personIds',
    })
  }
  if (spins.length === 0) {
    throw new Refusal('no-spins', 'None of these spins waits in an open job. Choose others.', {
      field: 'shootIds',
    })
  }
}

function whyLeftOut({
  shootId,
  name,
  jobId,
  estimateMs,
  samplesOut,
  samplesExpected,
}: SpinToPlan): readonly LeftOut[] {
  if (estimateMs <= 0) return [{ shootId, name, jobId, why: 'no estimate' }]
  return samplesOut > samplesExpected ? [{ shootId, name, jobId, why: 'no day for its sample' }] : []
}

/** On the day after its last sample is expected, or today where it is in; not while its job is on hold. */
function earliestOf(
  { lastExpectedDay, samplesOut, holdUntil }: SpinToPlan,
  today: string,
  at: (day: string, minute: number) => number,
): number {
  const days = [today, ...(holdUntil === null ? [] : [holdUntil])]
  // Goods come in the course of a day: only the next one is sure.
  if (samplesOut > 0 && lastExpectedDay !== null) days.push(addDays(lastExpectedDay, 1))
  return at(days.toSorted().at(-1) ?? today, 0)
}

/** The stretches that are never broken: the whole spin, or each row where it may break between them. */
function partsOf({ estimateMs, rowFrames }: SpinToPlan, pace: RowPace): readonly number[] {
  const frames = rowFrames === null ? [] : (JSON.parse(rowFrames) as number[])
  return frames.length > 1 ? rowPartsMin(estimateMs, frames, pace) : [wholeMin(estimateMs)]
}

function canHold(bench: Bench, { platterId, massG }: SpinToPlan): boolean {
  const hasPlatter =
    platterId === null || bench.platterIds.length === 0 || bench.platterIds.includes(platterId)
  return hasPlatter && (bench.loadLimitG === null || massG <= bench.loadLimitG)
}

function awayOf(
  { rigRevisionId }: SpinToPlan,
  outages: readonly RigOutage[],
  at: (day: string, minute: number) => number,
  horizon: string,
): readonly Span[] {
  return outages
    .filter((outage) => outage.rigRevisionId === rigRevisionId)
    .map(({ fromDay, toDay }) => ({ fromMin: at(fromDay, 0), toMin: at(toDay ?? horizon, 1440) }))
}

interface RigIndexes {
  readonly indexOf: (rigRevisionId: Id<'rig_revision'>, settingsId: Id<'settings'> | null) => number
  readonly known: readonly {
    readonly rigRevisionId: Id<'rig_revision'>
    readonly settingsId: Id<'settings'> | null
  }[]
}

/** The solver knows rigs by numbers: a number for each revision with its settings. */
function rigIndexes(): RigIndexes {
  const known: { rigRevisionId: Id<'rig_revision'>; settingsId: Id<'settings'> | null }[] = []
  const numbers = new Map<string, number>()
  return {
    known,
    indexOf: (rigRevisionId, settingsId) => {
      const key = `${rigRevisionId} ${settingsId ?? ''}`
      const number = numbers.get(key) ?? known.push({ rigRevisionId, settingsId }) - 1
      numbers.set(key, number)
      return number
    },
  }
}

/** Set change minutes between all rigs of the question, and from an empty bench. */
function changeTable(db: Db, { known }: RigIndexes): PlanData['changeMin'] {
  const pace = thePace(db)
  const stands = known.map(({ rigRevisionId }) => findRevision(db, rigRevisionId) ?? null)
  return [null, ...known].map((from, row) =>
    known.map((to, column) => {
      const next = stands[column]
      if (!next) return 0
      const standing = from === null ? null : (stands[row - 1] ?? null)
      return Math.ceil(changeoverMs(standing, next, from?.settingsId !== to.settingsId, pace) / 60_000)
    }),
  )
}

function turningCap(db: Db): number | null {
  return (
    prepared<[], { minutes: number }>(db, 'SELECT turning_cap_minutes AS minutes FROM pace').get()?.minutes ??
    null
  )
}
