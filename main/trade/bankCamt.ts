import { XMLParser } from 'fast-xml-parser'
import { type Movement, mostMovements, type ReadStatement } from './bankLine.ts'
import { minorDigits } from './currency.ts'
import { readDecimal } from './decimal.ts'
import { Refusal } from './refusal.ts'

type Element = { readonly [name: string]: unknown }

const lists = ['Stmt', 'Ntry', 'NtryDtls', 'TxDtls', 'Ustrd', 'Strd']

/**
 * Reads an account statement of ISO 20022, camt.053.001 in its versions 02 to 08 and later: booked entries, each
 * transaction of a batch by itself where the batch tells their amounts. Entities are not expanded, and a file that
 * declares any is refused, as is one that is no such statement.
 */
export function readCamt(text: string): ReadStatement {
  const statements = statementsOf(text)
  const movements: Movement[] = []
  let pending = 0
  for (const statement of statements) {
    const account = accountOf(statement)
    for (const entry of elements(statement.Ntry)) {
      if (isPending(entry)) pending += 1
      else movements.push(...movementsOf(entry, account))
    }
  }
  if (movements.length > mostMovements) {
    throw new Refusal('statement-too-long', `This statement holds ${movements.length} movements. Split it.`)
  }
  return { format: 'camt.053', movements, unread: [], pending }
}

function statementsOf(text: string): readonly Element[] {
  if (/<!(DOCTYPE|ENTITY)/iu.test(text)) {
    throw new Refusal(
      'statement-unsafe',
      'This file declares entities of its own, which no bank statement needs. Ask the bank for it anew.',
    )
  }
  const parser = new XMLParser({
    ignoreAttributes: false,
    attributeNamePrefix: '@',
    removeNSPrefix: true,
    parseTagValue: false,
    parseAttributeValue: false,
    processEntities: false,
    isArray: (name) => lists.includes(name),
  })
  let parsed: unknown
  try {
    parsed = parser.parse(text, true)
  } catch {
    throw notAStatement()
  }
  const statements = elements(child(child(parsed, 'Document'), 'BkToCstmrStmt')?.Stmt)
  if (statements.length === 0) throw notAStatement()
  return statements
}

function notAStatement(): Refusal {
  return new Refusal(
    'no-statement',
    'This file is no account statement in the form camt.053 (ISO 20022), or it is cut short. Ask the bank for it anew, or take the CSV file.',
  )
}

function accountOf(statement: Element): string {
  const id = child(child(statement, 'Acct'), 'Id')
  const account = textOf(id, 'IBAN') ?? textOf(child(id, 'Othr'), 'Id')
  if (account === null) throw notAStatement()
  return account
}

/** Version 02 writes the status as text, version 08 as a code inside it. */
function isPending(entry: Element): boolean {
  const status = textOf(entry, 'Sts') ?? textOf(child(entry, 'Sts'), 'Cd')
  return status !== null && status !== 'BOOK'
}

function movementsOf(entry: Element, account: string): readonly Movement[] {
  const whole = amountOf(child(entry, 'Amt') ?? entry.Amt, textOf(entry, 'CdtDbtInd'))
  if (whole === undefined) throw notAStatement()
  const transactions = elements(entry.NtryDtls).flatMap((details) => elements(details.TxDtls))
  const day = dayOf(child(entry, 'BookgDt')) ?? dayOf(child(entry, 'ValDt'))
  if (day === null) throw notAStatement()
  const bankReference = textOf(entry, 'AcctSvcrRef')
  const shared = { account, day, isReversal: /^(true|1)$/u.test(textOf(entry, 'RvslInd') ?? '') }
  const told = textOf(entry, 'AddtlNtryInf')
  const parts = transactions.map((transaction) => ({ transaction, amount: partAmount(transaction, entry) }))
  const sum = parts.reduce((total, { amount }) => total + (amount?.minor ?? Number.NaN), 0)
  // A batch whose parts are not told, or are told in another currency, is one movement.
  if (
    parts.length > 1 &&
    sum === whole.minor &&
    parts.every(({ amount }) => amount?.currency === whole.currency)
  ) {
    return parts.map(({ transaction, amount }, index) => ({
      ...shared,
      ...saidBy(transaction, told, whole.minor > 0),
      bankReference: partReference(transaction, bankReference, index),
      amountMinor: amount?.minor ?? 0,
      currency: whole.currency,
    }))
  }
  const { minor: amountMinor, currency } = whole
  if (amountMinor === 0) return []
  const [only] = transactions
  const said = parts.length === 1 && only ? saidBy(only, told, amountMinor > 0) : saidByNone(told)
  return [{ ...shared, ...said, bankReference, amountMinor, currency }]
}

