import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import { statementSheet } from '../../main/papers/accountStatement.ts'
import { reminderSheet } from '../../main/papers/reminder.ts'
import { printSheet } from '../../main/papers/sheet.ts'
import { withBalances } from '../../main/trade/accountStatement.ts'
import { ageingOf } from '../../main/trade/ageing.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { readPdf } from './readPdf.ts'

/** The words of a paper with plain spaces. */
async function wordsOf(pdf: Buffer): Promise<string> {
  return (await readPdf(pdf)).pages.join(' ').replaceAll(/\s+/gu, ' ')
}

function keptPdf({ db, folder }: TestStudio, paperId: number): Buffer {
  return fs.readFileSync(attachmentPath(folder, attachmentById(db, paperId)?.sha256 ?? ''))
}

const spins = { kind: 'spins', quantityMilli: 18_000, priceMinor: 5250, netMinor: 94_500, spins: 1 } as const

function agree({ db, writing }: TestStudio, jobId: Id<'job'>, title: string, netMinor: number): void {
  const number = Number(db.prepare('SELECT count(*) FROM extra WHERE job_id = ?').pluck().get(jobId)) + 1
  const extraId = db
    .prepare(
      `INSERT INTO extra (job_id, number, title, new_due_day, proposed_at) VALUES (?, ?, ?, '2026-04-30', ?)`,
    )
    .run(jobId, number, title, writing.now).lastInsertRowid
  db.prepare(
    `INSERT INTO extra_line (extra_id, position, text, quantity_milli, price_minor, net_minor, tax_rate_id)
     VALUES (?, 1, ?, 1000, ?, ?, 1)`,
  ).run(extraId, title, netMinor, netMinor)
  db.prepare(
    `UPDATE extra SET state = 'agreed', decided_at = ?, decided_day = '2026-03-02', decided_how = 'by e-mail' WHERE id = ?`,
  ).run(writing.now, extraId)
}

describe('an order confirmation', () => {
  it('confirms the accepted quote with the extras agreed, and what they come to', async () => {
    const studio = aStudio()
    const { jobId } = await anOrder(studio, [spins], {
      name: 'Kürbis & Söhne',
      language: 'de',
      country: 'DE',
    })
    agree(studio, jobId, 'Zweite Farbe', 5500)
    const { paperId } = await studio.api.clientPapers.orderConfirmation({ jobId })
    const text = await wordsOf(keptPdf(studio, paperId))
    // 945.00 and 55.00 are 1,000.00; 20 % of that 200.00.
    for (const part of [
      'Auftragsbestätigung J-TEST-',
      'Kürbis & Söhne',
      'Nachtrag 1: Zweite Farbe',
      '30. April 2026',
      '1.000,00 €',
      '200,00 €',
      '1.200,00 €',
    ]) {
      expect(text).toContain(part)
    }
  })

  it('repeats the terms of the quote and the rights of use that are agreed, not those that are only proposed', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId } = await anOrder(studio, [spins])
    const terms = 'Cancelled within 5 days: 50% of the bench time is charged.'
    db.exec('DROP TRIGGER quote_sent_stays')
    db.prepare('UPDATE quote SET terms = ? WHERE job_id = ?').run(terms, jobId)
    const right = { media: 'Own web shop', territory: 'Europe', passesOnPayment: true }
    const days = { fromDay: '2026-03-01', toDay: '2027-02-28' }
    const { rightId } = await api.usageRights.add({ jobId, right: { ...right, ...days } })
    await api.usageRights.add({ jobId, right: { ...right, ...days, media: 'Poster' } })
    await api.usageRights.agree({ rightId, by: 'Tove Arlund' })
    const { paperId } = await api.clientPapers.orderConfirmation({ jobId })
    const text = await wordsOf(keptPdf(studio, paperId))
    expect(text).toContain(terms)
    expect(text).toContain('Own web shop, Europe, from 1 March 2026, until 28 February 2027')
    expect(text).not.toContain('Poster')
  })

  it('is kept as it was written when the order changes, and not twice when it does not', async () => {
    const studio = aStudio()
    const { jobId } = await anOrder(studio, [spins])
    const first = await studio.api.clientPapers.orderConfirmation({ jobId })
    expect(await studio.api.clientPapers.orderConfirmation({ jobId })).toEqual(first)
    const before = keptPdf(studio, first.paperId)
    agree(studio, jobId, 'A second colour', 5500)
    const second = await studio.api.clientPapers.orderConfirmation({ jobId })
    expect(second.paperId).not.toBe(first.paperId)
    expect(keptPdf(studio, first.paperId).equals(before)).toBe(true)
    const papers = await studio.api.clientPapers.ofJob({ jobId })
    expect(papers.map(({ attachmentId }) => attachmentId)).toEqual([second.paperId, first.paperId])
  })

  it('is refused while no quote is accepted', async () => {
    const studio = aStudio()
    const { jobId } = await anOrder(studio, [spins])
    studio.db.exec(`UPDATE quote SET state = 'replaced'`)
    await expect(studio.api.clientPapers.orderConfirmation({ jobId })).rejects.toMatchObject({
      cause: { code: 'no-order' },
    })
  })
})

