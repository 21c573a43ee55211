import * as z from 'zod'
import { type Hit, search } from '../../db/search.ts'
import { call, router } from './kit.ts'

/** The search box: clients, product codes, job, quote and invoice numbers. */
export const searchCalls = router({
  find: call.input(z.object({ text: z.string().max(200) })).query(({ ctx, input }) => ({
    hits: search(ctx.db, input.text).map((hit) => ({ ...hit, to: pageOf(hit) })),
  })),
})

/** The address of the page that shows a hit. */
function pageOf({ kind, id, jobId }: Hit): string {
  switch (kind) {
    case 'client':
      return `/clients/${id}`
    case 'product':
      return `/products/${id}`
    case 'job':
      return `/jobs/${id}`
    case 'quote':
      return `/jobs/${jobId}/quote`
    case 'invoice':
      return `/invoices/${id}`
  }
}
