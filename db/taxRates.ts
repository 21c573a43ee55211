import type { NamedRate, TaxCategory } from '../main/trade/bill.ts'
import { refuseContradiction } from '../main/trade/billTax.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A rate of tax with its category of EN 16931-1; days of validity are whole, both ends included. */
export interface TaxRate {
  readonly id: Id<'tax_rate'>
  readonly name: string
  readonly category: TaxCategory
  readonly ratePpm: number
  /** The parts of a sales tax, which add up to the rate; empty where it is one. */
  readonly namedRates: readonly NamedRate[]
  readonly exemptionReason: string | null
  readonly isDefault: boolean
  readonly validFrom: string | null
  readonly validTo: string | null
}

export type TaxRateDraft = Omit<TaxRate, 'id'>

const rateColumns = `id, name, category, rate_ppm AS ratePpm, named_rates AS namedRates,
  exemption_reason AS exemptionReason, is_default AS isDefault, valid_from AS validFrom, valid_to AS validTo`

export function listTaxRates(db: Db): readonly TaxRate[] {
  return prepared<[], Omit<TaxRate, 'isDefault' | 'namedRates'> & { isDefault: 0 | 1; namedRates: string }>(
    db,
    `SELECT ${rateColumns} FROM tax_rate ORDER BY is_default DESC, valid_to IS NOT NULL, rate_ppm DESC, id`,
  )
    .all()
    .map((row) => ({
      ...row,
      isDefault: row.isDefault === 1,
      namedRates: JSON.parse(row.namedRates) as readonly NamedRate[],
    }))
}

/** The rate, which a line of the store names. */
export function taxRateById(db: Db, taxRateId: number): TaxRate {
  const rate = listTaxRates(db).find(({ id }) => id === taxRateId)
  if (!rate) throw new Error(`There is no tax rate ${taxRateId}.`)
  return rate
}

/** The rate a client is billed at: its own, else the studio's default. */
export function taxRateOfClient(db: Db, clientId: Id<'client'>): Id<'tax_rate'> {
  const row = prepared<[number], { id: Id<'tax_rate'> | null }>(
    db,
    `SELECT ifnull(tax_rate_id, (SELECT id FROM tax_rate WHERE is_default = 1)) AS id FROM client WHERE id = ?`,
  ).get(clientId)
  if (!row?.id) {
    throw new Refusal(
      'no-tax-rate',
      'The studio has no default tax rate. Choose one under Studio, or give the client its own.',
    )
  }
  return row.id
}

/** Adds a rate. Refuses one that contradicts itself. */
export function addTaxRate(writing: Writing, draft: TaxRateDraft): Id<'tax_rate'> {
  const { db } = writing
  refuseContradiction(draft)
  return inOneTransaction(db, () => {
    if (draft.isDefault) noDefault(db)
    const id = newId<Id<'tax_rate'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO tax_rate (name, category, rate_ppm, named_rates, exemption_reason, is_default, valid_from, valid_to)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(...values(draft)),
    )
    writeEvent(writing, {
      subject: 'tax rate',
      subjectId: id,
      what: 'tax rate added',
      detail: { ...draft },
    })
    return id
  })
}

/** Changes a rate. Refuses another category or rate once a sent quote is taxed by it: add a new rate instead. */
export function changeTaxRate(writing: Writing, id: Id<'tax_rate'>, draft: TaxRateDraft): void {
  const { db } = writing
  refuseContradiction(draft)
  inOneTransaction(db, () => {
    const before = listTaxRates(db).find((rate) => rate.id === id)
    if (!before) throw new Refusal('no-such-tax-rate', 'This tax rate is not in the studio.')
    const isOther =
      before.category !== draft.category ||
      before.ratePpm !== draft.ratePpm ||
      JSON.stringify(before.namedRates) !== JSON.stringify(draft.namedRates)
    if (isOther && standsOnSentQuote(db, id)) {
      throw new Refusal(
        'tax-rate-in-use',
        `“${before.name}” stands on quotes that were sent, so its rate stays. End it with a last day, and add the new rate beside it.`,
        { field: 'ratePpm' },
      )
    }
    if (draft.isDefault) noDefault(db)
    prepared<unknown[]>(
      db,
      `UPDATE tax_rate SET name = ?, category = ?, rate_ppm = ?, named_rates = ?, exemption_reason = ?, is_default = ?, valid_from = ?,
         valid_to = ? WHERE id = ?`,
    ).run(...values(draft), id)
    writeEvent(writing, {
      subject: 'tax rate',
      subjectId: id,
      what: 'tax rate changed',
      detail: { before, after: draft },
    })
  })
}

function noDefault(db: Db): void {
  prepared<[]>(db, 'UPDATE tax_rate SET is_default = 0 WHERE is_default = 1').run()
}

function standsOnSentQuote(db: Db, id: Id<'tax_rate'>): boolean {
  const row = prepared<[number, number], { found: 0 | 1 }>(
    db,
    `SELECT EXISTS (SELECT 1 FROM quote WHERE state <> 'draft' AND tax_rate_id = ?)
       OR EXISTS (SELECT 1 FROM quote_line l JOIN quote q ON q.id = l.quote_id
         WHERE q.state <> 'draft' AND l.tax_rate_id = ?) AS found`,
  ).get(id, id)
  return row?.found === 1
}

function values(draft: TaxRateDraft): readonly unknown[] {
  return [
    draft.name,
    draft.category,
    draft.ratePpm,
    JSON.stringify(draft.namedRates),
    draft.exemptionReason,
    draft.isDefault ? 1 : 0,
    draft.validFrom,
    draft.validTo,
  ]
}
