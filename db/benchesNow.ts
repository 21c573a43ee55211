import { hoursOn } from '../main/trade/bench.ts'
import { addDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import { changeoverMs, isDialled } from '../main/trade/changeover.ts'
import type { BenchBlock, BenchesNow } from '../main/trade/plan/moving.ts'
import type { Span } from '../main/trade/plan/problem.ts'
import { type Bench, closuresBetween } from './benches.ts'
import type { BookingKind } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { findRevision, type RigRevision } from './rigRevisions.ts'
import { rigStandingAt } from './standingRig.ts'
import { prepared } from './statement.ts'

/** The benches that a move touches, as the rules of moving take them, and which rows their blocks are. */
export interface BenchesRead {
  readonly now: BenchesNow
  /** By block: its set change, which is a row of its own. */
  readonly setChangeIds: ReadonlyMap<number, Id<'booking'>>
  /** The moved block's set change on the evening before: worked out anew, it leaves with the block. */
  readonly apart: { readonly id: Id<'booking'>; readonly minutes: number } | null
  /** Minutes are counted from here, in ms since 1970. */
  readonly baseMs: number
}

interface BenchRow {
  readonly id: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly kind: BookingKind
  readonly jobId: Id<'job'> | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly startsAt: string
  readonly endsAt: string
  readonly isFixed: 0 | 1
  readonly firstSettingsId: Id<'settings'> | null
  readonly lastSettingsId: Id<'settings'> | null
}

/** Reads the blocks of some benches from one day to another, both included. */
export function benchesNow(
  db: Db,
  benches: readonly Bench[],
  movedId: Id<'booking'>,
  days: { readonly fromDay: string; readonly toDay: string },
  now: string,
): BenchesRead {
  const zone = studioZone(db)
  const baseMs = instantAt(days.fromDay, 0, zone).getTime()
  const fromAt = new Date(baseMs).toISOString()
  const rows = rowsBetween(db, benches, fromAt, instantAt(days.toDay, 1440, zone).toISOString())
  const rigs = rigNumbers(db)
  const { blocks, setChangeIds, apart } = blocksOf(rows, movedId, rigs.numberOf, baseMs, now)
  const standing = new Map<number, number | null>(
    benches.map(({ id }) => {
      const rig = rigStandingAt(db, id, fromAt)
      return [id, rig ? rigs.numberOf(rig.rigRevisionId, rig.settingsId) : null]
    }),
  )
  return {
    now: {
      blocks,
      openFrom: openings(db, benches, days, baseMs),
      standing: (bench) => standing.get(bench) ?? null,
      changeoverMin: rigs.changeoverMin,
    },
    setChangeIds,
    apart,
    baseMs,
  }
}

function rowsBetween(db: Db, benches: readonly Bench[], from: string, to: string): readonly BenchRow[] {
  const settingsOf = (order: 'ASC' | 'DESC') =>
    `(SELECT shoot.settings_id FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
      WHERE bs.booking_id = b.id ORDER BY bs.position ${order} LIMIT 1)`
  const find = prepared<[number, string, string], BenchRow>(
    db,
    `SELECT b.id, b.bench_id AS benchId, b.kind, b.job_id AS jobId, b.rig_revision_id AS rigRevisionId,
       b.starts_at AS startsAt, b.ends_at AS endsAt, b.is_fixed AS isFixed, ${settingsOf('ASC')} AS firstSettingsId,
       ${settingsOf('DESC')} AS lastSettingsId
     FROM booking b WHERE b.bench_id = ? AND b.cancelled_at IS NULL AND b.starts_at >= ? AND b.starts_at < ?
     ORDER BY b.starts_at`,
  )
  return benches.flatMap(({ id }) => find.all(id, from, to))
}

type RigNumber = (rigRevisionId: Id<'rig_revision'>, settingsId: Id<'settings'> | null) => number

/** Joins each block with the set change right before it. A set change that lies apart is a block that stays. */
function blocksOf(
  rows: readonly BenchRow[],
  movedId: Id<'booking'>,
  numberOf: RigNumber,
  baseMs: number,
  now: string,
) {
  const blocks: BenchBlock[] = []
  const setChangeIds = new Map<number, Id<'booking'>>()
  let apart: BenchesRead['apart'] = null
  const minutes = (instant: string) => Math.round((Date.parse(instant) - baseMs) / 60_000)
  rows.forEach((row, index) => {
    const [before, next] = [rows[index - 1], rows[index + 1]]
    const isMadeFor = next !== undefined && isSetChangeOf(row, next)
    if (isMadeFor && row.endsAt === next.startsAt) return
    if (isMadeFor && next.id === movedId && row.startsAt > now) {
      apart = { id: row.id, minutes: minutes(row.endsAt) - minutes(row.startsAt) }
      return
    }
    const setChange =
      before && isSetChangeOf(before, row) && before.endsAt === row.startsAt ? before : undefined
    if (setChange) setChangeIds.set(row.id, setChange.id)
    const startsAt = setChange?.startsAt ?? row.startsAt
    const settings = row.kind === 'set change' ? next?.firstSettingsId : row.firstSettingsId
    blocks.push({
      id: row.id,
      bench: row.benchId,
      fromMin: minutes(startsAt),
      setChangeMin: minutes(row.startsAt) - minutes(startsAt),
      workMin: minutes(row.endsAt) - minutes(row.startsAt),
      rig:
        row.rigRevisionId === null
          ? null
          : {
              first: numberOf(row.rigRevisionId, settings ?? null),
              last: numberOf(
                row.rigRevisionId,
                (row.kind === 'set change' ? settings : row.lastSettingsId) ?? null,
              ),
            },
      stays: row.isFixed === 1 || startsAt <= now || row.kind === 'set change',
    })
  })
  return { blocks, setChangeIds, apart }
}

function isSetChangeOf(row: BenchRow, next: BenchRow): boolean {
  return (
    row.kind === 'set change' &&
    next.kind === 'spins' &&
    row.benchId === next.benchId &&
    row.jobId === next.jobId
  )
}

/** Rigs by numbers, a number for each revision with its settings, and the minutes between them. */
function rigNumbers(db: Db) {
  const pace = thePace(db)
  const known: { readonly rig: RigRevision | null; readonly settingsId: Id<'settings'> | null }[] = []
  const numbers = new Map<string, number>()
  const revisions = new Map<number, RigRevision | null>()
  const numberOf: RigNumber = (rigRevisionId, settingsId) => {
    const key = `${rigRevisionId} ${settingsId ?? ''}`
    const found = numbers.get(key)
    if (found !== undefined) return found
    if (!revisions.has(rigRevisionId)) revisions.set(rigRevisionId, findRevision(db, rigRevisionId) ?? null)
    const number = known.push({ rig: revisions.get(rigRevisionId) ?? null, settingsId }) - 1
    numbers.set(key, number)
    return number
  }
  const changeoverMin = (from: number | null, to: number) => {
    const before = from === null ? undefined : known[from]
    const after = known[to]
    if (from === to || !after?.rig) return 0
    const newSettings = isDialled(before?.settingsId, after.settingsId)
    return Math.ceil(changeoverMs(before?.rig ?? null, after.rig, newSettings, pace) / 60_000)
  }
  return { numberOf, changeoverMin }
}

/** The opening hours of the benches, day after day as they are asked for. */
function openings(
  db: Db,
  benches: readonly Bench[],
  { fromDay, toDay }: { readonly fromDay: string; readonly toDay: string },
  baseMs: number,
): BenchesNow['openFrom'] {
  const zone = studioZone(db)
  const closures = closuresBetween(db, fromDay, toDay)
  const known = new Map<string, readonly Span[]>()
  const at = (day: string, minute: number) =>
    Math.round((instantAt(day, minute, zone).getTime() - baseMs) / 60_000)
  const on = (bench: Bench, day: string): readonly Span[] => {
    const isClosed = closures.some(
      (closure) =>
        (closure.benchId === null || closure.benchId === bench.id) &&
        closure.fromDay <= day &&
        day <= closure.toDay,
    )
    if (isClosed) return []
    return hoursOn(day, bench.openings).map(({ fromMinute, toMinute }) => ({
      fromMin: at(day, fromMinute),
      toMin: at(day, toMinute),
    }))
  }
  return function* openFrom(benchId, min) {
    const bench = benches.find(({ id }) => id === benchId)
    if (!bench) return
    const first = dayOf(new Date(baseMs + min * 60_000), zone)
    for (let day = first; day <= toDay; day = addDays(day, 1)) {
      const key = `${benchId} ${day}`
      const spans = known.get(key) ?? on(bench, day)
      known.set(key, spans)
      for (const span of spans) if (span.toMin > min) yield span
    }
  }
}
