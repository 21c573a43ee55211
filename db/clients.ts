import type { PaperReader } from '../main/trade/paperFigures.ts'
import { type BriefDraft, insertBrief, rewriteBrief } from './briefs.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { neverLate } from './jobLists.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

export interface Contact {
  readonly id: Id<'contact'>
  readonly name: string
  readonly role: string | null
  readonly email: string | null
  readonly phone: string | null
  readonly isMain: boolean
}

/** Who pays, and what holds for every job of theirs. Rates and days of null mean 'as the studio'. */
export interface Client {
  readonly id: Id<'client'>
  readonly name: string
  readonly trade: string | null
  readonly street: string | null
  readonly postalCode: string | null
  readonly city: string | null
  readonly region: string | null
  readonly country: string
  readonly taxNumber: string | null
  readonly currency: string
  readonly language: 'en' | 'de'
  readonly taxRateId: Id<'tax_rate'> | null
  readonly paymentDays: number | null
  /** Which of these the client needs on every invoice: its order number (BT-13), reference (BT-10), cost centre (BT-19). */
  readonly orderNumberNeeded: boolean
  readonly referenceNeeded: boolean
  readonly costCentreNeeded: boolean
  /** One invoice a month over all its jobs, in place of one for each. */
  readonly billsMonthly: boolean
  readonly filesAfterPayment: boolean
  readonly priceListId: Id<'price_list'> | null
  readonly standingBriefId: Id<'brief'>
  readonly note: string | null
  readonly archivedAt: string | null
}

export type ClientDraft = Omit<Client, 'id' | 'standingBriefId' | 'archivedAt'>
export type ContactDraft = Omit<Contact, 'id'> & { readonly id?: Id<'contact'> | undefined }

const clientColumns = `client.id, client.name, trade, street, postal_code AS postalCode, city, region, country,
  tax_number AS taxNumber, currency, language, tax_rate_id AS taxRateId, payment_days AS paymentDays,
  order_number_needed AS orderNumberNeeded, reference_needed AS referenceNeeded,
  cost_centre_needed AS costCentreNeeded, bills_monthly AS billsMonthly, files_after_payment AS filesAfterPayment, price_list_id AS priceListId,
  standing_brief_id AS standingBriefId, client.note, archived_at AS archivedAt`

const clientYesNos = [
  'orderNumberNeeded',
  'referenceNeeded',
  'costCentreNeeded',
  'billsMonthly',
  'filesAfterPayment',
] as const
type ClientYesNo = (typeof clientYesNos)[number]
type ClientRow = Omit<Client, ClientYesNo> & { readonly [K in ClientYesNo]: 0 | 1 }

export function findClient(db: Db, clientId: Id<'client'>): Client | undefined {
  const row = prepared<[number], ClientRow>(db, `SELECT ${clientColumns} FROM client WHERE id = ?`).get(
    clientId,
  )
  if (!row) return undefined
  const yesNos = Object.fromEntries(clientYesNos.map((key) => [key, row[key] === 1]))
  return { ...row, ...(yesNos as { readonly [K in ClientYesNo]: boolean }) }
}

/** How papers are written to a client; plain English where it is none of the studio's. */
export function readerOf(db: Db, clientId: Id<'client'>): PaperReader {
  const reader = prepared<[number], PaperReader>(db, 'SELECT language, country FROM client WHERE id = ?')
  return reader.get(clientId) ?? { language: 'en', country: 'GB' }
}

export function contactsOf(db: Db, clientId: Id<'client'>): readonly Contact[] {
  return prepared<[number], Omit<Contact, 'isMain'> & { isMain: 0 | 1 }>(
    db,
    `SELECT id, name, role, email, phone, is_main AS isMain FROM contact
     WHERE client_id = ? AND left_at IS NULL ORDER BY is_main DESC, name`,
  )
    .all(clientId)
    .map((row) => ({ ...row, isMain: row.isMain === 1 }))
}