function partReference(transaction: Element, ofBatch: string | null, index: number): string | null {
  const refs = child(transaction, 'Refs')
  const own = textOf(refs, 'AcctSvcrRef') ?? textOf(refs, 'TxId')
  if (own !== null && own !== ofBatch) return own
  return ofBatch === null ? null : `${ofBatch} ${index + 1}`
}

interface Amount {
  readonly minor: number
  readonly currency: string
}

/** Version 08 has the amount in the transaction itself, version 02 in its details. */
function partAmount(transaction: Element, entry: Element): Amount | undefined {
  const direction = textOf(transaction, 'CdtDbtInd') ?? textOf(entry, 'CdtDbtInd')
  const amount = transaction.Amt ?? child(child(transaction, 'AmtDtls'), 'TxAmt')?.Amt
  return amount === undefined ? undefined : amountOf(amount, direction)
}

function amountOf(amount: unknown, direction: string | null): Amount | undefined {
  const currency = textOf(amount, '@Ccy')
  const digits = textOf(amount, '#text')
  if (currency === null || digits === null || !/^\d{1,15}(\.\d{1,5})?$/u.test(digits)) return undefined
  if (direction !== 'CRDT' && direction !== 'DBIT') return undefined
  const minor = readDecimal(digits, minorDigits(currency), 'An amount of this statement')
  return { minor: direction === 'CRDT' ? minor : -minor, currency }
}

/** Who paid, or was paid, and what for. */
function saidBy(transaction: Element, told: string | null, isCredit: boolean) {
  const parties = child(transaction, 'RltdPties')
  const other = isCredit ? 'Dbtr' : 'Cdtr'
  const party = child(parties, other)
  const remittance = child(transaction, 'RmtInf')
  const references = elements(remittance?.Strd).flatMap(
    (structured) => textOf(child(structured, 'CdtrRefInf'), 'Ref') ?? [],
  )
  const unstructured = texts(remittance?.Ustrd)
  const endToEnd = textOf(child(transaction, 'Refs'), 'EndToEndId')
  const said = [...unstructured, ...references.slice(1)]
  if (endToEnd !== null && endToEnd !== 'NOTPROVIDED') said.push(endToEnd)
  return {
    payer: textOf(party, 'Nm') ?? textOf(child(party, 'Pty'), 'Nm'),
    payerIban: textOf(child(child(parties, `${other}Acct`), 'Id'), 'IBAN'),
    reference: references[0] ?? null,
    text: said.length > 0 ? said.join(' ') : (told ?? ''),
  }
}

function saidByNone(told: string | null) {
  return { payer: null, payerIban: null, reference: null, text: told ?? '' }
}

function dayOf(dated: Element | undefined): string | null {
  const day = (textOf(dated, 'Dt') ?? textOf(dated, 'DtTm'))?.slice(0, 10)
  return day !== undefined && !Number.isNaN(Date.parse(`${day}T00:00:00Z`)) && /^\d{4}-\d\d-\d\d$/u.test(day)
    ? day
    : null
}

function isElement(value: unknown): value is Element {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function child(of: unknown, name: string): Element | undefined {
  const value = isElement(of) ? of[name] : undefined
  return isElement(value) ? value : undefined
}

function elements(value: unknown): readonly Element[] {
  return Array.isArray(value) ? value.filter(isElement) : []
}

function texts(value: unknown): readonly string[] {
  return Array.isArray(value) ? value.flatMap((one) => plain(one) ?? []) : []
}

function textOf(of: unknown, name: string): string | null {
  return isElement(of) ? plain(of[name]) : null
}

/** The text of an element, with or without attributes; the five entities of XML itself and numbers are read. */
function plain(value: unknown): string | null {
  const text = isElement(value) ? value['#text'] : value
  if (typeof text !== 'string') return null
  const read = text.replace(/&(#x[0-9a-f]{1,6}|#\d{1,7}|amp|lt|gt|quot|apos);/giu, (whole, name: string) => {
    const known = ({ amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" } as Record<string, string>)[name]
    if (known !== undefined) return known
    const code = name[1] === 'x' ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1))
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole
  })
  const trimmed = read.trim()
  return trimmed === '' ? null : trimmed
}
