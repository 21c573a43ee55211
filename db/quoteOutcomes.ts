import type { Outcome } from '../main/trade/priceBands.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Enough to be sure, few enough to be counted while one waits. */
const mostOutcomes = 1000

/**
 * What came of the newest thousand jobs that were quoted since a day in one currency: won where a quote was accepted, lost where the
 * job is written down as lost after a quote was sent. Its price a spin is that of the accepted quote, else of the
 * newest that was sent, the way that was asked for. Jobs that still wait, or were cancelled, say nothing yet; nor do
 * quotes without spins.
 */
export function quoteOutcomes(db: Db, currency: string, sinceDay: string): readonly Outcome[] {
  return prepared<[object], { netMinor: number; spins: number; isWon: 0 | 1 }>(
    db,
    `SELECT q.net_minor AS netMinor, q.state = 'accepted' AS isWon,
       (SELECT count(DISTINCT x.shoot_id) FROM quote_line l JOIN quote_line_shoot x ON x.quote_line_id = l.id
        WHERE l.quote_id = q.id) AS spins
     FROM quote q JOIN job ON job.id = q.job_id
     WHERE q.currency = @currency AND job.cancelled_at IS NULL AND q.sent_at >= @sinceDay
       AND (q.state = 'accepted' OR (job.lost_at IS NOT NULL AND q.state <> 'draft' AND q.id = (
         SELECT o.id FROM quote o WHERE o.job_id = q.job_id AND o.state <> 'draft'
         ORDER BY o.state = 'accepted' DESC, o.version DESC, o.way = 'as asked' DESC, o.way LIMIT 1)))
     ORDER BY q.id DESC LIMIT ${mostOutcomes}`,
  )
    .all({ currency, sinceDay })
    .flatMap(({ netMinor, spins, isWon }) =>
      spins === 0 || netMinor < 0 ? [] : [{ perSpinMinor: Math.round(netMinor / spins), isWon: isWon === 1 }],
    )
}
