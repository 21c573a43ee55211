import fs from 'node:fs'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { aStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

async function textOf(file: string): Promise<string> {
  const pdf = await getDocument({ data: new Uint8Array(fs.readFileSync(file)) }).promise
  const pages = await Promise.all(
    Array.from({ length: pdf.numPages }, async (_, index) => {
      const content = await (await pdf.getPage(index + 1)).getTextContent()
      return content.items.map((item) => ('str' in item ? item.str : '')).join(' ')
    }),
  )
  return pages
    .join('\n')
    .replaceAll(/[\u00a0\u202f]/gu, ' ')
    .replaceAll(/\s+/gu, ' ')
}

describe('the paper of an invoice', () => {
  it('says what the store holds, in text that can be read back, and is written once', async () => {
    const studio = aStudio()
    const { api, db, folder } = studio
    const { jobId, shootIds } = await anOrder(
      studio,
      [{ kind: 'spins', quantityMilli: 18_000, priceMinor: 5250, netMinor: 94_500, spins: 18 }],
      { name: 'Kürbis & Söhne', language: 'de' },
    )
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await api.invoices.draft({ jobId })
    const { number, paperId } = await api.invoices.issue({ invoiceId })
    const attachment = attachmentById(db, paperId)
    expect(attachment?.name).toBe(`${number}.pdf`)
    const text = await textOf(attachmentPath(folder, attachment?.sha256 ?? ''))
    // 945.00 at 20 % is 189.00 of tax and 1,134.00 in all (EN 16931-1 BR-CO-15, BR-CO-17).
    const named = ['Kürbis & Söhne', 'USt-IdNr. DE000000000', 'Rechnung', number]
    for (const part of [...named, '945,00 €', '189,00 €', '1.134,00 €']) {
      expect(text).toContain(part)
    }
    expect((await api.invoices.paper({ invoiceId })).paperId).toBe(paperId)
  })

  it('names the studio and nothing of its own figures beside it', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 5250, netMinor: 5250, spins: 1 },
    ])
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await studio.api.invoices.draft({ jobId })
    await studio.api.invoices.issue({ invoiceId })
    const { invoice } = await studio.api.invoices.one({ invoiceId })
    // EN 16931-1, BG-4 and BG-7: name, address, numbers and account of a party.
    const named = 'bic city companyNumber country email iban name postalCode region street taxNumber'
    expect(
      Object.keys(invoice.seller ?? {})
        .toSorted()
        .join(' '),
    ).toBe(named)
    expect(
      Object.keys(invoice.buyer ?? {})
        .toSorted()
        .join(' '),
    ).toBe(named)
  })
})
