import * as z from 'zod'
import { clientOfJob } from '../../db/answers.ts'
import { keepFile } from '../../db/attachments.ts'
import { contactsOf } from '../../db/clients.ts'
import {
  changeDelivery,
  discardDelivery,
  keepDeliveryPapers,
  keepHashes,
  prepareDelivery,
  readyItems,
  refuseSent,
  sendDelivery,
} from '../../db/deliveries.ts'
import {
  type Delivery,
  deliveriesOfJob,
  deliveryFiles,
  deliveryItems,
  deliveryParties,
  findDelivery,
} from '../../db/deliveryList.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { deliveredRights, deliveryNote } from '../papers/deliveryNote.ts'
import { fileListCsv } from '../papers/fileListCsv.ts'
import { Refusal } from '../trade/refusal.ts'
import { readingOf, startReading, stopReading } from '../work/folderReading.ts'
import { call, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'

const deliveryId = idOf('delivery')
const OneDelivery = z.object({ deliveryId })
const Head = z.object({
  way: text('The way the files go', 120),
  contactId: idOf('contact').nullable().default(null),
  note: maybeText(),
})

/** What is handed over to the client, and the list of it. */
export const deliveryCalls = router({
  ofJob: call.input(z.object({ jobId: idOf('job') })).query(({ ctx, input }) => ({
    deliveries: deliveriesOfJob(ctx.db, input.jobId),
    ready: readyItems(ctx.db, input.jobId),
    contacts: contactsOf(ctx.db, clientOfJob(ctx.db, input.jobId)),
  })),

  one: call.input(OneDelivery).query(({ ctx, input }) => ({
    delivery: theDelivery(ctx.db, input.deliveryId),
    items: deliveryItems(ctx.db, input.deliveryId),
  })),

  files: call
    .input(OneDelivery.extend({ page }))
    .query(({ ctx, input }) => deliveryFiles(ctx.db, input.deliveryId, input.page)),

  prepare: call
    .input(
      Head.extend({
        jobId: idOf('job'),
        items: z
          .array(z.object({ shootId: idOf('shoot'), deliverableId: idOf('deliverable') }))
          .max(3000)
          .readonly()
          .nullable()
          .default(null),
      }),
    )
    .mutation(({ ctx, input }) => ({ deliveryId: prepareDelivery(ctx, input.jobId, input, input.items) })),

  change: call.input(OneDelivery.extend(Head.shape)).mutation(({ ctx, input }) => {
    changeDelivery(ctx, input.deliveryId, input)
  }),

  discard: call.input(OneDelivery).mutation(({ ctx, input }) => {
    stopReading(ctx.db, input.deliveryId)
    discardDelivery(ctx, input.deliveryId)
  }),

  /**
   * Reads the files of a folder of this computer against the list, in the background; `reading` tells how far
   * it is. Only names, sizes and SHA-256 are taken, and nothing there is changed.
   */
  readFolder: call
    .input(OneDelivery.extend({ folder: text('The folder', 1000) }))
    .mutation(async ({ ctx, input }) => {
      refuseSent(ctx.db, input.deliveryId)
      const expected = deliveryFiles(ctx.db, input.deliveryId).map(({ name }) => name)
      await startReading(ctx.db, input.deliveryId, input.folder, expected, (found) => {
        keepHashes(ctx, input.deliveryId, found)
      })
    }),

  reading: call.input(OneDelivery).query(({ ctx, input }) => readingOf(ctx.db, input.deliveryId)),

  stopReading: call.input(OneDelivery).mutation(({ ctx, input }) => {
    stopReading(ctx.db, input.deliveryId)
  }),

  /** Sends a delivery: its number, its file list as CSV and its note as PDF are kept with it. */
  send: call.input(OneDelivery.extend({ overruleReason: maybeText(500) })).mutation(({ ctx, input }) =>
    inOneTransaction(ctx.db, () => {
      const number = sendDelivery(ctx, input.deliveryId, input.overruleReason)
      keepPapers(ctx, input.deliveryId, number)
      return { number }
    }),
  ),
})

function keepPapers(ctx: InStudio, id: Id<'delivery'>, number: string): void {
  const delivery = theDelivery(ctx.db, id)
  const { client } = deliveryParties(ctx.db, delivery.jobId)
  const rights = deliveredRights(ctx.db, delivery.jobId, client.language)
  const list = new TextEncoder().encode(fileListCsv(deliveryFiles(ctx.db, id), rights))
  const note = deliveryNote(ctx, delivery)
  keepDeliveryPapers(ctx, id, {
    listId: keepFile(ctx, ctx.folder, list, `${number} file list.csv`, 'text/csv'),
    noteId: keepFile(ctx, ctx.folder, note, `${number} delivery note.pdf`, 'application/pdf'),
  })
}

function theDelivery(db: Db, id: Id<'delivery'>): Delivery {
  const delivery = findDelivery(db, id)
  if (!delivery) throw new Refusal('no-delivery', 'This delivery is not in the studio.')
  return delivery
}
