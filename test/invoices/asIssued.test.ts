import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { theInvoice } from '../../db/billing.ts'
import type { Id } from '../../db/ids.ts'
import { invoiceSheet } from '../../main/papers/invoice.ts'
import { shownSheet } from '../../main/papers/shownSheet.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const iban = 'DE89370400440532013000' // The registry's example (ISO 13616).

async function aDelivered(studio: TestStudio, client: Parameters<typeof anOrder>[2] = {}) {
  const { jobId, shootIds } = await anOrder(
    studio,
    [{ kind: 'spins', quantityMilli: 18_000, priceMinor: 5250, netMinor: 94_500, spins: 18 }],
    client,
  )
  deliver(studio, jobId, shootIds)
  return jobId
}

/** What issuing printed, in the form a screen is handed. */
function printed({ db, writing }: TestStudio, invoiceId: Id<'invoice'>) {
  return shownSheet(db, invoiceSheet(db, theInvoice(db, invoiceId), writing.now))
}

describe('the paper that is shown before issuing', () => {
  it('is the paper that issuing prints, word for word: invoice, deposit and credit note', async () => {
    const studio = aStudio()
    const { api, db } = studio
    db.prepare('UPDATE studio SET iban = ?').run(iban)
    const logo = await sharp({ create: { width: 90, height: 30, channels: 3, background: '#777777' } })
      .png()
      .toBuffer()
    await api.studio.setLogo({ name: 'mark.png', base64: logo.toString('base64') })
    const jobId = await aDelivered(studio, { name: 'Kürbis & Söhne', language: 'de', paymentDays: 21 })
    const deposit = await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 })
    const issued: string[] = []
    const look = async (draft: { invoiceId: Id<'invoice'> }) => {
      const shown = await api.invoices.asIssued(draft)
      expect(shown).toMatchObject({ refusal: null, lettersLacking: [] })
      const { number } = await api.invoices.issue(draft)
      expect(shown.number).toBe(number)
      expect(shown.sheet).toEqual(printed(studio, draft.invoiceId))
      expect(shown.sheet.logoSha256).toMatch(/^[0-9a-f]{64}$/)
      issued.push(shown.sheet.title)
      return shown.sheet.blocks.find((block) => block.kind === 'payment')
    }
    expect(await look(deposit)).toMatchObject({ code: { size: expect.any(Number) } })
    const bill = await api.invoices.draft({ jobId })
    expect(await look(bill)).toBeDefined()
    expect(
      await look(await api.invoices.draftCredit({ ...bill, reason: 'Doppelt', part: null })),
    ).toBeUndefined()
    expect(issued).toEqual([
      'Anzahlungsrechnung I-2026-0001',
      'Rechnung I-2026-0002',
      'Gutschrift (Rechnungskorrektur) C-2026-0001',
    ])
  })

  it('takes no number and writes nothing, however often it is looked at', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const draft = await api.invoices.draft({ jobId: await aDelivered(studio) })
    const count = () => db.prepare('SELECT total_changes()').pluck().get()
    const before = count()
    for (let look = 0; look < 3; look += 1) {
      expect((await api.invoices.asIssued(draft)).number).toBe('I-2026-0001')
    }
    expect(count()).toBe(before)
    expect((await api.invoices.one(draft)).invoice).toMatchObject({ state: 'draft', number: null })
  })

  it('says beside it what would refuse the issue, and which letters cannot be printed', async () => {
    const studio = aStudio()
    const { api } = studio
    const jobId = await aDelivered(studio, { name: 'Halvorsen 商', orderNumberNeeded: true })
    const draft = await api.invoices.draft({ jobId })
    const shown = await api.invoices.asIssued(draft)
    expect(shown.lettersLacking).toEqual(['商'])
    await expect(api.invoices.issue(draft)).rejects.toMatchObject({
      cause: { code: 'order-number-missing', message: shown.refusal },
    })
  })

  it('is refused of what is issued already', async () => {
    const studio = aStudio()
    const draft = await studio.api.invoices.draft({ jobId: await aDelivered(studio) })
    await studio.api.invoices.issue(draft)
    await expect(studio.api.invoices.asIssued(draft)).rejects.toMatchObject({
      cause: { name: 'Refusal' },
    })
  })
})
