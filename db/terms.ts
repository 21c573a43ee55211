import type { Term, TermKind } from '../main/trade/terms.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** What the studio charges for cancelling, moving late and an idle bench, by kind, the fewest days first. */
export function listTerms(db: Db): readonly Term[] {
  return prepared<[], Term>(
    db,
    `SELECT kind, within_days AS withinDays, charge_ppm AS chargePpm FROM term ORDER BY kind, within_days`,
  ).all()
}

/** Puts new terms in the place of all there are; quotes that were sent keep the words that stood on them. */
export function changeTerms(writing: Writing, terms: readonly Term[]): void {
  const { db } = writing
  inOneTransaction(db, () => {
    prepared<[]>(db, 'DELETE FROM term').run()
    for (const { kind, withinDays, chargePpm } of terms) {
      prepared<unknown[]>(db, 'INSERT INTO term (kind, within_days, charge_ppm) VALUES (?, ?, ?)').run(
        kind,
        withinDays,
        chargePpm,
      )
    }
    writeEvent(writing, { subject: 'studio', subjectId: 1, what: 'terms changed', detail: { terms } })
  })
}

/** Something that happened to a job's booked bench time and that terms may charge for. */
export interface TermFact {
  readonly kind: TermKind
  readonly bookingId: Id<'booking'>
  /** When it was cancelled or moved, or when the idle block began. */
  readonly at: string
  /** When the block began, or would have begun. */
  readonly startsAt: string
  readonly endsAt: string
  /** Who cancelled or moved it in the studio; null for an idle bench. */
  readonly person: string | null
  /** The spins concerned: those booked in it, or of an idle block those that had no take and no sample. */
  readonly spins: number
  /** Their price in the accepted quote, before tax, in minor units of the job's currency. */
  readonly priceMinor: number
  readonly extraId: Id<'extra'> | null
  readonly letGoReason: string | null
}

interface FactRow extends Omit<TermFact, 'startsAt' | 'endsAt'> {
  readonly startsAt: string
  readonly endsAt: string
  /** Of a moved block: the day and minute it was moved from, in the studio's time. */
  readonly fromDay: string | null
}

/** The price of a spin in the accepted quote: its share of the lines that price it, finishing aside. */
export const spinPriceMinor = (shoot: string) => `(SELECT ifnull(sum(round(ql.net_minor * 1.0
    / (SELECT count(*) FROM quote_line_shoot y WHERE y.quote_line_id = ql.id))), 0)
  FROM quote_line_shoot x JOIN quote_line ql ON ql.id = x.quote_line_id JOIN quote q ON q.id = ql.quote_id
  WHERE x.shoot_id = ${shoot} AND q.state = 'accepted' AND ql.kind IN ('spins', 'days'))`

const sumOfSpins = (
  which: string,
) => `(SELECT count(*) FROM booking_shoot bs WHERE bs.booking_id = b.id AND ${which}) AS spins,
  (SELECT ifnull(sum(${spinPriceMinor('bs.shoot_id')}), 0) FROM booking_shoot bs
    WHERE bs.booking_id = b.id AND ${which}) AS priceMinor`

const caseOf = (kind: string, at: string) => `
  (SELECT c.extra_id FROM term_case c LEFT JOIN extra e ON e.id = c.extra_id WHERE c.kind = '${kind}'
    AND c.booking_id = b.id AND c.at = ${at}) AS extraId,
  (SELECT c.let_go_reason FROM term_case c WHERE c.kind = '${kind}' AND c.booking_id = b.id AND c.at = ${at}) AS letGoReason`

// A spin that had no take in its block, and of which a sample was not here when the block ended.
const stoodIdle = `NOT EXISTS (SELECT 1 FROM take t WHERE t.shoot_id = bs.shoot_id
    AND t.started_at >= b.starts_at AND t.started_at < b.ends_at)
  AND EXISTS (SELECT 1 FROM shoot_product sp LEFT JOIN sample s ON s.product_id = sp.product_id AND s.job_id = b.job_id
    WHERE sp.shoot_id = bs.shoot_id AND ifnull((SELECT m.state FROM sample_move m
      WHERE m.sample_id = s.id AND m.at < b.ends_at ORDER BY m.at DESC, m.id DESC LIMIT 1), 'expected') NOT IN ('in', 'kept'))`

/** What happened to a job's booked bench time, the latest first, whatever the terms say of it. */
export function termFacts(
  db: Db,
  jobId: Id<'job'>,
  now: string,
): readonly (TermFact & { fromDay: string | null })[] {
  return prepared<object, FactRow>(
    db,
    `SELECT 'cancelling' AS kind, b.id AS bookingId, b.cancelled_at AS at, b.starts_at AS startsAt, b.ends_at AS endsAt,
       NULL AS fromDay, (SELECT p.name FROM event v JOIN person p ON p.id = v.person_id WHERE v.subject = 'booking'
         AND v.subject_id = b.id AND v.what = 'booking cancelled' ORDER BY v.id DESC LIMIT 1) AS person,
       ${sumOfSpins('true')}, ${caseOf('cancelling', 'b.cancelled_at')}
     FROM booking b WHERE b.job_id = @jobId AND b.kind = 'spins' AND b.cancelled_at IS NOT NULL
     UNION ALL
     SELECT 'moving late', b.id, v.at, b.starts_at, b.ends_at, v.detail ->> '$.before.day', p.name,
       ${sumOfSpins('true')}, ${caseOf('moving late', 'v.at')}
     FROM event v JOIN booking b ON b.id = v.subject_id JOIN person p ON p.id = v.person_id
     WHERE v.job_id = @jobId AND v.subject = 'booking' AND v.what = 'booking moved' AND b.kind = 'spins'
       AND v.detail ->> '$.before.day' <> v.detail ->> '$.after.day'
     UNION ALL
     SELECT 'idle bench', b.id, b.starts_at, b.starts_at, b.ends_at, NULL, NULL,
       ${sumOfSpins(stoodIdle)}, ${caseOf('idle bench', 'b.starts_at')}
     FROM booking b WHERE b.job_id = @jobId AND b.kind = 'spins' AND b.cancelled_at IS NULL AND b.ends_at <= @now
     ORDER BY at DESC`,
  )
    .all({ jobId, now })
    .filter(({ kind, spins }) => kind !== 'idle bench' || spins > 0)
}

/** Keeps what became of a case: the extra that charges it, or why it is let go. */
export function keepTermCase(
  db: Db,
  of: Pick<TermFact, 'kind' | 'bookingId' | 'at' | 'extraId' | 'letGoReason'>,
): void {
  prepared<unknown[]>(
    db,
    `INSERT OR REPLACE INTO term_case (kind, booking_id, at, extra_id, let_go_reason) VALUES (?, ?, ?, ?, ?)`,
  ).run(of.kind, of.bookingId, of.at, of.extraId, of.letGoReason)
}
