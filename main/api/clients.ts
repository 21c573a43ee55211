import * as z from 'zod'
import { briefById, plainBrief } from '../../db/briefs.ts'
import {
  addClient,
  archiveClient,
  changeClient,
  clientNames,
  contactsOf,
  findClient,
  listClients,
} from '../../db/clients.ts'
import { currencyCodes } from '../trade/currency.ts'
import { Refusal } from '../trade/refusal.ts'
import { BriefInput } from './briefs.ts'
import { call, idOf, maybeText, page, router, text } from './kit.ts'

const ClientInput = z.object({
  name: text('The client’s name'),
  trade: maybeText(120),
  street: maybeText(200),
  postalCode: maybeText(20),
  city: maybeText(100),
  region: maybeText(100),
  country: z.string().regex(/^[A-Z]{2}$/, 'A country is two letters, as in DE.'),
  taxNumber: maybeText(40),
  currency: z
    .string()
    .refine((code) => currencyCodes.includes(code), 'This is no currency of ISO 4217, such as EUR.'),
  language: z.enum(['en', 'de']),
  taxRateId: idOf('tax_rate').nullable(),
  paymentDays: z
    .int('Days are a whole number.')
    .min(0)
    .max(365, 'Payment is due within 365 days at most.')
    .nullable(),
  orderNumberNeeded: z.boolean(),
  referenceNeeded: z.boolean(),
  costCentreNeeded: z.boolean(),
  billsMonthly: z.boolean(),
  filesAfterPayment: z.boolean(),
  priceListId: idOf('price_list').nullable(),
  note: maybeText(),
})

const ContactsInput = z
  .array(
    z.object({
      id: idOf('contact').optional(),
      name: text('The contact’s name'),
      role: maybeText(100),
      email: maybeText(200),
      phone: maybeText(60),
      isMain: z.boolean(),
    }),
  )
  .max(50)
  .refine(
    (contacts) => contacts.filter(({ isMain }) => isMain).length <= 1,
    'Only one contact can be the main one.',
  )

const WholeClient = z.object({ client: ClientInput, contacts: ContactsInput, brief: BriefInput })

/** Clients, their people and their standing briefs. */
export const clientCalls = router({
  list: call
    .input(
      z.object({
        text: z.string().max(100).default(''),
        archived: z.boolean().default(false),
        order: z.enum(['name', 'city', 'openJobs', 'nextDueDay', 'products']).default('name'),
        descending: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => listClients(ctx.db, input, input.order, input.descending, input.page)),

  names: call.query(({ ctx }) => clientNames(ctx.db)),

  one: call.input(z.object({ clientId: idOf('client') })).query(({ ctx, input }) => {
    const client = findClient(ctx.db, input.clientId)
    if (!client) throw new Refusal('no-client', 'This client is not in the studio.')
    return {
      client,
      contacts: contactsOf(ctx.db, input.clientId),
      brief: briefById(ctx.db, client.standingBriefId),
    }
  }),

  /** Where the form of a new client starts. */
  plainBrief: call.query(() => plainBrief),

  add: call.input(WholeClient).mutation(({ ctx, input }) => {
    return {
      clientId: namingTwins(() => addClient(ctx, input.client, input.contacts, input.brief)),
    }
  }),

  change: call.input(WholeClient.extend({ clientId: idOf('client') })).mutation(({ ctx, input }) => {
    namingTwins(() => {
      changeClient(ctx, input.clientId, input.client, input.contacts, input.brief)
    })
  }),

  archive: call
    .input(z.object({ clientId: idOf('client'), archived: z.boolean() }))
    .mutation(({ ctx, input }) => {
      archiveClient(ctx, input.clientId, input.archived)
    }),
})

/** Two clients of one name could not be told apart on the board. */
function namingTwins<T>(write: () => T): T {
  try {
    return write()
  } catch (error) {
    if (error instanceof Error && error.message.includes('UNIQUE constraint failed: client.name')) {
      throw new Refusal(
        'client-name-taken',
        'There is already a client of this name. Add the town or the branch to the name.',
        {
          field: 'client.name',
        },
      )
    }
    throw error
  }
}
