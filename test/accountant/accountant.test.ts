import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { unzipSync } from 'fflate'
import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { anInvoice } from '../bank/anInvoice.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })
const march = { fromDay: '2026-03-01', toDay: '2026-03-31' }

async function journal({ api }: TestStudio, period = march) {
  const { csv } = await api.accountant.journalPart(period)
  return Papa.parse<Record<string, string>>(csv.replace('\ufeff', ''), { header: true, skipEmptyLines: true })
    .data
}

const sumOf = (rows: readonly Record<string, string>[], column: string) =>
  Math.round(rows.reduce((sum, row) => sum + Number(row[column] ?? 0), 0) * 100)

async function zipped(studio: TestStudio) {
  const { zipId } = await studio.api.accountant.startZip(march)
  for (;;) {
    const state = await studio.api.accountant.zipState({ zipId })
    if (state.state === 'done') return state
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

describe('the sales journal', () => {
  it('has each document by rate, credit notes as less, and only the days asked for', async () => {
    const studio = aStudio()
    const one = await anInvoice(studio, 5000, { name: '=Harbour; "Lamps"' })
    await studio.api.invoices.issue(
      await studio.api.invoices.draftCredit({ ...one, reason: 'wrong', part: null }),
    )
    studio.setNow('2026-04-02T08:00:00.000Z')
    await anInvoice(studio, 700)
    const rows = await journal(studio)
    expect(
      rows.map((row) => [row.Number, row.Kind, row['Taxable base'], row['Corrects or deducts']]),
    ).toEqual([
      [one.number, 'invoice', '50', ''],
      ['C-2026-0001', 'credit note', '-50', one.number],
    ])
    // A cell that could be taken for a formula is kept from being one.
    expect(rows[0]?.Client).toBe('\'=Harbour; "Lamps"')
  })

  it('counts the tax of a deposit once, when it is deducted as when all is credited', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 10_000, netMinor: 10_000, spins: 1 },
    ])
    await api.invoices.issue(await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 }))
    deliver(studio, jobId, shootIds)
    const invoice = await api.invoices.draft({ jobId })
    await api.invoices.issue(invoice)
    const sold = await journal(studio)
    // 100.00 at the test studio's 20 %, whatever was paid before.
    expect([sumOf(sold, 'Taxable base'), sumOf(sold, 'Tax')]).toEqual([10_000, 2000])
    expect(sumOf(sold, 'Payable')).toBe(12_000)
    await api.invoices.issue(await api.invoices.draftCredit({ ...invoice, reason: 'gone', part: null }))
    const left = await journal(studio)
    expect([sumOf(left, 'Taxable base'), sumOf(left, 'Tax')]).toEqual([3000, 600])
  })

  it('has the payments of the period apart', async () => {
    const studio = aStudio()
    const { api } = studio
    const one = await anInvoice(studio, 5000)
    const pay = { ...one, day: '2026-03-02', way: 'card' as const, reference: null, note: null }
    await api.invoices.pay({ ...pay, amountMinor: 5000 })
    const payment = (await api.invoices.one(one)).payments[0]
    await api.invoices.reversePayment({ paymentId: payment?.id ?? 0, reason: 'bounced' })
    const { csv, next } = await api.accountant.paymentsPart(march)
    const rows = Papa.parse<string[]>(csv, { skipEmptyLines: true }).data.slice(1)
    expect(rows.map(([day, kind, , amount, , way, numbers]) => [day, kind, amount, way, numbers])).toEqual([
      ['2026-03-02', 'payment', '50', 'card', one.number],
      ['2026-03-02', 'taken back', '-50', 'card', one.number],
    ])
    expect(next).toBeNull()
  })
})

describe('all papers of a period', () => {
  it('are one archive whose files are what the manifest and the studio say, missing papers written first', async () => {
    const studio = aStudio()
    const { api, db, folder } = studio
    const made = [await anInvoice(studio, 5000), await anInvoice(studio, 700), await anInvoice(studio, 900)]
    await api.invoices.ubl({ invoiceId: made[0]?.invoiceId ?? 0 })
    expect(await api.accountant.period(march)).toEqual({ documents: 3, withoutPaper: 3 })
    const { attachmentId } = await zipped(studio)
    const kept = attachmentById(db, attachmentId ?? 0)
    const bytes = fs.readFileSync(attachmentPath(folder, kept?.sha256 ?? ''))
    const hash = (of: Uint8Array) => createHash('sha256').update(of).digest('hex')
    expect([kept?.sha256, kept?.bytes]).toEqual([hash(bytes), bytes.length])
    const files = unzipSync(bytes)
    const manifest = Papa.parse<{ number: string; name: string; sha256: string; bytes: string }>(
      new TextDecoder().decode(files['manifest.csv']),
      { header: true, skipEmptyLines: true },
    ).data
    expect(manifest.map(({ name }) => name).toSorted()).toEqual(
      Object.keys(files)
        .filter((name) => name !== 'manifest.csv')
        .toSorted(),
    )
    for (const { name, sha256, bytes: size } of manifest) {
      const file = files[name] ?? new Uint8Array()
      expect([hash(file), file.length]).toEqual([sha256, Number(size)])
    }
    const first = made[0]?.number ?? ''
    expect(Object.keys(files)).toEqual(expect.arrayContaining([`papers/${first}.pdf`, `ubl/${first}.xml`]))
    expect(new TextDecoder().decode(files[`papers/${first}.pdf`]?.slice(0, 5))).toBe('%PDF-')
    expect(await api.accountant.period(march)).toEqual({ documents: 3, withoutPaper: 0 })
  })

  it('can be stopped, and leaves nothing behind', async () => {
    const studio = aStudio()
    for (let each = 0; each < 5; each += 1) await anInvoice(studio, 5000)
    const { zipId } = await studio.api.accountant.startZip(march)
    await studio.api.accountant.stopZip({ zipId })
    await expect
      .poll(() => studio.api.accountant.zipState({ zipId }))
      .toMatchObject({ state: 'done', attachmentId: null })
    expect(fs.readdirSync(`${studio.folder}/files`).filter((name) => name.endsWith('.part'))).toEqual([])
  })

  it('say which paper is not what was kept, and hand over nothing', async () => {
    const studio = aStudio()
    const { api, db, folder } = studio
    const one = await anInvoice(studio, 5000)
    const { paperId } = await api.invoices.paper(one)
    fs.appendFileSync(attachmentPath(folder, attachmentById(db, paperId)?.sha256 ?? ''), 'x')
    await expect(zipped(studio)).rejects.toMatchObject(refused('paper-spoilt'))
  })

  it('refuse a period in which nothing was issued', async () => {
    const { api } = aStudio()
    await expect(api.accountant.startZip(march)).rejects.toMatchObject(refused('period-empty'))
  })
})
