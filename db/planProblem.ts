import { dayOf, instantAt } from '../main/trade/calendar.ts'
import type { PlanData } from '../main/trade/plan/problem.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, listBenches } from './benches.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { placesNow } from './placesNow.ts'
import { type HandsGround, handsGround } from './planHands.ts'
import { type RigOutage, rigOutages, type SpinToPlan, scarceEquipment, spinsToPlan } from './planItems.ts'
import { type PlanRig, planRigs } from './planRigs.ts'
import { itemsOf, type SpinsGround } from './planSpins.ts'
import { benchTimes, type StayingBlock, stayingBlocks } from './planWindows.ts'
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
  readonly rigs: readonly PlanRig[]
  /** Minutes of the problem are counted from this instant, in ms since 1970. */
  readonly baseMs: number
  readonly leftOut: readonly LeftOut[]
  readonly outages: readonly RigOutage[]
  /** Spins whose job's first spin has no yes yet, and how long they take. */
  readonly atRisk: { readonly spins: number; readonly ms: number }
  /** Where places are kept: the block that a spin lies in today. */
  readonly blockNow: ReadonlyMap<Id<'shoot'>, Id<'booking'>>
  /** Who its blocks are shared among. */
  readonly hands: HandsGround
}

/**
 * Reads from the store what the plan of some spins needs: when their goods are in, when they are due, what their rigs need,
 * when the benches are free. Refuses a request without a bench, without hands or without spins.
 */
export function planQuestion(db: Db, request: PlanRequest, now: string): PlanQuestion {
  const benches = listBenches(db).filter(({ id }) => request.benchIds.includes(id))
  const all = spinsToPlan(db, request.shootIds).map(request.asIf ?? ((spin) => spin))
  refuseEmpty(request, benches, all)
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  const baseMs = instantAt(today, 0, zone).getTime()
  const leftOut = all.flatMap((spin) => whyLeftOut(spin))
  const spins = all.filter(({ shootId }) => !leftOut.some((one) => one.shootId === shootId))
  const rigs = planRigs(db)
  const revisions = [...new Set(spins.flatMap(({ rigRevisionId }) => (rigRevisionId ? [rigRevisionId] : [])))]
  const outages = rigOutages(db, revisions, today)
  const places = placesNow(db, request.replanned, benches, baseMs)
  const ground: SpinsGround = { request, benches, today, zone, baseMs, now, rigs, outages, places }
  const items = itemsOf(db, spins, ground, scarceEquipment(db, revisions))
  const staying = stayingBlocks(db, request.replanned, baseMs, rigs.indexOf)
  const turningCapMin = turningCap(db)
  const benchIds = benches.map(({ id }) => id)
  const risky = spins.filter(({ firstShootId }) => firstShootId !== null)
  return {
    data: {
      items,
      benches: benchesOf(db, ground, staying, turningCapMin),
      hands: request.personIds.length,
      changeMin: rigs.changeTable(),
      turningCapMin,
      keepsPlaces: request.keepsPlaces,
    },
    spins,
    benches,
    rigs: rigs.known,
    baseMs,
    leftOut,
    outages,
    atRisk: { spins: risky.length, ms: risky.reduce((sum, { estimateMs }) => sum + estimateMs, 0) },
    blockNow: new Map(
      request.keepsPlaces ? [...places].map(([shootId, { bookingId }]) => [shootId, bookingId]) : [],
    ),
    hands: handsGround(db, { ...request, benchIds, now, baseMs, staying }),
  }
}

/** When each bench is free round what stays on it, and what stands there. */
function benchesOf(
  db: Db,
  { request, benches, baseMs, now, rigs }: SpinsGround,
  staying: readonly StayingBlock[],
  turningCapMin: number | null,
): PlanData['benches'] {
  const { personIds, days } = request
  const asked = { benches, personIds, days, now, baseMs, staying, turningCapMin }
  return benchTimes(db, asked).map((times, index) => {
    const stands = rigStandingAt(db, (benches[index] as Bench).id, now)
    return { ...times, rig: stands ? rigs.indexOf(stands.rigRevisionId, stands.settingsId) : null }
  })
}

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

function turningCap(db: Db): number | null {
  return (
    prepared<[], { minutes: number }>(db, 'SELECT turning_cap_minutes AS minutes FROM pace').get()?.minutes ??
    null
  )
}
