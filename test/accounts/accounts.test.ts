import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ageingOf, ageOf, ages, dueDaysOf } from '../../main/trade/ageing.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { lateInterestMinor } from '../../main/trade/lateInterest.ts'
import { anInvoice } from '../bank/anInvoice.ts'
import { aStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })
const today = '2026-06-30'

describe('how old an open amount is', () => {
  it('begins the day after it was due, in classes of thirty days', () => {
    // Common practice, no published source.
    const cases: readonly (readonly [number, string])[] = [
      [0, 'not due'],
      [1, 'to 30'],
      [30, 'to 30'],
      [31, '31 to 60'],
      [60, '31 to 60'],
      [61, '61 to 90'],
      [90, '61 to 90'],
      [91, 'over 90'],
    ]
    for (const [days, age] of cases) expect(ageOf(addDays(today, -days), today)).toBe(age)
  })

  it('adds up to what is open, and each class holds the days that a list asks it for', () => {
    const item = fc.record({
      dueDay: fc.integer({ min: -400, max: 100 }).map((days) => addDays(today, days)),
      openMinor: fc.integer({ min: -5000, max: 50_000 }),
    })
    fc.assert(
      fc.property(fc.array(item), (items) => {
        const ageing = ageingOf(items, today)
        expect(ages.reduce((sum, age) => sum + ageing[age], 0)).toBe(
          items.reduce((sum, { openMinor }) => sum + openMinor, 0),
        )
        for (const { dueDay } of items) {
          const within = ages.filter((age) => {
            const { from, to } = dueDaysOf(age, today)
            return (from === null || dueDay >= from) && (to === null || dueDay <= to)
          })
          expect(within).toEqual([ageOf(dueDay, today)])
        }
      }),
    )
  })
})

describe('interest on late payment', () => {
  it('is simple, by actual days over a year of 365', () => {
    // 1,000.00 at 9 % for 73 days, a fifth of a year: 18.00. By hand.
    const debt = { dueDay: '2026-01-01', openMinor: 100_000, paidLate: [] }
    expect(lateInterestMinor(debt, 90_000, '2026-03-15')).toBe(1800)
    expect(lateInterestMinor(debt, 90_000, '2026-01-01')).toBe(0)
  })

  it('stops for a part on the day it came', () => {
    // 500.00 for 73 days and 500.00 for 36.5 days' worth: 9.00 + 500.00 × 9 % × 36 ÷ 365 = 4.438…, together 13.44.
    const debt = { dueDay: '2026-01-01', openMinor: 50_000, paidLate: [{ day: '2026-02-06', minor: 50_000 }] }
    expect(lateInterestMinor(debt, 90_000, '2026-03-15')).toBe(1344)
  })
})

