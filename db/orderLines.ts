import type { OrderLine } from '../main/trade/invoice.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/**
 * What issued invoices, less their credit notes, hold of a source line: `column` names the source. What was taken
 * off or put on a line is left aside: a favour on one part must not be asked for with the next.
 */
const billedOf = (column: 'quote_line_id' | 'extra_line_id', line: string) => `
  (SELECT ifnull(sum(l.quantity_milli * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END), 0) FROM invoice_line l
     JOIN invoice i ON i.id = l.invoice_id WHERE l.${column} = ${line}.id AND i.state = 'issued' AND i.kind <> 'deposit')
     AS billedQuantityMilli,
  (SELECT ifnull(sum((l.net_minor + l.allowance_minor - l.charge_minor) * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END), 0) FROM invoice_line l
     JOIN invoice i ON i.id = l.invoice_id WHERE l.${column} = ${line}.id AND i.state = 'issued' AND i.kind <> 'deposit')
     AS billedNetMinor`

/** A spin counts as delivered when each of its deliverables went out in a delivery sent until then. */
const isDelivered = `NOT EXISTS (SELECT 1 FROM deliverable d WHERE d.brief_id = ifnull(s.brief_id, j.brief_id)
  AND NOT EXISTS (SELECT 1 FROM delivery_item di JOIN delivery dv ON dv.id = di.delivery_id
    WHERE di.shoot_id = s.id AND di.deliverable_id = d.id AND dv.sent_at <= @until))`

/** A spin was turned when each of its rows has a kept take, or its files went out all the same. */
const isTurned = `(${isDelivered} OR NOT EXISTS (SELECT 1 FROM shoot_row r WHERE r.shoot_id = s.id
  AND NOT EXISTS (SELECT 1 FROM take t WHERE t.shoot_id = s.id AND t.row = r.row AND t.verdict = 'keep' AND t.ended_at <= @until)))`

/** Of the spins a line names that are not cancelled, those that are turned or those that are not. */
const spinsOf = (which: string) => `(SELECT count(*) FROM quote_line_shoot x JOIN shoot s ON s.id = x.shoot_id
  JOIN job j ON j.id = s.job_id WHERE x.quote_line_id = ql.id AND s.cancelled_at IS NULL AND ${which})`

/**
 * The order of a job: the lines of its accepted quote and of its agreed extras, with what was delivered and
 * what is billed already. Empty while no quote is accepted and no extra agreed.
 * @param until  an instant: what was delivered, turned or agreed later is left aside; null for all of it
 */
export function orderLinesOf(db: Db, jobId: Id<'job'>, until: string | null = null): readonly OrderLine[] {
  const asked = { jobId, until: until ?? endOfTime }
  const quoted = prepared<object, Row>(
    db,
    `SELECT ql.id AS lineId, ql.kind, ql.text, ql.quantity_milli AS quantityMilli, ql.unit,
       ql.price_minor AS priceMinor, ql.base_milli AS baseMilli, ql.net_minor AS netMinor, ql.tax_rate_id AS taxRateId,
       (SELECT count(*) FROM quote_line_shoot x WHERE x.quote_line_id = ql.id) AS spins,
       ${spinsOf(isDelivered)} AS spinsDelivered,
       ql.kind = 'days' AND ${spinsOf(`NOT ${isTurned}`)} = 0 AND ${spinsOf(isTurned)} > 0 AS isTurned,
       ${billedOf('quote_line_id', 'ql')}
     FROM quote q JOIN quote_line ql ON ql.quote_id = q.id
     WHERE q.job_id = @jobId AND q.state = 'accepted' ORDER BY ql.position`,
  ).all(asked)
  const extras = prepared<object, Row>(
    db,
    `SELECT el.id AS lineId, 'extra' AS kind, el.text, el.quantity_milli AS quantityMilli, el.unit,
       el.price_minor AS priceMinor, el.base_milli AS baseMilli, el.net_minor AS netMinor, el.tax_rate_id AS taxRateId,
       0 AS spins, 0 AS spinsDelivered, 0 AS isTurned, ${billedOf('extra_line_id', 'el')}
     FROM extra e JOIN extra_line el ON el.extra_id = e.id
     WHERE e.job_id = @jobId AND e.state = 'agreed' AND e.decided_at <= @until ORDER BY e.number, el.position`,
  ).all(asked)
  return [...quoted.map((line) => toLine('quote', line)), ...extras.map((line) => toLine('extra', line))]
}

const endOfTime = '9999-12-31T23:59:59.999Z'

type Row = Omit<OrderLine, 'source' | 'isTurned'> & { readonly isTurned: 0 | 1 }

function toLine(source: OrderLine['source'], { isTurned, ...line }: Row): OrderLine {
  return { ...line, source, isTurned: isTurned === 1 }
}
