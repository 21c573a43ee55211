import { ublText } from '../../main/papers/ubl/write.ts'
import { aLine, aSource } from '../ubl/aSource.ts'
import { timed } from './measure.ts'

/** What writing invoices as electronic ones takes, in ms. */
export interface UblTimes {
  readonly invoices: number
  readonly lines: number
  readonly totalMs: number
  readonly megabytes: number
}

/** A thousand invoices of twenty lines in two rates, from their frozen rows to the text that is kept. */
export async function measureUbl(): Promise<UblTimes> {
  const [invoices, lines] = [1000, 20]
  const sources = Array.from({ length: invoices }, (_, invoice) =>
    aSource({
      number: `I-2026-${invoice}`,
      lines: Array.from({ length: lines }, (_line, index) =>
        aLine({
          text: `Spins, product ${index} of order ${invoice}`,
          quantityMilli: 1000 * (index + 1),
          priceMinor: 1999 + invoice,
          ratePpm: index % 2 === 0 ? 190_000 : 70_000,
        }),
      ),
    }),
  )
  let octets = 0
  const totalMs = await timed(() => {
    for (const source of sources) octets += new TextEncoder().encode(ublText(source)).length
  })
  return { invoices, lines, totalMs, megabytes: octets / 2 ** 20 }
}
