import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import type { TestStudio } from '../studio.ts'
import { aStudio } from '../studio.ts'
import { all, readUbl, textAt } from '../ubl/readUbl.ts'
import { brokenExactly, brokenRules } from '../ubl/rules.ts'
import { anOrder, deliver } from './order.ts'

const spins = { kind: 'spins', quantityMilli: 3000, priceMinor: 3333, netMinor: 9999, spins: 3 } as const
const refused = (code: string) => ({ cause: { code } })

async function fileOf({ api, db, folder }: TestStudio, invoiceId: Id<'invoice'>) {
  const { paperId } = await api.invoices.ubl({ invoiceId })
  const attachment = attachmentById(db, paperId)
  const xml = fs.readFileSync(attachmentPath(folder, attachment?.sha256 ?? ''), 'utf8')
  return { paperId, attachment, xml, root: readUbl(xml) }
}

describe('the electronic invoice of an issued document', () => {
  it('is written once from its frozen rows, keeps the rules, and is named by its number', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.studio.change({ iban: 'DE89 3704 0044 0532 0130 00' })
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const deposit = await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 })
    await expect(api.invoices.ubl(deposit)).rejects.toMatchObject(refused('not-issued'))
    const first = await api.invoices.issue(deposit)
    deliver(studio, jobId, shootIds)
    const draft = await api.invoices.draft({ jobId })
    const { number } = await api.invoices.issue(draft)

    const written = await fileOf(studio, draft.invoiceId)
    expect(written.attachment).toMatchObject({ name: `${number}.xml`, mediaType: 'application/xml' })
    expect(brokenRules(written.root)).toEqual([])
    expect(brokenExactly(written.root)).toEqual([])
    expect(textAt(written.root, 'BillingReference/InvoiceDocumentReference/ID')).toBe(first.number)
    // 99.99 at 20 % is 119.99; a deposit of 30 % is 30.00 and 6.00 of tax.
    expect(textAt(written.root, 'LegalMonetaryTotal/TaxInclusiveAmount')).toBe('119.99')
    expect(textAt(written.root, 'LegalMonetaryTotal/PrepaidAmount')).toBe('36.00')
    expect(textAt(written.root, 'LegalMonetaryTotal/PayableAmount')).toBe('83.99')

    await api.studio.change({ name: 'Another name', iban: null })
    expect((await fileOf(studio, draft.invoiceId)).paperId).toBe(written.paperId)
    expect(brokenRules((await fileOf(studio, deposit.invoiceId)).root)).toEqual([])
    expect(textAt((await fileOf(studio, deposit.invoiceId)).root, 'InvoiceTypeCode')).toBe('386')
  })

  it('of a credit note names its invoice and mirrors it', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins])
    deliver(studio, jobId, shootIds)
    const draft = await api.invoices.draft({ jobId })
    const { number } = await api.invoices.issue(draft)
    const credit = await api.invoices.draftCredit({ ...draft, reason: 'Billed twice', part: null })
    await api.invoices.issue(credit)
    const [invoiced, credited] = [
      await fileOf(studio, draft.invoiceId),
      await fileOf(studio, credit.invoiceId),
    ]
    expect(brokenRules(credited.root)).toEqual([])
    expect(textAt(credited.root, 'BillingReference/InvoiceDocumentReference/ID')).toBe(number)
    const sums = (root: ReturnType<typeof readUbl>) =>
      all(root, 'LegalMonetaryTotal').flatMap(({ children }) =>
        children.map(({ name, text }) => [name, text]),
      )
    expect(sums(credited.root)).toEqual(sums(invoiced.root))
  })
})

describe('what a kind of tax demands is refused at issue, in a kind sentence', () => {
  async function aDraft(category: 'S' | 'AE' | 'K' | 'G', client: Parameters<typeof anOrder>[2] = {}) {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins], client)
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await api.invoices.draft({ jobId })
    const one = await api.invoices.one({ invoiceId })
    const tax = { category, ratePpm: category === 'S' ? 200_000 : 0, exemptionReason: 'As agreed.' }
    const lines = one.lines.map((line) => ({ ...line, ...tax }))
    const kept = { ...one.invoice, invoiceId, adjustments: [] }
    await api.invoices.changeDraft({ ...kept, lines })
    return { studio, invoiceId, kept, lines }
  }

  it('the studio’s own number, where the standard is law', async () => {
    const { studio, invoiceId } = await aDraft('S')
    await studio.api.studio.change({ taxNumber: null })
    await expect(studio.api.invoices.issue({ invoiceId })).rejects.toThrow('Enter it under Studio')
    await studio.api.studio.change({ country: 'US' })
    await studio.api.invoices.issue({ invoiceId })
  })

  it('the client’s number for reverse charge', async () => {
    const { studio, invoiceId } = await aDraft('AE')
    await expect(studio.api.invoices.issue({ invoiceId })).rejects.toThrow(
      /Reverse charge needs the tax number of .+ Enter it under the client/u,
    )
    expect((await studio.api.invoices.one({ invoiceId })).invoice.state).toBe('draft')
  })

  it('numbers with the letters of a country, and a day, for a supply within the Union', async () => {
    const { studio, invoiceId, kept, lines } = await aDraft('K', { taxNumber: '4711' })
    await expect(studio.api.invoices.issue({ invoiceId })).rejects.toMatchObject(refused('buyer-vat-id'))
    studio.db.prepare(`UPDATE client SET tax_number = 'NL000000000B00', country = 'NL'`).run()
    await studio.api.invoices.changeDraft({ ...kept, lines, serviceFrom: null, serviceTo: null })
    await expect(studio.api.invoices.issue({ invoiceId })).rejects.toMatchObject(refused('service-day'))
    await studio.api.invoices.changeDraft({
      ...kept,
      lines,
      serviceFrom: '2026-02-02',
      serviceTo: '2026-02-27',
    })
    await studio.api.invoices.issue({ invoiceId })
    const { root } = await fileOf(studio, invoiceId)
    expect(brokenRules(root)).toEqual([])
    expect(textAt(root, 'TaxTotal/TaxSubtotal/TaxCategory/TaxExemptionReasonCode')).toBe('VATEX-EU-IC')
  })

  it('the studio’s own VAT number for an export', async () => {
    const { studio, invoiceId } = await aDraft('G')
    await studio.api.studio.change({ taxNumber: '12/345/67890' })
    await expect(studio.api.invoices.issue({ invoiceId })).rejects.toMatchObject(refused('seller-vat-id'))
  })
})