describe('a goods receipt', () => {
  it('lists what is here with its state, place, value and what becomes of it, and what is still expected', async () => {
    const studio = aStudio()
    const { db, writing } = studio
    const { jobId, clientId } = await anOrder(studio, [spins], { name: 'Halvorsen Lamps' })
    await expect(studio.api.clientPapers.goodsReceipt({ jobId })).rejects.toMatchObject({
      cause: { code: 'nothing-here' },
    })
    const put = db.prepare(
      `INSERT INTO sample (job_id, product_id, state, arrived_at, condition, place, value_minor, fate)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    )
    const product = db.prepare(`INSERT INTO product (client_id, code, name, created_at) VALUES (?, ?, ?, ?)`)
    const aProduct = (code: string, name: string) =>
      product.run(clientId, code, name, writing.now).lastInsertRowid
    put.run(
      jobId,
      aProduct('LAMP-1', 'Desk lamp'),
      'in',
      writing.now,
      'a scratch at the foot',
      'Shelf B3',
      12_900,
      'return',
    )
    put.run(jobId, aProduct('LAMP-2', 'Floor lamp'), 'broken', writing.now, null, null, null, 'destroy')
    put.run(jobId, aProduct('LAMP-3', 'Wall lamp'), 'expected', null, null, null, null, 'return')
    const { paperId } = await studio.api.clientPapers.goodsReceipt({ jobId })
    const text = await wordsOf(keptPdf(studio, paperId))
    for (const part of [
      'Goods receipt J-TEST-',
      'LAMP-1',
      'received: a scratch at the foot',
      'Shelf B3',
      'goes back',
      '€129.00',
      'LAMP-2',
      'broken',
      'is destroyed',
      'not here yet LAMP-3',
      'Received by',
    ]) {
      expect(text).toContain(part)
    }
  })
})

describe('a reminder', () => {
  const content = (clientId: number, level: number) => ({
    clientId,
    currency: 'EUR',
    day: '2026-05-20',
    level,
    invoices: [
      {
        invoiceId: 1,
        number: 'I-2026-0007',
        issueDay: '2026-03-02',
        dueDay: '2026-04-30',
        paymentReference: 'RF18539007547034',
        level,
        openMinor: 100_000,
        interestMinor: 493,
      },
    ],
    openMinor: 100_000,
    interestMinor: 493,
    lumpSumMinor: 4000,
    totalMinor: 104_493,
  })

  it.each([
    [1, 'Zahlungserinnerung'],
    [2, 'Zweite Zahlungserinnerung'],
    [3, 'Letzte Zahlungserinnerung'],
    [9, 'Letzte Zahlungserinnerung'],
  ] as const)(
    'of level %s says what is open, since when, what is asked besides and how to pay',
    async (level, title) => {
      const studio = aStudio()
      await studio.api.studio.change({ iban: 'DE89370400440532013000' })
      const { clientId } = await anOrder(studio, [spins], { language: 'de' })
      const sheet = reminderSheet(studio.db, content(clientId, level), false)
      expect(sheet.title).toBe(title)
      const text = await wordsOf(printSheet(sheet))
      // 30 April to 20 May are 20 days.
      for (const part of [
        'I-2026-0007',
        '2. März 2026',
        '30. April 2026',
        ' 20 ',
        '1.000,00 €',
        '4,93 €',
        '40,00 €',
        '1.044,93 €',
        'RF18539007547034',
        'DE89 3704 0044 0532 0130 00',
      ]) {
        expect(text).toContain(part)
      }
      expect(sheet.blocks.find(({ kind }) => kind === 'payment')).toMatchObject({
        code: expect.stringContaining('\nEUR1044.93\n') as string,
      })
    },
  )
})

describe('a reminder that is sent', () => {
  it('has a paper that says so, kept with it; as a draft it says that it is one', async () => {
    const studio = aStudio()
    const { jobId, clientId, shootIds } = await anOrder(studio, [spins])
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await studio.api.invoices.draft({ jobId })
    const { number } = await studio.api.invoices.issue({ invoiceId })
    studio.setNow('2026-06-01T08:00:00.000Z')
    const choice = { clientId, currency: 'EUR', invoices: [{ invoiceId, interestMinor: 0 }], lumpSumMinor: 0 }
    await studio.api.reminders.setLevels({
      levels: [{ daysAfterDue: 7, daysBetween: 0, withInterest: false, withLumpSum: false }],
    })
    const draft = await studio.api.reminders.draftPaper(choice)
    expect(await wordsOf(keptPdf(studio, draft.paperId))).toContain('Payment reminder (Draft)')
    const { paperId } = await studio.api.reminders.markSent(choice)
    const text = await wordsOf(keptPdf(studio, paperId))
    expect(text).not.toContain('Draft')
    expect(text).toContain(number)
    expect(text).toContain('€1,134.00')
    expect(studio.db.prepare('SELECT paper_id FROM reminder').pluck().all()).toEqual([paperId])
  })
})

describe('a statement of account', () => {
  it('is written from the client’s account and kept', async () => {
    const studio = aStudio()
    const { jobId, clientId, shootIds } = await anOrder(studio, [spins])
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await studio.api.invoices.draft({ jobId })
    const { number } = await studio.api.invoices.issue({ invoiceId })
    const period = { clientId, currency: 'EUR', fromDay: '2026-03-01', toDay: '2026-03-31' }
    const { paperId } = await studio.api.clientPapers.statement(period)
    const text = await wordsOf(keptPdf(studio, paperId))
    expect(text).toContain(`Invoice ${number}`)
    expect(text).toContain('Closing balance €1,134.00')
    expect(studio.db.prepare('SELECT kind FROM client_paper').pluck().all()).toEqual(['statement of account'])
  })

  it('runs from the opening to the closing balance and says how old what is open is', async () => {
    const studio = aStudio()
    const { clientId } = await anOrder(studio, [spins], { name: 'Halvorsen Lamps' })
    const entry = { invoiceId: null, dueDay: null }
    const lines = withBalances(20_000, [
      {
        ...entry,
        day: '2026-03-02',
        kind: 'invoice',
        text: 'I-2026-0007',
        dueDay: '2026-03-16',
        amountMinor: 100_000,
      },
      { ...entry, day: '2026-03-20', kind: 'payment', text: 'RF18539007547034', amountMinor: -70_000 },
      { ...entry, day: '2026-03-25', kind: 'credit note', text: 'C-2026-0001', amountMinor: -10_000 },
    ])
    const sheet = statementSheet(studio.db, {
      clientId,
      currency: 'EUR',
      fromDay: '2026-03-01',
      toDay: '2026-03-31',
      openingMinor: 20_000,
      lines,
      closingMinor: 40_000,
      drawnUpDay: '2026-05-01',
      openMinor: 40_000,
      ageing: ageingOf([{ dueDay: '2026-03-16', openMinor: 40_000 }], '2026-05-01'),
      creditMinor: 1234,
    })
    const text = await wordsOf(printSheet(sheet))
    for (const part of [
      '1 – 31 March 2026',
      'Opening balance',
      '€200.00',
      'Invoice I-2026-0007',
      '€1,200.00',
      '−€700.00',
      '€500.00',
      'Credit note C-2026-0001',
      'Closing balance €400.00',
      'Open on 1 May 2026',
      '31 to 60 days',
      '€12.34',
    ]) {
      expect(text).toContain(part)
    }
  })
})
