import { workingWeek } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { promiseOfJob } from './promises.ts'
import { prepared } from './statement.ts'

/** A spin as a plan needs to know it. */
export interface SpinToPlan {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  /** The day its job is due; of a promise whose samples are only expected, the day that makes. */
  readonly dueDay: string | null
  readonly priority: 'low' | 'normal' | 'high'
  readonly holdUntil: string | null
  readonly estimateMs: number
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly settingsId: Id<'settings'> | null
  readonly platterId: Id<'platter'> | null
  readonly massG: number
  readonly isFirst: 0 | 1
  /** The first spin of its job where that has no yes yet, itself not among the first. */
  readonly firstShootId: Id<'shoot'> | null
  /** Frames to shoot by row as JSON where the spin may break between its rows, else null. */
  readonly rowFrames: string | null
  /** Samples not in: how many, how many of them are expected on a day, and the last such day. */
  readonly samplesOut: number
  readonly samplesExpected: number
  readonly lastExpectedDay: string | null
}

/** The spins of open jobs among those named, in the order of their jobs and places. */
export function spinsToPlan(db: Db, shootIds: readonly Id<'shoot'>[]): readonly SpinToPlan[] {
  const spins = prepared<[string], SpinToPlan>(
    db,
    `WITH chosen AS MATERIALIZED (SELECT value AS shoot_id FROM json_each(?))
     SELECT shoot.id AS shootId, shoot.name, job.id AS jobId, job.number AS jobNumber, client.name AS client,
       s.due_day AS dueDay, job.priority, job.hold_until AS holdUntil, shoot.estimate_ms AS estimateMs,
       shoot.rig_revision_id AS rigRevisionId, shoot.settings_id AS settingsId, v.platter_id AS platterId,
       shoot.is_first AS isFirst,
       ifnull((SELECT sum(ifnull(p.load_g, p.stand_g)) FROM shoot_product sp JOIN product p ON p.id = sp.product_id
         WHERE sp.shoot_id = shoot.id), 0) AS massG,
       CASE WHEN shoot.is_first = 1 THEN NULL ELSE (SELECT f.id FROM shoot f WHERE f.job_id = shoot.job_id
         AND f.is_first = 1 AND f.cancelled_at IS NULL AND NOT EXISTS (SELECT 1 FROM answer a
           WHERE a.shoot_id = f.id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL)
         ORDER BY f.position LIMIT 1) END AS firstShootId,
       CASE WHEN shoot.breaks_between_rows = 1 THEN (SELECT json_group_array(r.frames_per_turn + r.overlap_frames
         ORDER BY r.row) FROM shoot_row r WHERE r.shoot_id = shoot.id) END AS rowFrames,
       count(o.product_id) AS samplesOut, count(o.expected_day) AS samplesExpected, max(o.expected_day) AS lastExpectedDay
     FROM chosen JOIN shoot ON shoot.id = chosen.shoot_id AND shoot.cancelled_at IS NULL
     JOIN job ON job.id = shoot.job_id JOIN client ON client.id = job.client_id
     JOIN job_standing s ON s.job_id = job.id AND s.is_open = 1
     LEFT JOIN rig_revision v ON v.id = shoot.rig_revision_id
     LEFT JOIN (SELECT sp.shoot_id, sp.product_id, sample.expected_day, shoot.without_sample_reason
       FROM chosen JOIN shoot ON shoot.id = chosen.shoot_id JOIN shoot_product sp ON sp.shoot_id = shoot.id
       LEFT JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = shoot.job_id
       WHERE shoot.without_sample_reason IS NULL AND (sample.id IS NULL
         OR (sample.is_needed = 1 AND sample.state IN ('expected', 'missing', 'wrong')))) o ON o.shoot_id = shoot.id
     GROUP BY shoot.id ORDER BY s.due_day IS NULL, s.due_day, job.id, shoot.position`,
  ).all(JSON.stringify(shootIds))
  // A promise binds once the goods are in; a plan made before must leave room for it all the same.
  const week = workingWeek(db)
  const promised = new Map<Id<'job'>, string | null>()
  return spins.map((spin) => {
    if (spin.dueDay !== null) return spin
    if (!promised.has(spin.jobId)) promised.set(spin.jobId, promiseOfJob(db, spin.jobId, week)?.day ?? null)
    return { ...spin, dueDay: promised.get(spin.jobId) ?? null }
  })
}