/** One line of the list of clients. */
export interface ClientLine {
  readonly id: Id<'client'>
  readonly name: string
  readonly trade: string | null
  readonly city: string | null
  readonly openJobs: number
  readonly nextDueDay: string | null
  readonly products: number
}

/** Orders a list can be read in; fixed texts per name, so that no name from outside reaches the SQL. */
const clientOrders = {
  name: ['client.name COLLATE NOCASE'],
  city: ['client.city COLLATE NOCASE', 'client.name COLLATE NOCASE'],
  openJobs: ['openJobs', 'client.name COLLATE NOCASE'],
  // A client without a due day stands at the end, whichever way the list is read.
  nextDueDay: ['nextDueDay', 'client.name COLLATE NOCASE'],
  products: ['products', 'client.name COLLATE NOCASE'],
} as const satisfies Record<string, readonly string[]>
export type ClientOrder = keyof typeof clientOrders

/** Which clients a list is about. */
export interface ClientFilter {
  /** Part of a name or town, three letters or more; fewer are taken as the beginning of a name. Empty for all. */
  readonly text: string
  readonly archived: boolean
}

/** A page of clients, and how many match in all. */
export function listClients(
  db: Db,
  filter: ClientFilter,
  order: ClientOrder,
  descending: boolean,
  page: Page,
): { readonly lines: readonly ClientLine[]; readonly total: number } {
  const { where, values } = conditionOf(filter)
  const way = descending ? 'DESC' : 'ASC'
  const terms = clientOrders[order].map((term) => `${term} ${way} NULLS LAST`)
  const lines = prepared<unknown[], ClientLine>(
    db,
    `SELECT client.id, client.name, client.trade, client.city,
       (SELECT count(*) FROM job_standing s WHERE s.client_id = client.id AND s.is_open = 1) AS openJobs,
       (SELECT min(due_day) FROM job_standing s WHERE s.client_id = client.id AND s.is_open = 1
          AND s.station NOT IN (${neverLate})) AS nextDueDay,
       (SELECT count(*) FROM product p WHERE p.client_id = client.id AND p.archived_at IS NULL) AS products
     FROM client WHERE ${where} ORDER BY ${terms.join(', ')} LIMIT ? OFFSET ?`,
  ).all(...values, page.limit, page.offset)
  const total = prepared<unknown[], { n: number }>(db, `SELECT count(*) AS n FROM client WHERE ${where}`).get(
    ...values,
  )
  return { lines, total: total?.n ?? 0 }
}

/** The filter as SQL made of fixed texts alone, with the values to bind to it. */
function conditionOf(filter: ClientFilter): { where: string; values: readonly unknown[] } {
  const onList = filter.archived ? 'client.archived_at IS NOT NULL' : 'client.archived_at IS NULL'
  const text = filter.text.trim()
  if (text === '') return { where: onList, values: [] }
  if ([...text].length >= 3) {
    return {
      where: `${onList} AND client.id IN (SELECT ref FROM search WHERE search MATCH ? AND kind = 'client')`,
      values: [`"${text.replaceAll('"', '""')}"`],
    }
  }
  return {
    where: `${onList} AND client.name COLLATE NOCASE >= ? AND client.name COLLATE NOCASE < ?`,
    values: [text, `${text}\u{10ffff}`],
  }
}

/** Every client's name, for a choice. */
export function clientNames(db: Db): readonly { readonly id: Id<'client'>; readonly name: string }[] {
  return prepared<[], { id: Id<'client'>; name: string }>(
    db,
    'SELECT id, name FROM client WHERE archived_at IS NULL ORDER BY name COLLATE NOCASE',
  ).all()
}

/** Adds a client with contacts and a standing brief: all of it or nothing. */
export function addClient(
  writing: Writing,
  draft: ClientDraft,
  contacts: readonly ContactDraft[],
  brief: BriefDraft,
): Id<'client'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const briefId = insertBrief(db, brief)
    const clientId = newId<Id<'client'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO client (name, trade, street, postal_code, city, region, country, tax_number, currency, language,
           tax_rate_id, payment_days, order_number_needed, reference_needed, cost_centre_needed, bills_monthly,
           files_after_payment, price_list_id, note, standing_brief_id, created_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(...clientValues(draft), briefId, writing.now),
    )
    writeContacts(db, clientId, contacts, writing.now)
    writeEvent(writing, {
      subject: 'client',
      subjectId: clientId,
      clientId,
      what: 'client added',
      detail: { name: draft.name },
    })
    return clientId
  })
}

