import { isCreditorReference } from './payment.ts'

/** An open invoice, as money that came in is held against it. Money in minor units. */
export interface OpenInvoice {
  readonly invoiceId: number
  readonly number: string
  readonly clientId: number
  readonly clientName: string
  readonly currency: string
  readonly openMinor: number
  readonly dueDay: string
  readonly paymentReference: string | null
}

/** Money that came in, as far as it is not used yet. */
export interface Credit {
  readonly freeMinor: number
  readonly currency: string
  readonly payer: string | null
  readonly payerIban: string | null
  readonly reference: string | null
  readonly text: string
}

/** Why a match is proposed. */
export type MatchReason =
  | 'reference'
  | 'number'
  | 'amount and payer'
  | 'all open of payer'
  | 'amount alone'
  | 'payer'

/** What money that came in could be for; a person confirms it or not. */
export interface Match {
  readonly why: MatchReason
  readonly clientId: number
  readonly shares: readonly { readonly invoiceId: number; readonly number: string; readonly minor: number }[]
  /** What is left of the money after the shares; kept as credit, or left on the line, as the person says. */
  readonly restMinor: number
  /** What the invoices still lack after it: a part payment, or a bank's fee that was taken off. */
  readonly missingMinor: number
  /** True where a reference or number names every invoice and the amount is exactly what is open on them. */
  readonly isExact: boolean
  /** True where so little is missing that a bank may have taken a fee off; it is still booked as a part payment. */
  readonly mayBeFee: boolean
}

/** Our own choice, common practice without a published source: fees are small beside what is paid. */
const feeAtMostPpm = 30_000

/**
 * What a credit could be for, the surest first, at most five: the creditor reference (ISO 11649), invoice numbers in
 * the text, amount and payer, everything open of the payer, the amount alone where one invoice has it, the payer.
 * Every share is within what is open and what came in. Nothing is proposed across currencies.
 * @param clientOfPayer  the client whom the payer's account or name is known to be
 */
export function matchesOf(
  credit: Credit,
  open: readonly OpenInvoice[],
  clientOfPayer: number | undefined,
): readonly Match[] {
  const candidates = open.filter(({ currency, openMinor }) => currency === credit.currency && openMinor > 0)
  const ofPayer = candidates.filter(({ clientId }) => clientId === clientOfPayer)
  const isRight = ({ openMinor }: OpenInvoice) => openMinor === credit.freeMinor
  const alone = candidates.filter(isRight)
  const found: (Match | undefined)[] = [
    matchOf('reference', credit, byReference(credit, candidates)),
    matchOf('number', credit, byNumber(credit, candidates)),
    ...ofPayer.filter(isRight).map((invoice) => matchOf('amount and payer', credit, [invoice])),
    ...ofPayer
      .filter((invoice) => isFee(credit.freeMinor, invoice.openMinor))
      .map((invoice) => matchOf('amount and payer', credit, [invoice])),
    ofPayer.length > 1 && sum(ofPayer) === credit.freeMinor
      ? matchOf('all open of payer', credit, ofPayer)
      : undefined,
    alone.length === 1 ? matchOf('amount alone', credit, alone) : undefined,
    clientOfPayer === undefined ? undefined : matchOf('payer', credit, ofPayer, clientOfPayer),
  ]
  const unlike = new Map<string, Match>()
  for (const match of found) {
    if (!match) continue
    const key = JSON.stringify([match.clientId, match.shares])
    if (!unlike.has(key)) unlike.set(key, match)
  }
  return [...unlike.values()].slice(0, 5)
}

/** Shares the money over the invoices, what was due first is paid first. All of one client, or nothing. */
function matchOf(
  why: MatchReason,
  { freeMinor }: Credit,
  invoices: readonly OpenInvoice[],
  payer?: number,
): Match | undefined {
  const clientId = invoices[0]?.clientId ?? payer
  if (clientId === undefined || invoices.some((invoice) => invoice.clientId !== clientId)) return undefined
  const inOrder = invoices.toSorted((a, b) => a.dueDay.localeCompare(b.dueDay) || a.invoiceId - b.invoiceId)
  let left = freeMinor
  const shares = inOrder.flatMap(({ invoiceId, number, openMinor }) => {
    const minor = Math.min(left, openMinor)
    left -= minor
    return minor > 0 ? [{ invoiceId, number, minor }] : []
  })
  const missingMinor = Math.max(0, sum(invoices) - freeMinor)
  const isNamed = why === 'reference' || why === 'number'
  return {
    why,
    clientId,
    shares,
    restMinor: left,
    missingMinor: why === 'payer' ? 0 : missingMinor,
    isExact: isNamed && left === 0 && missingMinor === 0,
    mayBeFee: why !== 'payer' && isFee(freeMinor, sum(invoices)),
  }
}

function isFee(cameMinor: number, openMinor: number): boolean {
  const missing = openMinor - cameMinor
  return missing > 0 && BigInt(missing) * 1_000_000n <= BigInt(openMinor) * BigInt(feeAtMostPpm)
}

function sum(invoices: readonly OpenInvoice[]): number {
  return invoices.reduce((total, { openMinor }) => total + openMinor, 0)
}

/** Invoices whose reference stands in the reference's field or, with check digits that fit, in the text. */
function byReference({ reference, text }: Credit, open: readonly OpenInvoice[]): readonly OpenInvoice[] {
  const said = `${reference ?? ''} ${text}`.toUpperCase()
  if (!said.includes('RF')) return []
  const compact = compacted(said)
  return open.filter(
    ({ paymentReference }) =>
      paymentReference !== null && isCreditorReference(paymentReference) && stands(compact, paymentReference),
  )
}

/** Invoices whose number stands in what was written, however it is spaced or parted. */
function byNumber({ reference, text }: Credit, open: readonly OpenInvoice[]): readonly OpenInvoice[] {
  const compact = compacted(`${reference ?? ''} ${text}`.toUpperCase())
  return open.filter(({ number }) => stands(compact, number.toUpperCase().replace(/[^A-Z0-9]/gu, '')))
}

interface Compacted {
  readonly letters: string
  /** Whether something other than a letter or digit stood before each. */
  readonly begins: readonly boolean[]
}

function compacted(text: string): Compacted {
  const begins: boolean[] = []
  let letters = ''
  let isAfterGap = true
  for (const character of text) {
    if (/[A-Z0-9]/u.test(character)) {
      letters += character
      begins.push(isAfterGap)
      isAfterGap = false
    } else isAfterGap = true
  }
  return { letters, begins }
}

/** True where the wanted letters begin at a gap, and no further digit belongs to them. */
function stands({ letters, begins }: Compacted, wanted: string): boolean {
  for (let at = letters.indexOf(wanted); at >= 0 && wanted !== ''; at = letters.indexOf(wanted, at + 1)) {
    const end = at + wanted.length
    const goesOn = /\d/u.test(letters[end] ?? '') && begins[end] === false
    if (begins[at] === true && !goesOn) return true
  }
  return false
}

/** A payer's or client's name without what differs between two writings of it: case, marks, forms of company. */
export function nameKey(name: string): string {
  return name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .replace(/\b(GMBH|AG|UG|KG|OHG|LTD|LIMITED|LLC|INC|BV|SARL|SAS|SRL|SPA|CO)\b/gu, ' ')
    .replace(/[^\p{L}\p{N}]/gu, '')
}
