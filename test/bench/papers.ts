import { printSheet, type Sheet } from '../../main/papers/sheet.ts'
import { clientFigures } from '../../main/trade/paperFigures.ts'
import { timed } from './measure.ts'

/** What printing invoices takes, in ms, and the memory the program held at most, in MB. */
export interface PaperTimes {
  readonly papers: number
  readonly lines: number
  readonly totalMs: number
  readonly megabytes: number
  readonly peakMegabytes: number
}

/** A thousand invoices of twenty lines with sums and payment code, from what stands on them to the PDF that is kept. */
export async function measurePapers(): Promise<PaperTimes> {
  const [papers, lines] = [1000, 20]
  let [octets, peak] = [0, 0]
  const totalMs = await timed(() => {
    for (let index = 0; index < papers; index += 1) {
      octets += printSheet(anInvoice(index, lines)).length
      peak = Math.max(peak, process.memoryUsage().rss)
    }
  })
  return { papers, lines, totalMs, megabytes: octets / 2 ** 20, peakMegabytes: peak / 2 ** 20 }
}

function anInvoice(index: number, lines: number): Sheet {
  const { money } = clientFigures({ language: 'en', country: 'GB' })
  const prices = Array.from({ length: lines }, (_, line) => 1999 + line + index)
  const sum = money(
    prices.reduce((total, price) => total + price, 0),
    'EUR',
  )
  return {
    paper: 'A4',
    language: 'en',
    writtenAt: '2026-03-02T00:00:00.000Z',
    title: `Invoice I-2026-${index}`,
    sender: {
      name: 'Lindenhof Spin Studio',
      address: ['Lindenhof 3', '22085 Hamburg'],
      foot: ['DE000000000'],
    },
    recipient: ['Halvorsen Lamps', 'Speicherweg 4', '20457 Hamburg'],
    facts: [['Date', '2 March 2026']],
    blocks: [
      {
        kind: 'table',
        columns: ['What', 'Quantity', 'Price', 'Tax', 'Amount'].map((label, column) => ({
          label,
          width: column === 0 ? 52 : 14,
          align: column === 0 ? 'left' : 'right',
        })),
        rows: prices.map((price, line) => [
          `Spins, product ${line} of order ${index}`,
          '1',
          money(price, 'EUR'),
          '20%',
          money(price, 'EUR'),
        ]),
      },
      { kind: 'totals', rows: [{ label: 'Amount due', value: sum, strong: true }] },
      {
        kind: 'payment',
        text: 'Please pay by 16 March 2026.',
        rows: [{ label: 'Amount', value: sum }],
        code: `BCD\n002\n1\nSCT\n\nLindenhof Spin Studio\nDE89370400440532013000\nEUR${index + 1}.00`,
        codeText: 'The code holds the same.',
      },
    ],
  }
}