describe('a client’s account', () => {
  it('closes with its opening balance, documents less payments and write-offs, whatever happens', async () => {
    const acts = fc.array(
      fc.record({ act: fc.integer({ min: 0, max: 5 }), minor: fc.integer({ min: 1, max: 9000 }) }),
      { minLength: 1, maxLength: 8 },
    )
    const inAccount = fc.asyncProperty(acts, fc.integer({ min: 0, max: 30 }), async (each, cut) => {
      // A studio for each case: in one for all, days ran past the end of the statement, and no case failed alone.
      const studio = aStudio({ now: '2026-01-05T08:00:00.000Z' })
      const { api } = studio
      const { clientId } = await anInvoice(studio, 10_000)
      let owedMinor = 10_000
      for (const [index, { act, minor }] of each.entries()) {
        const day = addDays('2026-01-05', 3 * (index + 1))
        studio.setNow(`${day}T08:00:00.000Z`)
        const invoice = await anInvoice(studio, minor, { clientId })
        owedMinor += minor
        const pay = {
          ...invoice,
          day,
          amountMinor: minor + 10,
          way: 'transfer' as const,
          reference: null,
          note: null,
        }
        if (act === 1) {
          await api.invoices.pay(pay)
          owedMinor -= minor + 10
        }
        if (act === 2) {
          await api.invoices.pay({ ...pay, amountMinor: Math.ceil(minor / 2) })
          owedMinor -= Math.ceil(minor / 2)
        }
        if (act === 3) {
          await api.accounts.writeOff({ ...invoice, amountMinor: minor, reason: 'gone' })
          owedMinor -= minor
        }
        if (act === 4) {
          const credit = await api.invoices.draftCredit({ ...invoice, reason: 'wrong', part: null })
          await api.invoices.issue(credit)
          owedMinor -= minor
        }
        if (act === 5) {
          await api.invoices.pay(pay)
          await api.accounts.payBack({
            ...pay,
            clientId,
            currency: 'EUR',
            invoiceId: null,
            amountMinor: 10,
          })
          owedMinor -= minor
        }
      }
      const of = { clientId, currency: 'EUR' }
      const middle = addDays('2026-01-05', cut)
      const before = await api.accounts.statement({ ...of, fromDay: '2026-01-01', toDay: middle })
      const after = await api.accounts.statement({
        ...of,
        fromDay: addDays(middle, 1),
        toDay: '2026-12-31',
      })
      expect(before.openingMinor).toBe(0)
      expect(after.openingMinor).toBe(before.closingMinor)
      const moved = after.lines.reduce((sum, { amountMinor }) => sum + amountMinor, 0)
      expect(after.closingMinor).toBe(after.openingMinor + moved)
      // Three ways to the same sum: what moved, what is open less what is credit, and what was done.
      expect(after.closingMinor).toBe(after.openMinor - after.creditMinor)
      expect(after.closingMinor).toBe(owedMinor)
      expect(ages.reduce((sum, age) => sum + after.ageing[age], 0)).toBe(after.openMinor)
    })
    await fc.assert(inAccount, {
      numRuns: 6,
      examples: [
        [
          [
            { act: 0, minor: 8789 },
            { act: 0, minor: 5091 },
            { act: 4, minor: 6448 },
            { act: 3, minor: 135 },
            { act: 0, minor: 2897 },
          ],
          28,
        ],
      ],
    })
  }, 60_000)

  it('lists what is open by age, as its sums say', async () => {
    const studio = aStudio({ now: '2026-01-05T08:00:00.000Z' })
    const { api } = studio
    await anInvoice(studio, 10_000)
    // Due on 19 January, 61 days before.
    studio.setNow('2026-03-21T08:00:00.000Z')
    await anInvoice(studio, 500)
    const [sums] = await api.accounts.ageing()
    expect(sums).toMatchObject({ currency: 'EUR', openMinor: 10_500 })
    expect(sums?.ageing).toMatchObject({ 'not due': 500, '31 to 60': 0, '61 to 90': 10_000 })
    const listed = await api.invoices.list({ age: '61 to 90' })
    expect(listed.lines.map(({ openMinor }) => openMinor)).toEqual([10_000])
  })

  it('gives up a part with its reason, takes it back once, and never more than is open', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 5000)
    await expect(api.accounts.writeOff({ ...invoice, amountMinor: 5001, reason: 'x' })).rejects.toMatchObject(
      refused('write-off-amount'),
    )
    await api.accounts.writeOff({ ...invoice, amountMinor: 1500, reason: 'bank’s fee' })
    const one = await api.invoices.one(invoice)
    expect([one.openMinor, one.writeOffs[0]?.reason]).toEqual([3500, 'bank’s fee'])
    const back = { writeOffId: one.writeOffs[0]?.id ?? 0, reason: 'it came after all' }
    await api.accounts.reverseWriteOff(back)
    expect((await api.invoices.one(invoice)).openMinor).toBe(5000)
    await expect(api.accounts.reverseWriteOff(back)).rejects.toMatchObject(refused('not-reversible'))
  })

  it('pays credit and what was overpaid back, and never more', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 5000)
    const pay = { ...invoice, day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
    await api.invoices.pay({ ...pay, amountMinor: 6000 })
    await api.invoices.issue(await api.invoices.draftCredit({ ...invoice, reason: 'none came', part: null }))
    expect((await api.invoices.one(invoice)).openMinor).toBe(-5000)
    const back = { ...pay, currency: 'EUR' }
    await expect(api.accounts.payBack({ ...back, invoiceId: null, amountMinor: 1001 })).rejects.toMatchObject(
      refused('pay-back-too-much'),
    )
    await api.accounts.payBack({ ...back, invoiceId: null, amountMinor: 1000 })
    await api.accounts.payBack({ ...back, amountMinor: 5000 })
    expect((await api.invoices.one(invoice)).openMinor).toBe(0)
    expect(await api.accounts.ofClient(invoice)).toMatchObject({ credit: [], open: [] })
  })
})

