import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import type { TakePlace } from './takeFacts.ts'

/** Which ended takes are handed over: of a job, or of all; begun from one instant to before another. */
export interface TakeChoice {
  readonly jobId: Id<'job'> | null
  readonly from: string | null
  readonly before: string | null
}

/** An ended take as a row of a list for other programs. Instants in UTC. */
export interface ExportedTake {
  readonly takeId: number
  readonly jobNumber: string
  readonly clientName: string
  readonly spin: string
  readonly codes: string
  readonly row: number
  readonly number: number
  readonly rigName: string
  readonly revision: number
  readonly benchName: string
  readonly personName: string
  readonly countedBy: string
  readonly startedAt: string
  readonly endedAt: string
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly framesShot: number
  readonly medianStepMs: number | null
  readonly pausedMs: number
  readonly faults: string
  readonly verdict: string | null
  readonly verdictReason: string | null
  readonly note: string | null
}

const columns = `take.id AS takeId, job.number AS jobNumber, client.name AS clientName, shoot.name AS spin,
  (SELECT group_concat(p.code, ' ' ORDER BY sp.position) FROM shoot_product sp JOIN product p ON p.id = sp.product_id
    WHERE sp.shoot_id = take.shoot_id) AS codes,
  take.row, take.number, rig.name AS rigName, rev.revision, bench.name AS benchName, person.name AS personName,
  take.counted_by AS countedBy, take.started_at AS startedAt, take.ended_at AS endedAt,
  take.frames_per_turn AS framesPerTurn, take.overlap_frames AS overlapFrames, take.frames_shot AS framesShot,
  take.median_step_ms AS medianStepMs,
  CAST(round(ifnull((SELECT sum(unixepoch(p.resumed_at, 'subsec') - unixepoch(p.paused_at, 'subsec')) FROM take_pause p
    WHERE p.take_id = take.id AND p.resumed_at IS NOT NULL), 0) * 1000) AS INTEGER) AS pausedMs,
  ifnull((SELECT group_concat(f.kind || ifnull(' at ' || f.frame, ''), '; ' ORDER BY f.frame, f.id) FROM take_fault f
    WHERE f.take_id = take.id), '') AS faults,
  take.verdict, take.verdict_reason AS verdictReason, take.note`

const joins = `CROSS JOIN job ON job.id = shoot.job_id CROSS JOIN client ON client.id = job.client_id
  CROSS JOIN rig_revision rev ON rev.id = take.rig_revision_id CROSS JOIN rig ON rig.id = rev.rig_id
  CROSS JOIN bench ON bench.id = take.bench_id CROSS JOIN person ON person.id = take.person_id
  WHERE take.ended_at IS NOT NULL AND (take.started_at, take.id) > (@startedAt, @takeId)
    AND take.started_at >= ifnull(@from, '') AND take.started_at < ifnull(@before, '9999')
  ORDER BY take.started_at, take.id LIMIT @limit`

/**
 * The next takes of a choice in the order of their start, so many at a time, so that however many a studio has, no
 * question holds it up. What begins or ends meanwhile moves none that was handed over.
 */
export function takesAfter(
  db: Db,
  choice: TakeChoice,
  after: TakePlace | null,
  limit: number,
): readonly ExportedTake[] {
  const { jobId, ...period } = choice
  const place = { ...period, startedAt: after?.startedAt ?? '', takeId: after?.takeId ?? 0, limit }
  // A job has few takes, found by its spins; of all takes the index of their starts gives the next.
  return jobId === null
    ? prepared<object, ExportedTake>(
        db,
        `SELECT ${columns} FROM take INDEXED BY take_by_start CROSS JOIN shoot ON shoot.id = take.shoot_id ${joins}`,
      ).all(place)
    : prepared<object, ExportedTake>(
        db,
        `SELECT ${columns} FROM shoot CROSS JOIN take ON take.shoot_id = shoot.id AND shoot.job_id = @jobId ${joins}`,
      ).all({ ...place, jobId })
}
