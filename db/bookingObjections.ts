import { mostTakenAtOnce, outageText, type Taking } from '../main/trade/outage.ts'
import type { Bench } from './benches.ts'
import { outagesOn } from './equipment.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** What is looked at before a block is booked. */
export interface BlockToCheck {
  readonly bench: Bench
  readonly jobId: Id<'job'> | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly shootIds: readonly Id<'shoot'>[]
  readonly personIds: readonly Id<'person'>[]
  readonly day: string
  readonly startsAt: string
  readonly endsAt: string
  /** Blocks that are to be moved away themselves. */
  readonly exceptIds: readonly Id<'booking'>[]
}

/** Something the world outside says against a block; a reason may overrule it. */
export interface Objection {
  readonly code: string
  readonly sentence: string
  readonly field: string
}

/** Everything that speaks against a block and that a reason may overrule, so that one look shows all of it. */
export function objectionsTo(db: Db, block: BlockToCheck, now: string): readonly Objection[] {
  return [
    ...samplesNotIn(db, block),
    ...bookedAlready(db, block, now),
    ...jobOnHold(db, block),
    ...peopleElsewhere(db, block),
    ...platterElsewhere(db, block),
    ...equipmentElsewhere(db, block),
  ]
}

function samplesNotIn(db: Db, block: BlockToCheck): readonly Objection[] {
  const rows = prepared<[string], { code: string; state: string | null; expectedDay: string | null }>(
    db,
    `SELECT DISTINCT product.code, s.state, s.expected_day AS expectedDay
     FROM shoot JOIN shoot_product sp ON sp.shoot_id = shoot.id JOIN product ON product.id = sp.product_id
     LEFT JOIN sample s ON s.product_id = sp.product_id AND s.job_id = shoot.job_id
     WHERE shoot.id IN (SELECT value FROM json_each(?)) AND shoot.without_sample_reason IS NULL
       AND (s.id IS NULL OR (s.is_needed = 1 AND s.state IN ('expected', 'missing', 'wrong'))) ORDER BY product.code`,
  ).all(JSON.stringify(block.shootIds))
  if (rows.length === 0) return []
  const named = rows.slice(0, 3).map(({ code, state, expectedDay }) => {
    if (state === 'expected' && expectedDay) return `${code} (expected ${expectedDay})`
    return state && state !== 'expected' ? `${code} (${state})` : code
  })
  const more = rows.length > named.length ? ` and ${rows.length - named.length} more` : ''
  const sentence =
    rows.length === 1
      ? `The sample of ${named[0] ?? ''} is not in.`
      : `The samples of ${named.join(', ')}${more} are not in.`
  return [{ code: 'sample-not-in', sentence, field: 'shootIds' }]
}

/**
 * Spins that have a place to come. One that may break between its rows lies in several blocks, a row in each, and has its
 * place once they hold all of its time; a block that it shares with others holds it whole.
 */
function bookedAlready(db: Db, block: BlockToCheck, now: string): readonly Objection[] {
  const rows = prepared<[string, string, string], { name: string; bench: string; startsAt: string }>(
    db,
    `SELECT shoot.name, bench.name AS bench, b.starts_at AS startsAt FROM booking_shoot bs
     JOIN booking b ON b.id = bs.booking_id JOIN shoot ON shoot.id = bs.shoot_id JOIN bench ON bench.id = b.bench_id
     WHERE bs.shoot_id IN (SELECT value FROM json_each(?)) AND b.cancelled_at IS NULL AND b.ends_at > ?
       AND b.id NOT IN (SELECT value FROM json_each(?))
     GROUP BY shoot.id HAVING shoot.breaks_between_rows = 0 OR shoot.estimate_ms <= sum(
       CASE WHEN (SELECT count(*) FROM booking_shoot x WHERE x.booking_id = b.id) > 1 THEN shoot.estimate_ms
         ELSE (unixepoch(b.ends_at) - unixepoch(b.starts_at)) * 1000 END)
     ORDER BY shoot.position`,
  ).all(JSON.stringify(block.shootIds), now, JSON.stringify(block.exceptIds))
  const [first] = rows
  if (!first) return []
  const others = rows.length > 1 ? ` and ${rows.length - 1} more` : ''
  return [
    {
      code: 'already-booked',
      sentence: `'${first.name}'${others} already has a place on ${first.bench} to come.`,
      field: 'shootIds',
    },
  ]
}

function jobOnHold(db: Db, { jobId }: BlockToCheck): readonly Objection[] {
  if (jobId === null) return []
  const row = prepared<[number], { number: string; reason: string | null; until: string | null }>(
    db,
    'SELECT number, hold_reason AS reason, hold_until AS until FROM job WHERE id = ?',
  ).get(jobId)
  if (!row?.reason) return []
  return [
    {
      code: 'job-on-hold',
      sentence: `${row.number} is on hold until ${row.until ?? 'further notice'}: ${row.reason}.`,
      field: 'shootIds',
    },
  ]
}

/**
 * Blocks elsewhere at the same time; a bench's own overlaps are refused before. A block lies within one local day, so
 * nothing that began two days before can still run: without that bound the whole past would be read.
 */
