import * as z from 'zod'
import { scannedSpin, ticketKey, ticketsOf } from '../../db/tickets.ts'
import { darkRuns, qrCode } from '../papers/qr.ts'
import { readTicket, ticketText } from '../trade/ticketCode.ts'
import { call, idOf, router } from './kit.ts'

/** Tickets that are scanned, and the slate that a screen shows. */
export const ticketCalls = router({
  /** The spin that a scanned or typed code names. */
  read: call.input(z.object({ code: z.string().max(500) })).query(({ ctx, input }) => {
    const { shootId, product } = readTicket(input.code, ticketKey(ctx.db))
    return scannedSpin(ctx.db, shootId, product)
  }),

  /** A spin's code as the dark runs of its modules, for a screen to draw as large as it can. */
  slate: call.input(z.object({ shootId: idOf('shoot') })).query(({ ctx, input }) => {
    const [ticket] = ticketsOf(ctx.db, [input.shootId])
    const scanText = ticketText({ studioKey: ticketKey(ctx.db), shootId: input.shootId, product: null })
    const code = qrCode(scanText)
    return {
      scanText,
      name: ticket?.name ?? '',
      codes: ticket?.products.map((product) => product.code) ?? [],
      isCancelled: ticket?.isCancelled ?? false,
      sizeModules: code.size,
      dark: darkRuns(code),
    }
  }),
})
