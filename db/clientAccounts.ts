import { type AccountEntry, type StatementOfAccount, withBalances } from '../main/trade/accountStatement.ts'
import { ageingOf } from '../main/trade/ageing.ts'
import { creditOf, openSums } from './accounts.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The currencies in which a client has documents or payments. */
export function accountCurrencies(db: Db, clientId: Id<'client'>): readonly string[] {
  return prepared<object, { currency: string }>(
    db,
    `SELECT currency FROM invoice WHERE client_id = :clientId AND state = 'issued'
     UNION SELECT currency FROM payment WHERE client_id = :clientId ORDER BY currency`,
  )
    .all({ clientId })
    .map(({ currency }) => currency)
}

// Everything that moves the balance, each with its sign. Balance = what is open less the client's credit, since
// shares of payments stand on both sides.
const entries = `
  SELECT i.issue_day AS day, 1 AS rank, i.id AS id, i.kind AS kind, i.id AS invoiceId, i.number AS text,
    CASE i.kind WHEN 'credit note' THEN NULL ELSE i.due_day END AS dueDay,
    CASE i.kind WHEN 'credit note' THEN -i.payable_minor ELSE i.payable_minor END AS amountMinor
  FROM invoice i WHERE i.client_id = :clientId AND i.currency = :currency AND i.state = 'issued'
  UNION ALL
  SELECT p.day, 2, p.id,
    CASE WHEN p.reverses_id IS NOT NULL THEN 'payment taken back' WHEN p.amount_minor < 0 THEN 'paid back' ELSE 'payment' END,
    NULL, coalesce(nullif(p.reference, ''), nullif(p.note, ''), ''), NULL, -p.amount_minor
  FROM payment p WHERE p.client_id = :clientId AND p.currency = :currency
  UNION ALL
  SELECT w.day, 3, w.id, CASE WHEN w.amount_minor < 0 THEN 'write-off taken back' ELSE 'write-off' END,
    w.invoice_id, i.number || ': ' || w.reason, NULL, -w.amount_minor
  FROM invoice i JOIN write_off w ON w.invoice_id = i.id
  WHERE i.client_id = :clientId AND i.currency = :currency AND i.state = 'issued'`

/** A client's statement of account in one currency over a period, both days within. */
export function statementOfAccount(
  db: Db,
  of: {
    readonly clientId: Id<'client'>
    readonly currency: string
    readonly fromDay: string
    readonly toDay: string
  },
  today: string,
): StatementOfAccount {
  const openingMinor =
    prepared<object, { minor: number }>(
      db,
      `SELECT ifnull(sum(amountMinor), 0) AS minor FROM (${entries}) WHERE day < :fromDay AND :toDay = :toDay`,
    ).get(of)?.minor ?? 0
  const rows = prepared<object, AccountEntry>(
    db,
    `SELECT day, kind, invoiceId, text, dueDay, amountMinor FROM (${entries})
     WHERE day BETWEEN :fromDay AND :toDay ORDER BY day, rank, id`,
  ).all(of)
  const lines = withBalances(openingMinor, rows)
  const { clientId, currency } = of
  const open = openSums(db, today, clientId).find((sums) => sums.currency === currency)
  return {
    ...of,
    openingMinor,
    lines,
    closingMinor: lines.at(-1)?.balanceMinor ?? openingMinor,
    drawnUpDay: today,
    openMinor: open?.openMinor ?? 0,
    ageing: open?.ageing ?? ageingOf([], today),
    creditMinor: creditOf(db, clientId).find((credit) => credit.currency === currency)?.minor ?? 0,
  }
}

/** Payments of a client of which something is still credit, or that were paid back, newest first, at most 200. */
export function paymentsOfClient(db: Db, clientId: Id<'client'>, currency: string) {
  return prepared<
    [number, string],
    {
      readonly id: Id<'payment'>
      readonly day: string
      readonly amountMinor: number
      readonly unusedMinor: number
      readonly way: string
      readonly reference: string | null
      readonly note: string | null
      readonly isTakenBack: 0 | 1
      readonly takesBack: 0 | 1
    }
  >(
    db,
    `SELECT p.id, p.day, p.amount_minor AS amountMinor, p.way, p.reference, p.note,
       p.amount_minor - (SELECT ifnull(sum(s.amount_minor), 0) FROM payment_share s WHERE s.payment_id = p.id) AS unusedMinor,
       EXISTS (SELECT 1 FROM payment r WHERE r.reverses_id = p.id) AS isTakenBack, p.reverses_id IS NOT NULL AS takesBack
     FROM payment p WHERE p.client_id = ? AND p.currency = ? ORDER BY p.day DESC, p.id DESC LIMIT 200`,
  )
    .all(clientId, currency)
    .map((row) => ({ ...row, isTakenBack: row.isTakenBack === 1, takesBack: row.takesBack === 1 }))
}
