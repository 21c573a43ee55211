import * as z from 'zod'
import { creditOf, openSums } from '../../db/accounts.ts'
import { studioZone } from '../../db/calendar.ts'
import { accountCurrencies, paymentsOfClient, statementOfAccount } from '../../db/clientAccounts.ts'
import { findClient } from '../../db/clients.ts'
import { payBack } from '../../db/payments.ts'
import { reverseWriteOff, writeOff } from '../../db/writeOffs.ts'
import { dayOf } from '../trade/calendar.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, type InStudio, idOf, maybeText, router, text } from './kit.ts'

const currency = z.string().regex(/^[A-Z]{3}$/u, 'Choose a currency.')
const amountMinor = z.int('The amount is missing. Type it in.')

/** A client's account in one currency over days, both within. */
export const Period = z
  .object({ clientId: idOf('client'), currency, fromDay: day, toDay: day })
  .refine(({ fromDay, toDay }) => toDay >= fromDay, {
    message: 'The last day is before the first. Enter that day or a later one.',
    path: ['toDay'],
  })

const todayOf = (ctx: InStudio) => dayOf(ctx.now, studioZone(ctx.db))

/** What clients owe: by age, as a statement of account, given up or paid back. */
export const accountCalls = router({
  /** What is open per currency, by how long it has been due. */
  ageing: call.query(({ ctx }) => openSums(ctx.db, todayOf(ctx))),

  /** A client's account: what is open, its credit, and the currencies it has been billed in. */
  ofClient: call.input(z.object({ clientId: idOf('client') })).query(({ ctx, input }) => {
    const client = findClient(ctx.db, input.clientId)
    if (!client) throw new Refusal('no-client', 'This client is not in the studio. Choose one of the list.')
    return {
      clientId: input.clientId,
      name: client.name,
      currencies: accountCurrencies(ctx.db, input.clientId),
      open: openSums(ctx.db, todayOf(ctx), input.clientId),
      credit: creditOf(ctx.db, input.clientId),
    }
  }),

  /** A client's statement of account in one currency over a period, both days within. */
  statement: call.input(Period).query(({ ctx, input }) => statementOfAccount(ctx.db, input, todayOf(ctx))),

  payments: call
    .input(z.object({ clientId: idOf('client'), currency }))
    .query(({ ctx, input }) => paymentsOfClient(ctx.db, input.clientId, input.currency)),

  payBack: call
    .input(
      z.object({
        clientId: idOf('client'),
        currency,
        invoiceId: idOf('invoice').nullable(),
        day,
        amountMinor,
        way: z.enum(['transfer', 'card', 'cash', 'cheque', 'other']),
        reference: maybeText(140),
        note: maybeText(400),
      }),
    )
    .mutation(({ ctx, input }) => payBack(ctx, input)),

  writeOff: call
    .input(z.object({ invoiceId: idOf('invoice'), amountMinor, reason: text('The reason', 400) }))
    .mutation(({ ctx, input }) => writeOff(ctx, input.invoiceId, input.amountMinor, input.reason)),

  reverseWriteOff: call
    .input(z.object({ writeOffId: idOf('write_off'), reason: text('The reason', 400) }))
    .mutation(({ ctx, input }) => reverseWriteOff(ctx, input.writeOffId, input.reason)),
})