/** Changes a client, its contacts and its standing brief; jobs already begun keep their own brief. */
export function changeClient(
  writing: Writing,
  clientId: Id<'client'>,
  draft: ClientDraft,
  contacts: readonly ContactDraft[],
  brief: BriefDraft,
): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = findClient(db, clientId)
    if (!before) throw new Error(`There is no client ${clientId}.`)
    prepared<unknown[]>(
      db,
      `UPDATE client SET name = ?, trade = ?, street = ?, postal_code = ?, city = ?, region = ?, country = ?,
         tax_number = ?, currency = ?, language = ?, tax_rate_id = ?, payment_days = ?, order_number_needed = ?,
         reference_needed = ?, cost_centre_needed = ?, bills_monthly = ?, files_after_payment = ?, price_list_id = ?, note = ? WHERE id = ?`,
    ).run(...clientValues(draft), clientId)
    rewriteBrief(db, before.standingBriefId, brief)
    writeContacts(db, clientId, contacts, writing.now)
    writeEvent(writing, {
      subject: 'client',
      subjectId: clientId,
      clientId,
      what: 'client changed',
      detail: { before, after: draft },
    })
  })
}

/** Takes a client off the lists or brings it back. Nothing of it is deleted. */
export function archiveClient(writing: Writing, clientId: Id<'client'>, archived: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[string | null, number]>(writing.db, 'UPDATE client SET archived_at = ? WHERE id = ?').run(
      archived ? writing.now : null,
      clientId,
    )
    writeEvent(writing, {
      subject: 'client',
      subjectId: clientId,
      clientId,
      what: archived ? 'client taken off the list' : 'client brought back',
    })
  })
}

function clientValues(draft: ClientDraft): readonly unknown[] {
  return [
    draft.name,
    draft.trade,
    draft.street,
    draft.postalCode,
    draft.city,
    draft.region,
    draft.country,
    draft.taxNumber,
    draft.currency,
    draft.language,
    draft.taxRateId,
    draft.paymentDays,
    draft.orderNumberNeeded ? 1 : 0,
    draft.referenceNeeded ? 1 : 0,
    draft.costCentreNeeded ? 1 : 0,
    draft.billsMonthly ? 1 : 0,
    draft.filesAfterPayment ? 1 : 0,
    draft.priceListId,
    draft.note,
  ]
}

/** A contact that is no longer named has left: old papers still point at it. */
function writeContacts(db: Db, clientId: Id<'client'>, contacts: readonly ContactDraft[], now: string): void {
  const kept = contacts.flatMap(({ id }) => (id === undefined ? [] : [id]))
  prepared<unknown[]>(
    db,
    `UPDATE contact SET left_at = ?, is_main = 0
     WHERE client_id = ? AND left_at IS NULL AND id NOT IN (SELECT value FROM json_each(?))`,
  ).run(now, clientId, JSON.stringify(kept))
  prepared<[number]>(db, 'UPDATE contact SET is_main = 0 WHERE client_id = ?').run(clientId)
  for (const contact of contacts) {
    const values = [contact.name, contact.role, contact.email, contact.phone, contact.isMain ? 1 : 0]
    if (contact.id === undefined) {
      prepared<unknown[]>(
        db,
        'INSERT INTO contact (name, role, email, phone, is_main, client_id) VALUES (?, ?, ?, ?, ?, ?)',
      ).run(...values, clientId)
    } else {
      prepared<unknown[]>(
        db,
        'UPDATE contact SET name = ?, role = ?, email = ?, phone = ?, is_main = ? WHERE id = ? AND client_id = ?',
      ).run(...values, contact.id, clientId)
    }
  }
}