/**
 * When the first spins without a yes end that are booked and stay where they are, by job: to come, or begun and not over.
 * The rest of the job waits for them.
 */
export function firstSpinsEnd(
  db: Db,
  jobIds: readonly Id<'job'>[],
  replanned: readonly Id<'booking'>[],
  now: string,
): ReadonlyMap<Id<'job'>, string> {
  const rows = prepared<[string, string, string], { jobId: Id<'job'>; endsAt: string }>(
    db,
    `SELECT f.job_id AS jobId, max(b.ends_at) AS endsAt FROM shoot f
     JOIN booking_shoot bs ON bs.shoot_id = f.id JOIN booking b ON b.id = bs.booking_id AND b.cancelled_at IS NULL
     WHERE f.job_id IN (SELECT value FROM json_each(?)) AND f.is_first = 1 AND f.cancelled_at IS NULL AND b.ends_at > ?
       AND b.id NOT IN (SELECT value FROM json_each(?)) AND NOT EXISTS (SELECT 1 FROM answer a
         WHERE a.shoot_id = f.id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL)
     GROUP BY f.job_id`,
  ).all(JSON.stringify(jobIds), now, JSON.stringify(replanned))
  return new Map(rows.map(({ jobId, endsAt }) => [jobId, endsAt]))
}

/** Days on which a rig lacks a part: all of that kind are away or in repair. An open end is null. */
export interface RigOutage {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly equipment: string
  readonly fromDay: string
  readonly toDay: string | null
}

/** Outages to come of what some rigs take, where more is away than the studio can spare. */
export function rigOutages(
  db: Db,
  rigRevisionIds: readonly Id<'rig_revision'>[],
  today: string,
): readonly RigOutage[] {
  return prepared<[string, string], RigOutage>(
    db,
    `SELECT r.rig_revision_id AS rigRevisionId, e.name AS equipment, o.from_day AS fromDay, o.to_day AS toDay
     FROM rig_equipment r JOIN equipment e ON e.id = r.equipment_id JOIN equipment_outage o ON o.equipment_id = e.id
     WHERE r.rig_revision_id IN (SELECT value FROM json_each(?)) AND ifnull(o.to_day, '9999') >= ?
       AND e.count - (SELECT count(*) FROM equipment_outage x WHERE x.equipment_id = e.id
         AND x.from_day <= ifnull(o.to_day, '9999') AND ifnull(x.to_day, '9999') >= o.from_day) < r.needed
     ORDER BY o.from_day`,
  ).all(JSON.stringify(rigRevisionIds), today)
}

/** Equipment that two of these rigs cannot have at once, since the studio has too few of it. */
export function scarceEquipment(
  db: Db,
  rigRevisionIds: readonly Id<'rig_revision'>[],
): ReadonlyMap<Id<'rig_revision'>, readonly Id<'equipment'>[]> {
  const rows = prepared<[string], { rigRevisionId: Id<'rig_revision'>; equipmentId: Id<'equipment'> }>(
    db,
    `SELECT r.rig_revision_id AS rigRevisionId, r.equipment_id AS equipmentId
     FROM rig_equipment r JOIN equipment e ON e.id = r.equipment_id
     WHERE r.rig_revision_id IN (SELECT value FROM json_each(?)) AND e.count < 2 * r.needed`,
  ).all(JSON.stringify(rigRevisionIds))
  const byRig = new Map<Id<'rig_revision'>, Id<'equipment'>[]>()
  for (const { rigRevisionId, equipmentId } of rows) {
    byRig.set(rigRevisionId, [...(byRig.get(rigRevisionId) ?? []), equipmentId])
  }
  return byRig
}