const elsewhere = `b.cancelled_at IS NULL AND b.starts_at > ? AND b.starts_at < ? AND b.ends_at > ? AND b.bench_id <> ?
  AND b.id NOT IN (SELECT value FROM json_each(?))`

function elsewhereOf(block: BlockToCheck): [string, string, string, number, string] {
  const earliest = new Date(Date.parse(block.startsAt) - 2 * 86_400_000).toISOString()
  return [earliest, block.endsAt, block.startsAt, block.bench.id, JSON.stringify(block.exceptIds)]
}

function peopleElsewhere(db: Db, block: BlockToCheck): readonly Objection[] {
  const people = JSON.stringify(block.personIds)
  const absent = prepared<[string, string, string], { name: string; toDay: string; reason: string | null }>(
    db,
    `SELECT person.name, a.to_day AS toDay, a.reason FROM person_absence a JOIN person ON person.id = a.person_id
     WHERE a.person_id IN (SELECT value FROM json_each(?)) AND a.from_day <= ? AND a.to_day >= ?`,
  ).all(people, block.day, block.day)
  const booked = prepared<[string, string, string, string, number, string], { name: string; bench: string }>(
    db,
    `SELECT DISTINCT person.name, bench.name AS bench FROM booking_person bp JOIN booking b ON b.id = bp.booking_id
     JOIN person ON person.id = bp.person_id JOIN bench ON bench.id = b.bench_id
     WHERE bp.person_id IN (SELECT value FROM json_each(?)) AND ${elsewhere}`,
  ).all(people, ...elsewhereOf(block))
  return [
    ...absent.map(({ name, toDay, reason }) => ({
      code: 'person-absent',
      sentence: `${name} is away until ${toDay}${reason ? ` (${reason})` : ''}.`,
      field: 'personIds',
    })),
    ...booked.map(({ name, bench }) => ({
      code: 'person-booked',
      sentence: `${name} is booked on ${bench} at that time; two benches with one pair of hands are one bench.`,
      field: 'personIds',
    })),
  ]
}

function platterElsewhere(db: Db, block: BlockToCheck): readonly Objection[] {
  if (block.rigRevisionId === null) return []
  const platter = prepared<[number], { id: Id<'platter'>; name: string }>(
    db,
    'SELECT platter.id, platter.name FROM rig_revision v JOIN platter ON platter.id = v.platter_id WHERE v.id = ?',
  ).get(block.rigRevisionId)
  if (!platter) return []
  const objections: Objection[] = []
  const { platterIds, name: bench } = block.bench
  if (platterIds.length > 0 && !platterIds.includes(platter.id)) {
    objections.push({
      code: 'platter-not-here',
      sentence: `The platter ${platter.name} is not among those of ${bench}.`,
      field: 'benchId',
    })
  }
  const other = prepared<[number, string, string, string, number, string], { bench: string }>(
    db,
    `SELECT bench.name AS bench FROM booking b JOIN rig_revision v ON v.id = b.rig_revision_id
     JOIN bench ON bench.id = b.bench_id WHERE v.platter_id = ? AND ${elsewhere} LIMIT 1`,
  ).get(platter.id, ...elsewhereOf(block))
  if (other) {
    objections.push({
      code: 'platter-elsewhere',
      sentence: `The platter ${platter.name} stands on ${other.bench} at that time.`,
      field: 'benchId',
    })
  }
  return objections
}

function equipmentElsewhere(db: Db, block: BlockToCheck): readonly Objection[] {
  if (block.rigRevisionId === null) return []
  const wanted = prepared<[number], { id: Id<'equipment'>; name: string; count: number; needed: number }>(
    db,
    `SELECT e.id, e.name, e.count, n.needed FROM rig_equipment n JOIN equipment e ON e.id = n.equipment_id
     WHERE n.rig_revision_id = ? ORDER BY e.name`,
  ).all(block.rigRevisionId)
  return wanted.flatMap((thing): readonly Objection[] => {
    const outages = outagesOn(db, thing.id, block.day)
    const [outage] = outages
    if (outage && thing.count - outages.length < thing.needed) {
      return [{ code: 'equipment-away', sentence: outageText(thing.name, outage), field: 'shootIds' }]
    }
    const others = prepared<[number, string, string, string, number, string], Taking & { bench: string }>(
      db,
      `SELECT bench.name AS bench, n.needed, b.starts_at AS startsAt, b.ends_at AS endsAt
       FROM booking b JOIN bench ON bench.id = b.bench_id
       JOIN rig_equipment n ON n.rig_revision_id = b.rig_revision_id AND n.equipment_id = ? WHERE ${elsewhere}`,
    ).all(thing.id, ...elsewhereOf(block))
    const taken = mostTakenAtOnce(block, others)
    const here = thing.count - outages.length
    if (taken + thing.needed <= here) return []
    const where = others[0] ? `, and ${others[0].bench} has ${taken} at that time` : ''
    return [
      {
        code: 'equipment-elsewhere',
        sentence: `The rig takes ${thing.needed} of '${thing.name}'; the studio has ${thing.count}${outages.length > 0 ? `, ${outages.length} of them away` : ''}${where}.`,
        field: 'shootIds',
      },
    ]
  })
}
