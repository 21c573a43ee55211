import * as z from 'zod'
import { bookLine, listBankLines, openInvoices, setAside } from '../../db/bankLines.ts'
import {
  keepMapping,
  keptMappings,
  newsOf,
  recentStatements,
  removeStatement,
  takeStatement,
} from '../../db/bankStatements.ts'
import type { Db } from '../../db/open.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { theStudio } from '../../db/studio.ts'
import { readCamt } from '../trade/bankCamt.ts'
import { dayOrders, guessMapping, likelyOrders, parseBankCsv, readBankCsv } from '../trade/bankCsv.ts'
import type { ReadStatement } from '../trade/bankLine.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, page, router, text } from './kit.ts'

const FileText = z
  .string()
  .min(1, 'This file is empty. Pick another one.')
  .max(20_000_000, 'This file is over 20 MB. Ask the bank for a shorter period.')

const column = z.int().min(0).max(500)

const Mapping = z.object({
  headers: z.array(z.string().max(500)).max(500),
  day: column,
  amount: column.nullable(),
  credit: column.nullable(),
  debit: column.nullable(),
  text: z.array(column).max(20),
  payer: column.nullable(),
  iban: column.nullable(),
  reference: column.nullable(),
  currency: column.nullable(),
  dayOrder: z.enum(dayOrders),
  decimalMark: z.enum(['.', ',']),
  account: text('The name of the account', 60),
  accountCurrency: z.string().regex(/^[A-Z]{3}$/u, 'A currency has three capital letters, such as EUR.'),
})

/** A file, and how it is read where it is CSV. */
const File = z.object({ text: FileText, mapping: Mapping.nullable() })

const Booking = z.object({
  lineId: idOf('bank_line'),
  shares: z.array(z.object({ invoiceId: idOf('invoice'), minor: z.int('An amount is missing.') })).max(100),
  credit: z.object({ clientId: idOf('client'), minor: z.int('An amount is missing.') }).nullable(),
})

const firstShown = 20

/** Bank statements: taken in, matched, and confirmed line by line. Nothing is booked by itself. */
export const bankCalls = router({
  /** What a file is: a camt.053 statement, or CSV with its columns and how they are likely to be read. */
  look: call.input(z.object({ text: FileText })).query(({ ctx, input }) => {
    if (isXml(input.text)) return { format: 'camt.053' as const }
    const csv = parseBankCsv(input.text)
    const known = keptMappings(ctx.db).find(
      ({ mapping }) => JSON.stringify(mapping.headers) === JSON.stringify(csv.headers),
    )
    const { iban, currency } = theStudio(ctx.db)
    const mapping = known?.mapping ?? guessMapping(csv, iban ?? 'Bank account', currency)
    return {
      format: 'csv' as const,
      headers: csv.headers,
      samples: csv.headers.map((_, index) => csv.rows.slice(0, 3).map(({ cells }) => cells[index] ?? '')),
      mapping,
      /** The bank whose files have this header, where one is known. */
      bank: known?.name ?? null,
      dayOrders: likelyOrders(csv, mapping.day),
    }
  }),

  /** How the file reads, and what taking it in would add; nothing is written. */
  preview: call.input(File).query(({ ctx, input }) => {
    const read = readFile(input)
    const days = read.movements.map(({ day }) => day).toSorted()
    return {
      ...newsOf(ctx.db, read),
      pending: read.pending,
      unread: read.unread.slice(0, 200),
      unreadCount: read.unread.length,
      account: read.movements[0]?.account ?? null,
      first: read.movements.slice(0, firstShown),
      fromDay: days[0] ?? null,
      toDay: days.at(-1) ?? null,
    }
  }),

  /** Takes the movements in, and keeps how the bank's CSV is read where a name is given. */
  take: call
    .input(File.extend({ fileName: text('The file’s name', 255), keepAs: z.string().trim().max(60) }))
    .mutation(({ ctx, input }) =>
      inOneTransaction(ctx.db, () => {
        const read = readFile(input)
        if (input.mapping && input.keepAs !== '') keepMapping(ctx, input.keepAs, input.mapping)
        return takeStatement(ctx, input.fileName, read)
      }),
    ),

  lines: call
    .input(z.object({ filter: z.enum(['open', 'out', 'all']).default('open'), page }))
    .query(({ ctx, input }) => listBankLines(ctx.db, input.filter, input.page)),

  statements: call.query(({ ctx }) => recentStatements(ctx.db)),

  removeStatement: call
    .input(z.object({ statementId: idOf('bank_statement') }))
    .mutation(({ ctx, input }) => removeStatement(ctx, input.statementId)),

  /** Open invoices that money could be set against. */
  openInvoices: call
    .input(z.object({ currency: z.string().length(3) }))
    .query(({ ctx, input }) => openIn(ctx.db, input.currency)),

  book: call
    .input(Booking)
    .mutation(({ ctx, input: { lineId, ...booking } }) => bookLine(ctx, lineId, booking)),

  /** Enters every exact match that a person has ticked: all of them or none. */
  bookAll: call.input(z.object({ lines: z.array(Booking).min(1).max(500) })).mutation(({ ctx, input }) =>
    inOneTransaction(ctx.db, () => {
      for (const { lineId, ...booking } of input.lines) bookLine(ctx, lineId, booking)
      return { booked: input.lines.length }
    }),
  ),

  setAside: call
    .input(z.object({ lineId: idOf('bank_line'), reason: text('The reason').nullable() }))
    .mutation(({ ctx, input }) => setAside(ctx, input.lineId, input.reason)),
})

function isXml(text: string): boolean {
  return /^\ufeff?\s*</u.test(text)
}

function readFile({ text, mapping }: z.output<typeof File>): ReadStatement {
  if (isXml(text)) return readCamt(text)
  if (!mapping) throw new Refusal('no-mapping', 'Say which column of the file is what.')
  return readBankCsv(parseBankCsv(text), mapping)
}

function openIn(db: Db, currency: string) {
  return openInvoices(db).filter((invoice) => invoice.currency === currency)
}
