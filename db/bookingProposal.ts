import { endMinute, hoursOn, type Stretch } from '../main/trade/bench.ts'
import { addDays, dayOf, instantAt, minutesOfDay } from '../main/trade/calendar.ts'
import { changeoverMs, isDialled } from '../main/trade/changeover.ts'
import type { Pace } from '../main/trade/pace.ts'
import { type Bench, closuresBetween, findBench } from './benches.ts'
import { bookingsBetween } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { findRevision } from './rigRevisions.ts'
import { rigNameOf, rigStandingAt } from './standingRig.ts'
import { prepared } from './statement.ts'

/** A block that would hold some of the spins, with the set change at its start. */
export interface ProposedBlock extends Stretch {
  readonly day: string
  readonly shootIds: readonly Id<'shoot'>[]
  readonly spinsMs: number
  readonly setChangeMs: number
  readonly rigBefore: string | null
  readonly rig: string | null
}

export interface Proposal {
  readonly blocks: readonly ProposedBlock[]
  /** Spins that found no place within the days searched, or whose time is longer than any opening stretch. */
  readonly unplaced: readonly Id<'shoot'>[]
  /** Spins without an estimate or a rig, whose time is therefore a guess at best. */
  readonly withoutEstimate: number
  readonly withoutRig: number
  /** Set where other spins of the job are to be booked before its first spin has the client's yes. */
  readonly atRisk: { readonly firstSpin: string; readonly ms: number } | null
}

export interface ProposalRequest {
  readonly benchId: Id<'bench'>
  readonly shootIds: readonly Id<'shoot'>[]
  readonly fromDay: string
  /** Where to begin on the first day; without it at opening time, and never before now. */
  readonly fromMinute: number | null
  readonly personIds: readonly Id<'person'>[]
}

interface SpinToPlace {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly estimateMs: number
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly settingsId: Id<'settings'> | null
  readonly isFirst: 0 | 1
}

/** What stands on a bench at a time. */
interface OnBench {
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly settingsId: Id<'settings'> | null
}

/** What stands on a bench, and since when. */
type OnBenchSince = OnBench & { readonly since: string }

const daysSearched = 90
/** Blocks begin on whole five minutes, as a person would write them down. */
const grid = 5

/**
 * Proposes blocks for spins on a bench: in the order given, from the first free time on, as many in each free
 * stretch as wholly fit, with the set change where the rig differs from the one that stood before. Nothing is
 * booked, and samples are not looked at; booking does that.
 */
export function proposeBlocks(db: Db, request: ProposalRequest, now: string): Proposal {
  const bench = findBench(db, request.benchId)
  const spins = spinsToPlace(db, request.shootIds)
  const pace = thePace(db)
  const left = [...spins]
  const blocks: ProposedBlock[] = []
  let proposed: OnBenchSince | undefined
  for (let ahead = 0; bench && ahead < daysSearched && left.length > 0; ahead += 1) {
    const day = addDays(request.fromDay, ahead)
    for (const gap of freeOn(db, bench, day, request, ahead === 0, now)) {
      const at = instantAt(day, gap.fromMinute, studioZone(db)).toISOString()
      const before = standingAt(db, bench.id, at, proposed)
      const block = fillGap(db, day, gap, left, before, pace)
      if (!block) continue
      blocks.push({ ...block, rigBefore: rigNameOf(db, before.rigRevisionId) })
      proposed = { ...onBenchAfter(spins, block, before), since: at }
    }
  }
  return {
    blocks,
    unplaced: left.map(({ shootId }) => shootId),
    withoutEstimate: spins.filter(({ estimateMs }) => estimateMs === 0).length,
    withoutRig: spins.filter(({ rigRevisionId }) => rigRevisionId === null).length,
    atRisk: atRisk(spins, db),
  }
}

function spinsToPlace(db: Db, shootIds: readonly Id<'shoot'>[]): readonly SpinToPlace[] {
  const find = prepared<[number], SpinToPlace>(
    db,
    `SELECT id AS shootId, name, estimate_ms AS estimateMs, rig_revision_id AS rigRevisionId,
       settings_id AS settingsId, is_first AS isFirst
     FROM shoot WHERE id = ? AND cancelled_at IS NULL`,
  )
  return shootIds.flatMap((id) => find.get(id) ?? [])
}

/** The free stretches of a bench's day: opening hours less closures, blocks, and blocks of the people elsewhere. */
export function freeOn(
  db: Db,
  bench: Bench,
  day: string,
  request: Pick<ProposalRequest, 'fromMinute' | 'personIds'>,
  isFirstDay: boolean,
  now: string,
): readonly Stretch[] {
  if (closuresBetween(db, day, day).some(({ benchId }) => benchId === null || benchId === bench.id)) return []
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  if (day < today) return []
  const earliest = Math.max(
    day === today ? minutesOfDay(now, zone) : 0,
    isFirstDay ? (request.fromMinute ?? 0) : 0,
  )
  const [from, to] = [instantAt(day, 0, zone).toISOString(), instantAt(day, 1440, zone).toISOString()]
  const taken: Stretch[] = [
    ...bookingsBetween(db, bench.id, from, to),
    ...elsewhere(db, request.personIds, bench.id, from, to).map(({ startsAt, endsAt }) => ({
      fromMinute: startsAt <= from ? 0 : minutesOfDay(startsAt, zone),
      toMinute: endsAt >= to ? 1440 : minutesOfDay(endsAt, zone),
    })),
  ].sort((a, b) => a.fromMinute - b.fromMinute)
  return hoursOn(day, bench.openings).flatMap((hours) => cut(hours, taken, earliest))
}

