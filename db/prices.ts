import type { PriceBreak, PriceRow } from '../main/trade/price.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A price list: valid on whole days, both ends included. */
export interface PriceList {
  readonly id: Id<'price_list'>
  readonly name: string
  readonly currency: string
  readonly validFrom: string
  readonly validTo: string | null
  /** The list for every client of its currency without a list of its own. */
  readonly isStandard: boolean
}

export interface WholePriceList extends PriceList {
  readonly prices: readonly PriceRow[]
  readonly breaks: readonly PriceBreak[]
}

export type PriceListDraft = Omit<WholePriceList, 'id'>

const listColumns =
  'id, name, currency, valid_from AS validFrom, valid_to AS validTo, is_standard AS isStandard'

type ListRow = Omit<PriceList, 'isStandard'> & { isStandard: 0 | 1 }

const toList = (row: ListRow): PriceList => ({ ...row, isStandard: row.isStandard === 1 })

export function listPriceLists(db: Db): readonly PriceList[] {
  return prepared<[], ListRow>(
    db,
    `SELECT ${listColumns} FROM price_list ORDER BY currency, is_standard DESC, valid_from DESC, name`,
  )
    .all()
    .map(toList)
}

export function findPriceList(db: Db, id: Id<'price_list'>): WholePriceList | undefined {
  const row = prepared<[number], ListRow>(db, `SELECT ${listColumns} FROM price_list WHERE id = ?`).get(id)
  if (!row) return undefined
  const prices = prepared<[number], PriceRow>(
    db,
    `SELECT size_class AS sizeClass, finish_class_id AS finishClassId, kind, rows, first_minor AS firstMinor,
       following_minor AS followingMinor FROM price WHERE price_list_id = ? ORDER BY id`,
  ).all(id)
  const breaks = prepared<[number], PriceBreak>(
    db,
    `SELECT from_spins AS fromSpins, discount_ppm AS discountPpm FROM price_break WHERE price_list_id = ?
     ORDER BY from_spins`,
  ).all(id)
  return { ...toList(row), prices, breaks }
}

/** The list a client is quoted by, and a sentence where it is not the one the person may expect. */
export interface ListForClient {
  readonly list: WholePriceList | undefined
  readonly notice: string | undefined
}

/**
 * The client's own list, else the standard one of the currency that is valid on the day; of several the one
 * that began last. None where the studio has none: then prices are worked out from the time.
 */
export function priceListFor(db: Db, clientId: Id<'client'>, currency: string, today: string): ListForClient {
  const own = prepared<[number], ListRow>(
    db,
    `SELECT ${listColumns} FROM price_list WHERE id = (SELECT price_list_id FROM client WHERE id = ?)`,
  ).get(clientId)
  if (own && own.currency === currency && isValidOn(toList(own), today)) {
    return { list: findPriceList(db, own.id), notice: undefined }
  }
  return {
    list: standardPriceList(db, currency, today),
    notice: own && `The client’s own price list, “${own.name}”, ${whyNot(own, currency)}.`,
  }
}

/** The standard list of a currency that is valid on the day; of several the one that began last. */
export function standardPriceList(db: Db, currency: string, today: string): WholePriceList | undefined {
  const standard = prepared<[string, string, string], { id: Id<'price_list'> }>(
    db,
    `SELECT id FROM price_list WHERE is_standard = 1 AND currency = ? AND valid_from <= ?
       AND (valid_to IS NULL OR valid_to >= ?) ORDER BY valid_from DESC LIMIT 1`,
  ).get(currency, today, today)
  return standard && findPriceList(db, standard.id)
}

function isValidOn({ validFrom, validTo }: PriceList, today: string): boolean {
  return validFrom <= today && (validTo === null || validTo >= today)
}

function whyNot(own: ListRow, currency: string): string {
  if (own.currency !== currency) return `is in ${own.currency} and the job in ${currency}`
  return `is valid from ${own.validFrom}${own.validTo === null ? '' : ` to ${own.validTo}`} only`
}

/** Adds a list with its prices and volume breaks: all of it or nothing. */
export function addPriceList(writing: Writing, draft: PriceListDraft): Id<'price_list'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const id = newId<Id<'price_list'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO price_list (name, currency, valid_from, valid_to, is_standard) VALUES (?, ?, ?, ?, ?)',
      ).run(...values(draft)),
    )
    writeRows(db, id, draft)
    writeEvent(writing, {
      subject: 'price list',
      subjectId: id,
      what: 'price list added',
      detail: { name: draft.name },
    })
    return id
  })
}

/** Changes a list with its prices and breaks. Quotes hold their own prices, so none that was made changes. */
export function changePriceList(writing: Writing, id: Id<'price_list'>, draft: PriceListDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = findPriceList(db, id)
    prepared<unknown[]>(
      db,
      'UPDATE price_list SET name = ?, currency = ?, valid_from = ?, valid_to = ?, is_standard = ? WHERE id = ?',
    ).run(...values(draft), id)
    prepared<[number]>(db, 'DELETE FROM price WHERE price_list_id = ?').run(id)
    prepared<[number]>(db, 'DELETE FROM price_break WHERE price_list_id = ?').run(id)
    writeRows(db, id, draft)
    writeEvent(writing, {
      subject: 'price list',
      subjectId: id,
      what: 'price list changed',
      detail: { before, after: draft },
    })
  })
}

function values(draft: PriceListDraft): readonly unknown[] {
  return [draft.name, draft.currency, draft.validFrom, draft.validTo, draft.isStandard ? 1 : 0]
}

function writeRows(db: Db, id: Id<'price_list'>, { prices, breaks }: PriceListDraft): void {
  for (const price of prices) {
    prepared<unknown[]>(
      db,
      `INSERT INTO price (price_list_id, size_class, finish_class_id, kind, rows, first_minor, following_minor)
       VALUES (?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      id,
      price.sizeClass,
      price.finishClassId,
      price.kind,
      price.rows,
      price.firstMinor,
      price.followingMinor,
    )
  }
  for (const each of breaks) {
    prepared<unknown[]>(db, 'INSERT INTO price_break VALUES (?, ?, ?)').run(
      id,
      each.fromSpins,
      each.discountPpm,
    )
  }
}
