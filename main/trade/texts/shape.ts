import type { AccountEntryKind } from '../accountStatement.ts'
import type { Age } from '../ageing.ts'
import type { ExtraState } from '../extras.ts'
import type { DeliverableKind } from '../price.ts'
import type { SizeClass } from '../product.ts'
import type { OtherWay } from '../quoteWays.ts'
import type { References } from '../references.ts'
import type { TermTexts } from '../terms.ts'
import type { TurnLook } from '../turnLook.ts'

/** What stands on every sheet. */
export interface SheetTexts {
  readonly page: (page: number, of: number) => string
  /** The studio's own number for tax, in the small print. */
  readonly taxNumber: (number: string) => string
}

/** Texts of lines that the program writes by itself. */
export interface LineTexts {
  readonly kinds: Readonly<Record<DeliverableKind, string>>
  readonly sizes: Readonly<Record<SizeClass, string>>
  readonly finish: (name: string) => string
  readonly rows: (count: number) => string
  readonly following: string
  readonly day: string
  readonly halfDay: string
  readonly finishing: (name: string) => string
  readonly volume: (spins: number) => string
  readonly rush: (percent: string) => string
  readonly discount: (percent: string) => string
  readonly minimum: string
  readonly ways: Readonly<Record<OtherWay, string>>
  readonly deposit: (percent: string, jobNumber: string) => string
  /** A line of an invoice over several jobs: its job, with the references that hold for that job alone. */
  readonly ofJob: (jobNumber: string, references: Partial<References>, text: string) => string
}

/** Words with what they name, in brackets after a text; nothing where nothing is named. */
export function aside(parts: readonly (readonly [word: string, value: string | null | undefined])[]): string {
  const given = parts.flatMap(([word, value]) => (value ? [`${word} ${value}`] : []))
  return given.length === 0 ? '' : ` (${given.join(', ')})`
}

/** The words of quotes beside their lines. */
export interface QuoteTexts {
  readonly title: (number: string) => string
  readonly draft: string
  readonly day: string
  readonly validUntil: string
  readonly dueDay: string
  readonly job: string
  readonly order: string
  readonly totalWithTax: string
  readonly spinCount: (count: number) => string
  readonly what: string
  readonly spins: (count: number) => string
  readonly getColumns: readonly [what: string, pictures: string, size: string, file: string, plays: string]
  readonly kinds: Readonly<Record<DeliverableKind, string>>
  readonly and: string
  readonly pictures: (count: number, rows: number) => string
  readonly wholeTurn: (frames: string, isOne: boolean) => string
  readonly asChosen: string
  readonly plays: (seconds: string, perSecond: string) => string
  readonly turn: (frames: number, look: string, rows: number) => string
  /** Where rows differ: '72 frames at 0°, 36 at 30°' and how they look. */
  readonly turnInRows: (rows: readonly (readonly [frames: number, angle: string])[], looks: string) => string
  readonly looks: Readonly<Record<TurnLook, string>>
  readonly choice: string
  readonly choiceAside: string
  readonly choiceColumns: readonly string[]
  readonly ways: Readonly<Record<OtherWay | 'as asked', string>>
  readonly frames: (count: string) => string
  readonly price: string
  readonly columns: readonly [what: string, quantity: string, price: string, amount: string]
  readonly net: string
  readonly tax: (name: string, base: string) => string
  readonly total: string
  readonly deposit: (percent: string) => string
  readonly validity: (day: string) => string
  readonly rounds: (count: number) => string
  readonly assumptions: string
  readonly terms: string
  readonly accept: string
  readonly howToAccept: (quote: string, email: string | null) => string
  readonly signLines: readonly string[]
}

/** The words of invoices, deposit invoices and credit notes. */
export interface InvoiceTexts {
  readonly title: Readonly<Record<'invoice' | 'deposit' | 'credit note', string>>
  readonly draft: string
  readonly day: string
  readonly dueDay: string
  readonly orderNumber: string
  readonly reference: string
  readonly costCentre: string
  readonly corrects: string
  readonly service: string
  readonly deliveries: (numbers: readonly string[]) => string
  readonly yourTaxNumber: string
  readonly columns: readonly [what: string, quantity: string, price: string, tax: string, amount: string]
  readonly perBase: (base: string) => string
  readonly net: string
  readonly tax: (name: string, base: string) => string
  readonly total: string
  readonly deposit: (number: string, day: string) => string
  /** One tax of a deposit, under its deduction. */
  readonly depositTax: (name: string, tax: string, base: string) => string
  readonly rounding: string
  readonly due: string
  readonly credited: string
  /** How a credit note is settled, as its terms of payment. */
  readonly creditTerms: string
  readonly pay: (day: string) => string
  readonly categories: Readonly<Record<'Z' | 'E' | 'AE' | 'G' | 'O' | 'K', string>>
}