describe('reminders', () => {
  it('are proposed by the levels, written down once a person sent them, and then wait', async () => {
    const studio = aStudio({ now: '2026-01-05T08:00:00.000Z' })
    const { api } = studio
    const one = await anInvoice(studio, 10_000)
    const two = await anInvoice(studio, 20_000, { clientId: one.clientId })
    // Due on 19 January after 14 days; the first level is seven days later.
    studio.setNow('2026-01-25T08:00:00.000Z')
    expect(await api.reminders.today()).toMatchObject({ proposals: [], waiting: 2 })
    studio.setNow('2026-01-26T08:00:00.000Z')
    const { proposals } = await api.reminders.today()
    expect(proposals).toMatchObject([{ lumpSumMinor: 0, invoices: [{ level: 1 }, { level: 1 }] }])
    const choice = {
      clientId: one.clientId,
      currency: 'EUR',
      invoices: [one, two].map(({ invoiceId }) => ({ invoiceId, interestMinor: 0 })),
      lumpSumMinor: 0,
    }
    expect(await api.reminders.preview(choice)).toMatchObject({
      openMinor: 30_000,
      totalMinor: 30_000,
      level: 1,
    })
    await api.reminders.markSent(choice)
    expect((await api.invoices.one(one)).reminders).toMatchObject([{ level: 1, day: '2026-01-26' }])
    await expect(api.reminders.markSent(choice)).rejects.toMatchObject(refused('reminder-not-today'))
    expect(await api.reminders.today()).toMatchObject({ proposals: [], waiting: 2 })
  })

  it('propose interest and lump sum as the studio set them, the lump sum of an invoice once', async () => {
    const studio = aStudio({ now: '2026-01-05T08:00:00.000Z' })
    const { api, db } = studio
    db.exec('UPDATE studio SET late_interest_ppm = 90000, late_fee_minor = 4000')
    const level = { daysBetween: 1, withInterest: true, withLumpSum: true }
    await api.reminders.setLevels({
      levels: [
        { ...level, daysAfterDue: 1 },
        { ...level, daysAfterDue: 2 },
      ],
    })
    const invoice = await anInvoice(studio, 100_000)
    studio.setNow('2026-04-02T08:00:00.000Z')
    const [first] = (await api.reminders.today()).proposals
    // 73 days after 19 January: 18.00, as above.
    expect(first).toMatchObject({ lumpSumMinor: 4000, invoices: [{ interestMinor: 1800 }] })
    await api.reminders.markSent({
      clientId: invoice.clientId,
      currency: 'EUR',
      invoices: [{ invoiceId: invoice.invoiceId, interestMinor: 1800 }],
      lumpSumMinor: 4000,
    })
    studio.setNow('2026-04-03T08:00:00.000Z')
    const [second] = (await api.reminders.today()).proposals
    expect(second).toMatchObject({ lumpSumMinor: 0, invoices: [{ level: 2 }] })
    // What is asked for besides is a claim on paper: it is not open on the invoice.
    expect((await api.invoices.one(invoice)).openMinor).toBe(100_000)
  })

  it('refuse levels that come no later than the one before', async () => {
    const { api } = aStudio()
    const level = { daysBetween: 1, withInterest: false, withLumpSum: false, daysAfterDue: 5 }
    await expect(api.reminders.setLevels({ levels: [level, level] })).rejects.toMatchObject(
      refused('level-order'),
    )
  })
})
