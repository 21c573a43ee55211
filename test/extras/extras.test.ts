import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Asks } from '../../main/api/types.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })
type Draft = Asks['extras']['propose']['extra']

const anExtra = (of: Partial<Draft> = {}): Draft => ({
  title: 'Two more colours',
  why: null,
  newDueDay: null,
  lines: [{ text: 'Spin, further colour', quantityMilli: 2000, unit: 'C62', priceMinor: 4500, taxRateId: 1 }],
  ...of,
})

const spin = { kind: 'spins' as const, quantityMilli: 1000, priceMinor: 5200, netMinor: 5200, spins: 1 }
const yes = { state: 'agreed' as const, day: '2026-03-02', contactId: null, how: 'by e-mail' }

describe('an extra to an accepted quote', () => {
  it('is shown while it is proposed, and billed with the next invoice once it is agreed', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spin])
    deliver(studio, jobId, shootIds)
    const { extraId } = await api.extras.propose({ jobId, extra: anExtra() })
    const before = await api.invoices.draft({ jobId })
    expect((await api.invoices.one(before)).invoice.netMinor).toBe(5200)
    await api.invoices.discard(before)
    await api.extras.decide({ extraId, ...yes })
    const after = await api.invoices.draft({ jobId })
    expect((await api.invoices.one(after)).invoice.netMinor).toBe(5200 + 9000)
    await api.invoices.issue(after)
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject(refused('nothing-to-bill'))
  })

  it('reopens a job that was paid, until it is billed too', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [spin])
    const station = () => db.prepare('SELECT station FROM job_standing WHERE job_id = ?').pluck().get(jobId)
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await api.invoices.draft({ jobId })
    await api.invoices.issue({ invoiceId })
    const { openMinor } = await api.invoices.one({ invoiceId })
    const payment = { day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
    await api.invoices.pay({ invoiceId, amountMinor: openMinor, ...payment })
    expect(station()).toBe('paid')
    const { extraId } = await api.extras.propose({ jobId, extra: anExtra() })
    expect(station()).toBe('paid')
    await api.extras.decide({ extraId, ...yes })
    expect(station()).toBe('invoice')
  })

  it('moves the job’s due day by the client’s yes, and by nothing before', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId } = await anOrder(studio, [spin])
    db.prepare('UPDATE job SET promise_working_days = 5').run()
    const { extraId } = await api.extras.propose({
      jobId,
      extra: anExtra({ newDueDay: '2026-04-17', lines: [] }),
    })
    const due = async () => (await api.jobs.one({ jobId })).job
    expect(await due()).toMatchObject({ dueDay: null, promiseWorkingDays: 5 })
    await api.extras.decide({ extraId, ...yes })
    expect(await due()).toMatchObject({ dueDay: '2026-04-17', promiseWorkingDays: null })
    expect((await api.jobs.one({ jobId })).standing.dueDay).toBe('2026-04-17')
  })

  it('is numbered within its job, and stays as it is once it is decided', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId } = await anOrder(studio, [spin])
    const first = await api.extras.propose({ jobId, extra: anExtra() })
    const second = await api.extras.propose({ jobId, extra: anExtra({ title: 'Faster' }) })
    const { extras } = await api.extras.ofJob({ jobId })
    expect(extras.map(({ number }) => number)).toEqual([1, 2])
    await api.extras.change({ ...second, extra: anExtra({ title: 'Faster still' }) })
    await api.extras.decide({ ...first, ...yes, state: 'declined', how: 'by telephone' })
    await expect(api.extras.change({ ...first, extra: anExtra() })).rejects.toMatchObject(
      refused('extra-decided'),
    )
    await expect(api.extras.discard(first)).rejects.toMatchObject(refused('extra-decided'))
    await api.extras.discard(second)
    expect((await api.extras.ofJob({ jobId })).extras).toMatchObject([
      { title: 'Two more colours', state: 'declined', decidedHow: 'by telephone', netMinor: 9000 },
    ])
  })

  it('is refused without an accepted quote, empty, answered in the future or by another client’s contact', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId } = await anOrder(studio, [spin])
    await expect(api.extras.propose({ jobId, extra: anExtra({ lines: [] }) })).rejects.toMatchObject(
      refused('extra-empty'),
    )
    const { extraId } = await api.extras.propose({ jobId, extra: anExtra() })
    await expect(api.extras.decide({ extraId, ...yes, day: '2026-03-03' })).rejects.toMatchObject(
      refused('answer-in-future'),
    )
    const contact = { name: 'Ines Holm', role: null, email: null, phone: null, isMain: true }
    const other = await anOrder(studio, [spin], { name: 'Norden Glass', contacts: [contact] })
    const { contacts } = await api.clients.one({ clientId: other.clientId })
    await expect(
      api.extras.decide({ extraId, ...yes, contactId: contacts[0]?.id ?? 0 }),
    ).rejects.toMatchObject(refused('contact-of-another'))
    db.prepare(`UPDATE quote SET state = 'declined' WHERE job_id = ?`).run(jobId)
    await expect(api.extras.propose({ jobId, extra: anExtra() })).rejects.toMatchObject(refused('no-order'))
  })

  it('stands on a page that can be sent to the client, in the client’s language', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId } = await anOrder(studio, [spin], { language: 'de' })
    await api.extras.propose({ jobId, extra: anExtra({ newDueDay: '2026-04-17' }) })
    const { paperId } = await api.extras.paper({ jobId })
    const file = attachmentPath(studio.folder, attachmentById(studio.db, paperId)?.sha256 ?? '')
    const words = (await readPdf(fs.readFileSync(file))).pages.join(' ')
    expect(words).toContain('Nachträge zu unserem Auftrag')
    expect(words).toMatch(/Der\s+neue\s+Liefertag\s+ist\s+der\s+17\.\s+April\s+2026/)
    // 2 × 45.00 with 20 % tax.
    expect(words).toMatch(/108,00\s€/)
  })
})
