import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import {
  canPropose,
  type ReshootCause,
  type ReshootFacts,
  reshootStanding,
} from '../main/trade/reshootBilling.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { spinPriceMinor } from './terms.ts'

/** A reshoot of a job with all that decides whether it is billed. */
export interface Reshoot extends ReshootFacts {
  readonly id: Id<'reshoot'>
  readonly jobId: Id<'job'>
  readonly spin: string
  readonly reason: string
  readonly askedAt: string
  readonly extraId: Id<'extra'> | null
  readonly extraNumber: number | null
  /** The price of its spin in the accepted quote, and the lowest price of a spin there; minor units before tax. */
  readonly spinPriceMinor: number
  readonly followingPriceMinor: number
}

// Rounds of the client's wish on the spin, up to this one: its own reshoots, and the days it asked for rework.
const round = `(SELECT count(*) FROM reshoot o WHERE o.shoot_id = r.shoot_id AND o.cause = 'client''s wish'
    AND (o.asked_at < r.asked_at OR (o.asked_at = r.asked_at AND o.id <= r.id)))
  + (SELECT count(DISTINCT a.answered_at) FROM answer a WHERE a.shoot_id = r.shoot_id AND a.verdict = 'change'
    AND a.needs = 'rework' AND a.cause = 'client''s wish' AND a.withdrawn_at IS NULL AND a.answered_at < r.asked_at)`

const reshootColumns = `r.id, s.job_id AS jobId, s.name AS spin, r.cause, r.reason, r.asked_at AS askedAt,
  r.extra_id AS extraId, e.number AS extraNumber, e.state AS extra, r.let_go_reason AS letGoReason,
  ${round} AS round, job.rounds_included AS roundsIncluded,
  ${spinPriceMinor('r.shoot_id')} AS spinPriceMinor,
  (SELECT ifnull(min(${spinPriceMinor('z.id')}), 0) FROM shoot z WHERE z.job_id = s.job_id AND z.cancelled_at IS NULL
    AND EXISTS (SELECT 1 FROM quote_line_shoot x JOIN quote_line l ON l.id = x.quote_line_id
      JOIN quote q ON q.id = l.quote_id WHERE x.shoot_id = z.id AND q.state = 'accepted' AND l.kind IN ('spins', 'days')))
    AS followingPriceMinor`
const reshootTables = `reshoot r JOIN shoot s ON s.id = r.shoot_id JOIN job ON job.id = s.job_id
  LEFT JOIN extra e ON e.id = r.extra_id`

/** The reshoots of a job, the latest first. */
export function reshootsOf(db: Db, jobId: Id<'job'>): readonly Reshoot[] {
  return prepared<[number], Reshoot>(
    db,
    `SELECT ${reshootColumns} FROM ${reshootTables} WHERE s.job_id = ? ORDER BY r.asked_at DESC, r.id DESC`,
  ).all(jobId)
}

/** A reshoot that may be proposed as an extra or let go now; refuses one that is never billed, or that an extra bills. */
export function billableReshoot(db: Db, reshootId: Id<'reshoot'>): Reshoot {
  const reshoot = prepared<[number], Reshoot>(
    db,
    `SELECT ${reshootColumns} FROM ${reshootTables} WHERE r.id = ?`,
  ).get(reshootId)
  if (!reshoot) throw new Refusal('no-reshoot', 'This reshoot is not in the studio.')
  const standing = reshootStanding(reshoot)
  if (canPropose(standing)) return reshoot
  throw new Refusal(
    'reshoot-not-billable',
    standing === 'ours' || standing === 'included'
      ? `“${reshoot.spin}” was turned again without charge: ${standing === 'ours' ? 'the mistake was ours' : 'the round is included'}.`
      : `What becomes of this reshoot of “${reshoot.spin}” is decided already. Look at the job’s extras again.`,
  )
}

/** Ties a reshoot to the extra that bills it. */
export function billReshootBy(db: Db, reshootId: Id<'reshoot'>, extraId: Id<'extra'>): void {
  prepared<[number, number]>(db, 'UPDATE reshoot SET extra_id = ? WHERE id = ?').run(extraId, reshootId)
}

/** Lets a billable reshoot go unbilled, with a reason. */
export function letReshootGo(writing: Writing, reshootId: Id<'reshoot'>, reason: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const { jobId, spin } = billableReshoot(db, reshootId)
    prepared<[string, number]>(db, 'UPDATE reshoot SET let_go_reason = ?, extra_id = NULL WHERE id = ?').run(
      reason,
      reshootId,
    )
    writeEvent(writing, {
      subject: 'reshoot',
      subjectId: reshootId,
      jobId,
      what: 'reshoot let go unbilled',
      detail: { spin, reason },
    })
  })
}

/** What unpaid reshoots of a year cost at the bench. */
export interface UnpaidReshoots {
  readonly year: number
  readonly cause: ReshootCause
  readonly reshoots: number
  /** The time of their takes, from begin to end, in ms. */
  readonly benchMs: number
}

/**
 * The takes of reshoots that no agreed extra pays, by the year of the take and the cause, the latest year first.
 * A take belongs to the last reshoot called for before it began. The join is a cross one so that the reshoots are read and
 * not all takes.
 */
export function unpaidReshoots(db: Db): readonly UnpaidReshoots[] {
  const zone = studioZone(db)
  const takes = prepared<[], { reshootId: number; cause: ReshootCause; startedAt: string; benchMs: number }>(
    db,
    `SELECT r.id AS reshootId, r.cause, t.started_at AS startedAt,
       CAST(round((julianday(t.ended_at) - julianday(t.started_at)) * 86400000) AS INTEGER) AS benchMs
     FROM reshoot r CROSS JOIN take t ON t.shoot_id = r.shoot_id AND t.started_at > r.asked_at AND t.ended_at IS NOT NULL
     LEFT JOIN extra e ON e.id = r.extra_id
     WHERE ifnull(e.state, '') <> 'agreed' AND NOT EXISTS (SELECT 1 FROM reshoot later
       WHERE later.shoot_id = r.shoot_id AND later.asked_at > r.asked_at AND later.asked_at < t.started_at)`,
  ).all()
  const byYear = Map.groupBy(takes, ({ startedAt, cause }) => `${yearOf(startedAt, zone)} ${cause}`)
  return [...byYear]
    .map(([key, of]) => ({
      year: Number(key.slice(0, 4)),
      cause: key.slice(5) as ReshootCause,
      reshoots: new Set(of.map(({ reshootId }) => reshootId)).size,
      benchMs: of.reduce((sum, { benchMs }) => sum + benchMs, 0),
    }))
    .sort((a, b) => b.year - a.year || b.benchMs - a.benchMs)
}

/** Only about New Year can the studio's day lie in another year than that of UTC; asking for each would be dear. */
function yearOf(instant: string, zone: string): string {
  const dayOfYear = instant.slice(5, 10)
  return dayOfYear === '12-31' || dayOfYear === '01-01'
    ? dayOf(instant, zone).slice(0, 4)
    : instant.slice(0, 4)
}
