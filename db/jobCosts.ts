import { Refusal } from '../main/trade/refusal.ts'
import { keepFile } from './attachments.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

export const costKinds = ['hire', 'carrier', 'travel', 'finishing', 'props', 'hours', 'other'] as const
export type CostKind = (typeof costKinds)[number]

/** What a person types of a cost. Amounts before tax, in minor units; at least one of planned and actual. */
export interface CostDraft {
  readonly kind: CostKind
  readonly text: string
  /** Of the receipt, or the day on which it is expected. */
  readonly day: string
  readonly plannedMinor: number | null
  readonly actualMinor: number | null
  /** Tax on the actual amount, as the receipt says it. */
  readonly taxMinor: number
  readonly supplier: string | null
  /** The client pays it: once it is actual, the next invoice proposes it as a line. */
  readonly isPassedOn: boolean
}

/** A cost of a job. */
export interface JobCost extends CostDraft {
  readonly id: Id<'job_cost'>
  readonly jobId: Id<'job'>
  readonly currency: string
  readonly receipt: { readonly id: Id<'attachment'>; readonly name: string } | null
  /** How much of it stands on issued invoices, in thousandths, less what was credited. */
  readonly billedMilli: number
}

type Row = Omit<JobCost, 'isPassedOn' | 'receipt'> & {
  readonly isPassedOn: 0 | 1
  readonly receiptId: Id<'attachment'> | null
  readonly receiptName: string | null
}

const columns = `c.id, c.job_id AS jobId, c.kind, c.text, c.day, c.currency, c.planned_minor AS plannedMinor,
  c.actual_minor AS actualMinor, c.tax_minor AS taxMinor, c.supplier, c.passed_on AS isPassedOn,
  c.receipt_id AS receiptId, a.name AS receiptName,
  (SELECT ifnull(sum(l.quantity_milli * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END), 0) FROM invoice_line l
     JOIN invoice i ON i.id = l.invoice_id WHERE l.job_cost_id = c.id AND i.state = 'issued') AS billedMilli`

const from = 'FROM job_cost c LEFT JOIN attachment a ON a.id = c.receipt_id'

function toCost({ isPassedOn, receiptId, receiptName, ...row }: Row): JobCost {
  const receipt = receiptId === null ? null : { id: receiptId, name: receiptName ?? '' }
  return { ...row, isPassedOn: isPassedOn === 1, receipt }
}

/** The costs of a job, by day. */
export function costsOfJob(db: Db, jobId: Id<'job'>): readonly JobCost[] {
  return prepared<[number], Row>(db, `SELECT ${columns} ${from} WHERE c.job_id = ? ORDER BY c.day, c.id`)
    .all(jobId)
    .map(toCost)
}

function theCost(db: Db, costId: Id<'job_cost'>): JobCost {
  const row = prepared<[number], Row>(db, `SELECT ${columns} ${from} WHERE c.id = ?`).get(costId)
  if (!row) throw new Refusal('no-cost', 'This cost is not in the studio any more. Look at the list.')
  return toCost(row)
}

/** Writes a cost down, in the studio's currency. Refuses one without any amount, and tax without an actual one. */
export function addCost(writing: Writing, jobId: Id<'job'>, draft: CostDraft): Id<'job_cost'> {
  const { db } = writing
  refuseAmounts(draft)
  return inOneTransaction(db, () => {
    // Refuses a job that is not in the studio.
    jobById(db, jobId)
    const { currency } = theStudio(db)
    const id = newId<Id<'job_cost'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO job_cost (kind, text, day, planned_minor, actual_minor, tax_minor, supplier, passed_on, job_id, currency)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(...values(draft), jobId, currency),
    )
    tell(writing, { id, jobId, text: draft.text }, 'cost written down', { ...draft, currency })
    return id
  })
}

/** Changes a cost. What an issued invoice passed on of it stays on that invoice as it was. */
export function changeCost(writing: Writing, costId: Id<'job_cost'>, draft: CostDraft): void {
  refuseAmounts(draft)
  inOneTransaction(writing.db, () => {
    const before = theCost(writing.db, costId)
    prepared<unknown[]>(
      writing.db,
      `UPDATE job_cost SET kind = ?, text = ?, day = ?, planned_minor = ?, actual_minor = ?, tax_minor = ?, supplier = ?,
         passed_on = ? WHERE id = ?`,
    ).run(...values(draft), costId)
    tell(writing, { ...before, text: draft.text }, 'cost changed', { before, after: draft })
  })
}

/** Takes off a cost that was written down by mistake; the log keeps it. Refuses one that stands on an invoice. */
export function removeCost(writing: Writing, costId: Id<'job_cost'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const cost = theCost(db, costId)
    const bill = prepared<[number], { number: string | null }>(
      db,
      'SELECT i.number FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id WHERE l.job_cost_id = ? LIMIT 1',
    ).get(costId)
    if (bill) {
      throw new Refusal(
        'cost-billed',
        `This cost stands on ${bill.number === null ? 'the draft of an invoice. Take its line off there first.' : `${bill.number}, so it stays. Correct its amounts instead.`}`,
      )
    }
    prepared<[number]>(db, 'DELETE FROM job_cost WHERE id = ?').run(costId)
    tell(writing, cost, 'cost taken off', { cost })
  })
}

/** Keeps the receipt of a cost; another one takes its place, and the file of the first stays in the studio. */
export function keepReceipt(
  writing: Writing & { readonly folder: string },
  costId: Id<'job_cost'>,
  file: { readonly bytes: Uint8Array; readonly name: string; readonly mediaType: string },
): void {
  const { db, folder } = writing
  inOneTransaction(db, () => {
    const cost = theCost(db, costId)
    const receiptId = keepFile(writing, folder, file.bytes, file.name, file.mediaType)
    prepared<[number, number]>(db, 'UPDATE job_cost SET receipt_id = ? WHERE id = ?').run(receiptId, costId)
    tell(writing, cost, 'receipt kept', { file: file.name, before: cost.receipt })
  })
}

function refuseAmounts({ plannedMinor, actualMinor, taxMinor }: CostDraft): void {
  if (plannedMinor === null && actualMinor === null) {
    throw new Refusal(
      'cost-without-amount',
      'This cost has no amount. Enter what is planned, or what was paid.',
      { field: 'plannedMinor' },
    )
  }
  if (actualMinor === null && taxMinor > 0) {
    throw new Refusal(
      'tax-on-nothing',
      'Tax stands on the receipt. Enter what was paid before tax as well.',
      {
        field: 'actualMinor',
      },
    )
  }
}

function values(draft: CostDraft): readonly unknown[] {
  const { kind, text, day, plannedMinor, actualMinor, taxMinor, supplier, isPassedOn } = draft
  return [kind, text, day, plannedMinor, actualMinor, taxMinor, supplier, isPassedOn ? 1 : 0]
}

function tell(
  writing: Writing,
  cost: Pick<JobCost, 'id' | 'jobId' | 'text'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, {
    subject: 'job cost',
    subjectId: cost.id,
    jobId: cost.jobId,
    what,
    detail: { name: cost.text, ...detail },
  })
}