function cut(hours: Stretch, taken: readonly Stretch[], earliest: number): readonly Stretch[] {
  const free: Stretch[] = []
  let at = Math.max(hours.fromMinute, Math.ceil(earliest / grid) * grid)
  for (const block of taken) {
    if (block.toMinute <= at || block.fromMinute >= hours.toMinute) continue
    if (block.fromMinute > at) free.push({ fromMinute: at, toMinute: block.fromMinute })
    at = Math.max(at, block.toMinute)
  }
  if (at < hours.toMinute) free.push({ fromMinute: at, toMinute: hours.toMinute })
  return free
}

function elsewhere(
  db: Db,
  personIds: readonly Id<'person'>[],
  benchId: Id<'bench'>,
  from: string,
  to: string,
): readonly { readonly startsAt: string; readonly endsAt: string }[] {
  return prepared<[string, number, string, string], { startsAt: string; endsAt: string }>(
    db,
    `SELECT b.starts_at AS startsAt, b.ends_at AS endsAt FROM booking_person bp JOIN booking b ON b.id = bp.booking_id
     WHERE bp.person_id IN (SELECT value FROM json_each(?)) AND b.bench_id <> ? AND b.cancelled_at IS NULL
       AND b.starts_at < ? AND b.ends_at > ?`,
  ).all(JSON.stringify(personIds), benchId, to, from)
}

/** What stands on a bench at an instant: the later of what is booked and what is proposed before it. */
function standingAt(db: Db, benchId: Id<'bench'>, at: string, proposed: OnBenchSince | undefined): OnBench {
  const last = rigStandingAt(db, benchId, at)
  if (proposed && (!last || proposed.since >= last.since)) return proposed
  return last ?? { rigRevisionId: null, settingsId: null }
}

/** Takes from `left` the spins that wholly fit a gap, one rig only; undefined where not even the first does. */
function fillGap(
  db: Db,
  day: string,
  gap: Stretch,
  left: SpinToPlace[],
  before: OnBench,
  pace: Pace,
): Omit<ProposedBlock, 'rigBefore'> | undefined {
  const zone = studioZone(db)
  const [first] = left
  if (!first) return undefined
  const setChangeMs = wholeMinutes(setChange(db, before, first, pace))
  const taken: SpinToPlace[] = []
  let spinsMs = 0
  for (const spin of left) {
    if (spin.rigRevisionId !== first.rigRevisionId) break
    const dialling =
      taken.length > 0 && spin.settingsId !== taken.at(-1)?.settingsId ? pace.changeSettingsMs : 0
    const withIt = spinsMs + spin.estimateMs + dialling
    if (endMinute(day, gap.fromMinute, setChangeMs + withIt, zone) > gap.toMinute) break
    taken.push(spin)
    spinsMs = withIt
  }
  if (taken.length === 0) return undefined
  left.splice(0, taken.length)
  // Spins without an estimate still need a stretch that can be seen and moved.
  const lengthMs = setChangeMs + Math.max(spinsMs, grid * 60_000)
  return {
    day,
    fromMinute: gap.fromMinute,
    toMinute: Math.min(gap.toMinute, endMinute(day, gap.fromMinute, lengthMs, zone)),
    shootIds: taken.map(({ shootId }) => shootId),
    spinsMs,
    setChangeMs,
    rig: rigNameOf(db, first.rigRevisionId),
  }
}

function wholeMinutes(ms: number): number {
  return Math.ceil(ms / 60_000) * 60_000
}

/** Time to change from what stands to a spin's rig and settings, in ms; 0 where its rig is not planned yet. */
function setChange(db: Db, before: OnBench, spin: SpinToPlace, pace: Pace): number {
  if (spin.rigRevisionId === null) return 0
  const to = findRevision(db, spin.rigRevisionId)
  const from = before.rigRevisionId === null ? null : findRevision(db, before.rigRevisionId)
  return to ? changeoverMs(from ?? null, to, isDialled(before.settingsId, spin.settingsId), pace) : 0
}

function onBenchAfter(
  spins: readonly SpinToPlace[],
  block: Pick<ProposedBlock, 'shootIds'>,
  before: OnBench,
): OnBench {
  const last = spins.find(({ shootId }) => shootId === block.shootIds.at(-1))
  return last?.rigRevisionId ? last : before
}

/** Hours of the other spins that would be lost if the client wants the first spin otherwise. */
function atRisk(spins: readonly SpinToPlace[], db: Db): Proposal['atRisk'] {
  const [any] = spins
  if (!any) return null
  const first = prepared<[number], { name: string }>(
    db,
    `SELECT name FROM shoot WHERE job_id = (SELECT job_id FROM shoot WHERE id = ?) AND is_first = 1
       AND cancelled_at IS NULL AND NOT EXISTS (SELECT 1 FROM answer a WHERE a.shoot_id = shoot.id
         AND a.verdict = 'yes' AND a.withdrawn_at IS NULL) ORDER BY position LIMIT 1`,
  ).get(any.shootId)
  const ms = spins.filter(({ isFirst }) => isFirst === 0).reduce((sum, { estimateMs }) => sum + estimateMs, 0)
  return first && ms > 0 ? { firstSpin: first.name, ms } : null
}
