import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { refreshPromises } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { type Studio, theStudio } from './studio.ts'

/** What of the studio's row a person may change; a field that is left out stays as it is. */
export type StudioChange = Partial<Omit<Studio, 'isDemo'>>

const columns: Readonly<Record<keyof StudioChange, string>> = {
  name: 'name',
  legalName: 'legal_name',
  street: 'street',
  postalCode: 'postal_code',
  city: 'city',
  region: 'region',
  country: 'country',
  email: 'email',
  phone: 'phone',
  taxNumber: 'tax_number',
  companyNumber: 'company_number',
  iban: 'iban',
  bic: 'bic',
  currency: 'currency',
  timeZone: 'time_zone',
  locale: 'locale',
  paper: 'paper',
  quoteValidDays: 'quote_valid_days',
  paymentDays: 'payment_days',
  depositPpm: 'deposit_ppm',
  yesDays: 'yes_days',
  benchHourMinor: 'bench_hour_minor',
  deskHourMinor: 'desk_hour_minor',
  secondHourMinor: 'second_hour_minor',
  halfDayMinor: 'half_day_minor',
  dayMinor: 'day_minor',
  minimumMinor: 'minimum_minor',
  rushPpm: 'rush_ppm',
  roundsIncluded: 'rounds_included',
  lateInterestPpm: 'late_interest_ppm',
  lateFeeMinor: 'late_fee_minor',
  terms: 'terms',
}

/**
 * Changes the studio's own row; papers that were sent or issued keep what stood on them. The event holds each
 * field as it was and as it is; where nothing differs none is written.
 * Refuses another currency once anything was priced in the first one.
 */
export function changeStudio(writing: Writing, change: StudioChange): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = theStudio(db)
    const fields = (Object.keys(columns) as (keyof StudioChange)[]).filter(
      (field) => change[field] !== undefined && change[field] !== before[field],
    )
    if (fields.length === 0) return
    if (fields.includes('currency')) refuseNewCurrency(db, before.currency)
    prepared<unknown[]>(
      db,
      `UPDATE studio SET ${fields.map((field) => `${columns[field]} = ?`).join(', ')} WHERE id = 1`,
    ).run(...fields.map((field) => change[field]))
    // An instant may fall on another day of the new zone.
    if (fields.includes('timeZone')) refreshPromises(writing)
    writeEvent(writing, {
      subject: 'studio',
      subjectId: 1,
      what: 'studio changed',
      detail: Object.fromEntries(fields.map((field) => [field, { from: before[field], to: change[field] }])),
    })
  })
}

// Amounts without a currency of their own are in the studio's; these say where the first of them stands.
const amountsByPlace: readonly (readonly [place: string, sql: string])[] = [
  ['a job', 'SELECT 1 FROM job LIMIT 1'],
  ['a quote', 'SELECT 1 FROM quote LIMIT 1'],
  ['an invoice', 'SELECT 1 FROM invoice LIMIT 1'],
  ['a payment', 'SELECT 1 FROM payment LIMIT 1'],
  ['a price list', 'SELECT 1 FROM price_list LIMIT 1'],
  ['a person’s hour', 'SELECT 1 FROM person WHERE hour_minor > 0 LIMIT 1'],
  ['the hire of equipment', 'SELECT 1 FROM equipment WHERE day_minor > 0 LIMIT 1'],
  ['bought-in finishing', 'SELECT 1 FROM finish_class WHERE frame_minor_per_100 > 0 LIMIT 1'],
]

/** Where money has been written in the studio's currency: 'a price list', or undefined while it is free. */
export function whatFixesCurrency(db: Db): string | undefined {
  return amountsByPlace.find(([, sql]) => prepared<[]>(db, sql).get() !== undefined)?.[0]
}

function refuseNewCurrency(db: Db, currency: string): void {
  const place = whatFixesCurrency(db)
  if (place === undefined) return
  throw new Refusal(
    'currency-fixed',
    `The studio’s currency stays ${currency}: ${place} is kept in it already, and its amount would change its meaning. A client may have another currency.`,
    { field: 'currency' },
  )
}