/** The words that say how to pay. */
export interface PaymentTexts {
  readonly payee: string
  readonly iban: string
  readonly bic: string
  readonly amount: string
  readonly reference: string
  /** What the QR code beside them is. */
  readonly code: string
}

/** The words of delivery notes. */
export interface DeliveryTexts {
  readonly title: string
  readonly day: string
  readonly job: string
  readonly orderNumber: string
  readonly way: string
  readonly spin: string
  readonly deliverable: string
  readonly pixels: string
  readonly files: string
  readonly size: string
  readonly allFiles: string
  readonly allSize: string
  readonly checkSums: string
  readonly checkNames: string
}

/** The words of rights of use, on every paper that names them. */
export interface RightTexts {
  readonly heading: string
  readonly from: (day: string) => string
  readonly to: (day: string) => string
  readonly withoutEnd: string
  readonly onPayment: string
  /** Said once where all of several rights pass with the payment. */
  readonly allOnPayment: string
}

/** The words of an order confirmation beside those of its quote. */
export interface OrderTexts {
  readonly title: string
  readonly accepted: (quote: string, day: string) => string
  readonly agreed: string
  readonly extra: (number: number, title: string) => string
  readonly extraAgreed: (day: string) => string
  readonly check: string
}

/** The words of a goods receipt. */
export interface ReceiptTexts {
  readonly title: string
  readonly day: string
  readonly job: string
  readonly orderNumber: string
  readonly columns: readonly [product: string, arrived: string, state: string, place: string, after: string]
  readonly value: string
  readonly allPieces: string
  readonly allValue: string
  readonly states: Readonly<Record<'in' | 'wrong' | 'broken', string>>
  readonly fates: Readonly<Record<'return' | 'keep' | 'destroy', string>>
  readonly notHere: string
  readonly sign: string
  readonly signText: string
  readonly signLines: readonly string[]
}

/** The words of a reminder; the first is the most polite. */
export interface ReminderTexts {
  /** By level, from 1; levels beyond the last are as the last. */
  readonly levels: readonly { readonly title: string; readonly text: string }[]
  readonly day: string
  readonly columns: readonly [invoice: string, issued: string, due: string, daysLate: string, open: string]
  readonly open: string
  readonly interest: (invoice: string) => string
  readonly lumpSum: string
  readonly total: string
  readonly lateNote: string
  readonly crossed: string
  readonly pay: string
}

/** The words of a statement of account. */
export interface StatementTexts {
  readonly title: string
  readonly period: string
  readonly drawnUp: string
  readonly currency: string
  readonly columns: readonly [day: string, what: string, due: string, amount: string, balance: string]
  readonly opening: string
  readonly closing: string
  readonly kinds: Readonly<Record<AccountEntryKind, string>>
  /** What is open on the day it is drawn up, by how long it has been due. */
  readonly open: (day: string) => string
  readonly ages: Readonly<Record<Age, string>>
  readonly credit: string
  readonly check: string
}

/** Everything that leaves on paper in one language: a language is one file of this shape, and none of it can be left out. */
export interface PaperTexts {
  readonly sheet: SheetTexts
  readonly lines: LineTexts
  readonly quote: QuoteTexts
  readonly invoice: InvoiceTexts
  readonly payment: PaymentTexts
  readonly delivery: DeliveryTexts
  readonly rights: RightTexts
  readonly order: OrderTexts
  readonly receipt: ReceiptTexts
  readonly reminder: ReminderTexts
  readonly statement: StatementTexts
  readonly terms: TermTexts
  readonly extras: ExtraTexts
}

/** The words of the page of a job's extras, and of the lines that reshoots become. */
export interface ExtraTexts {
  readonly title: string
  readonly day: string
  readonly job: string
  readonly orderNumber: string
  readonly columns: readonly [what: string, quantity: string, price: string, tax: string, amount: string]
  readonly net: string
  readonly tax: (name: string, base: string) => string
  readonly total: string
  readonly states: Readonly<Record<ExtraState, string>>
  /** Who agreed or declined, when and how. */
  readonly decided: (day: string, by: string | null, how: string) => string
  readonly newDueDay: (day: string) => string
  readonly none: string
  readonly accept: string
  readonly howToAccept: string
  readonly signLines: readonly string[]
  readonly reshoot: (spin: string) => string
}

/** '72 frames at 0°, 36 at 30°': the word for frames stands with the first. */
export function inRows(
  rows: readonly (readonly [frames: number, angle: string])[],
  first: string,
  at: string,
): string {
  return rows
    .map(([frames, angle], index) => `${frames}${index === 0 ? ` ${first}` : ''} ${at} ${angle}`)
    .join(', ')
}
