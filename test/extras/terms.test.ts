import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clientFigures } from '../../main/trade/paperFigures.ts'
import { type Term, termFor, termsText } from '../../main/trade/terms.ts'
import { paperTexts } from '../../main/trade/texts/paperTexts.ts'
import { anOrder } from '../invoices/order.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })
const terms: readonly Term[] = [
  { kind: 'cancelling', withinDays: 7, chargePpm: 500_000 },
  { kind: 'cancelling', withinDays: 2, chargePpm: 1_000_000 },
  { kind: 'moving late', withinDays: 5, chargePpm: 250_000 },
  { kind: 'idle bench', withinDays: 0, chargePpm: 600_000 },
]
const spins = { kind: 'spins' as const, quantityMilli: 2000, priceMinor: 5200, netMinor: 10_400, spins: 2 }

/** A block of the job's spins, put in as a row: booking has tests of its own. */
function aBlock(
  { db }: TestStudio,
  jobId: number,
  shootIds: readonly number[],
  of: { startsAt: string; endsAt: string; cancelledAt?: string },
): number {
  const benchId =
    db.prepare('SELECT min(id) FROM bench').pluck().get() ??
    db.prepare(`INSERT INTO bench (name, position) VALUES ('Bench A', 1) RETURNING id`).pluck().get()
  const id = db
    .prepare(
      `INSERT INTO booking (bench_id, kind, job_id, starts_at, ends_at, uid, cancelled_at, changed_at)
       VALUES (?, 'spins', ?, ?, ?, ?, ?, ?) RETURNING id`,
    )
    .pluck()
    .get(benchId, jobId, of.startsAt, of.endsAt, `uid-${of.startsAt}`, of.cancelledAt ?? null, of.startsAt)
  shootIds.forEach((shootId, index) => {
    db.prepare('INSERT INTO booking_shoot VALUES (?, ?, ?)').run(id, shootId, index + 1)
  })
  return id as number
}

describe('the terms for booked bench time', () => {
  it('charge by the tightest of those that reach so far, and nothing beyond', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 30 }), { maxLength: 6 }),
        fc.integer({ min: -3, max: 40 }),
        (days, notice) => {
          const found = termFor(
            days.map((withinDays) => ({ kind: 'cancelling', withinDays, chargePpm: withinDays })),
            'cancelling',
            notice,
          )
          const reaching = days.filter((day) => notice >= 0 && day >= notice)
          expect(found?.withinDays).toBe(reaching.length === 0 ? undefined : Math.min(...reaching))
        },
      ),
    )
  })

  it('are said on the paper in the client’s language, the longest notice first', () => {
    const { percent } = clientFigures({ language: 'en', country: 'GB' })
    expect(termsText(terms, paperTexts.en.terms, percent)).toBe(
      'Bench time that you cancel is charged with a share of the price of what is booked in it: 7 days or fewer before it begins 50%, 2 days or fewer before it begins 100%. Bench time that you have moved is charged with a share of the price of what is booked in it: 5 days or fewer before it begins 25%. Where booked bench time stands idle because samples are missing, 60% of the price of what was booked is charged.',
    )
    expect(termsText([], paperTexts.de.terms, percent)).toBeNull()
  })

  it('stand in the words a new quote starts with', async () => {
    const studio = await withTerms()
    const { jobId } = await anOrder(studio, [spins])
    const { start } = await studio.api.quotes.basis({ jobId })
    expect(start.words.terms).toContain('Bench time that you cancel')
  })

  it('refuse two shares for the same days, and days for an idle bench', async () => {
    const { api } = aStudio()
    const twin = { kind: 'cancelling' as const, withinDays: 2, chargePpm: 1 }
    await expect(api.terms.change([twin, twin])).rejects.toThrow('There is a term for these days already')
    await expect(api.terms.change([{ kind: 'idle bench', withinDays: 1, chargePpm: 1 }])).rejects.toThrow(
      'no notice',
    )
  })
})

describe('a charge by the terms', () => {
  it('is proposed from a block cancelled too late, by a person, once', async () => {
    const studio = await withTerms()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const times = { startsAt: '2026-03-12T08:00:00.000Z', endsAt: '2026-03-12T10:00:00.000Z' }
    aBlock(studio, jobId, shootIds, { ...times, cancelledAt: '2026-03-08T10:00:00.000Z' })
    const { charges, extras } = await api.extras.ofJob({ jobId })
    expect(extras).toEqual([])
    // 4 days before: the term of 7 days, half of 2 × 52.00.
    expect(charges).toMatchObject([{ kind: 'cancelling', noticeDays: 4, spins: 2, chargeMinor: 5200 }])
    const [fact] = charges
    if (!fact) throw new Error('There is no charge.')
    const key = { jobId, kind: fact.kind, bookingId: fact.bookingId, at: fact.at }
    await api.extras.proposeCharge(key)
    expect((await api.extras.ofJob({ jobId })).extras).toMatchObject([
      {
        title: 'Bench time of 12 March 2026, cancelled: 50% of its price',
        netMinor: 5200,
        state: 'proposed',
      },
    ])
    await expect(api.extras.proposeCharge(key)).rejects.toMatchObject(refused('charge-decided'))
    await expect(api.extras.letChargeGo({ ...key, reason: 'Ill' })).rejects.toMatchObject(
      refused('charge-decided'),
    )
  })

  it('is not proposed from a block cancelled early enough, and can be let go with a reason', async () => {
    const studio = await withTerms()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const early = { startsAt: '2026-03-20T08:00:00.000Z', endsAt: '2026-03-20T10:00:00.000Z' }
    const late = { startsAt: '2026-03-04T08:00:00.000Z', endsAt: '2026-03-04T10:00:00.000Z' }
    aBlock(studio, jobId, shootIds, { ...early, cancelledAt: '2026-03-12T22:59:00.000Z' })
    aBlock(studio, jobId, shootIds, { ...late, cancelledAt: '2026-03-02T10:00:00.000Z' })
    const { charges } = await api.extras.ofJob({ jobId })
    expect(charges).toMatchObject([{ noticeDays: 2, chargeMinor: 10_400 }])
    const [fact] = charges
    if (!fact) throw new Error('There is no charge.')
    const key = { jobId, kind: fact.kind, bookingId: fact.bookingId, at: fact.at }
    await api.extras.letChargeGo({ ...key, reason: 'Their driver was ill' })
    expect((await api.extras.ofJob({ jobId })).charges).toMatchObject([
      { letGoReason: 'Their driver was ill' },
    ])
  })

  it('is proposed from a block moved to another day too late, by its first day, and not from one moved within its day', async () => {
    const studio = await withTerms()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const times = { startsAt: '2026-03-09T09:00:00.000Z', endsAt: '2026-03-09T10:00:00.000Z' }
    const bookingId = aBlock(studio, jobId, shootIds, times)
    studio.setNow('2026-03-06T12:00:00.000Z')
    await api.bookings.move({ bookingId, benchId: 1, day: '2026-03-09', fromMinute: 660 })
    expect((await api.extras.ofJob({ jobId })).charges).toEqual([])
    await api.bookings.move({ bookingId, benchId: 1, day: '2026-03-20', fromMinute: 660 })
    // 3 days before the day it left: the term of 5 days, a quarter of 2 × 52.00.
    const { charges } = await api.extras.ofJob({ jobId })
    expect(charges).toMatchObject([
      { kind: 'moving late', day: '2026-03-09', noticeDays: 3, spins: 2, chargeMinor: 2600 },
    ])
    // 14 days before: no term reaches so far.
    await api.bookings.move({ bookingId, benchId: 1, day: '2026-03-23', fromMinute: 660 })
    expect((await api.extras.ofJob({ jobId })).charges).toMatchObject([{ noticeDays: 3 }])
    const [fact] = charges
    if (!fact) throw new Error('There is no charge.')
    const key = { jobId, kind: fact.kind, bookingId: fact.bookingId, at: fact.at }
    await api.extras.proposeCharge(key)
    expect((await api.extras.ofJob({ jobId })).extras).toMatchObject([
      { netMinor: 2600, state: 'proposed', why: null },
    ])
    await expect(api.extras.proposeCharge(key)).rejects.toMatchObject(refused('charge-decided'))
  })

  it('is proposed from the spins of a past block that had no sample, and from no other', async () => {
    const studio = await withTerms()
    const { api, db, writing } = studio
    const { jobId, clientId, shootIds } = await anOrder(studio, [spins])
    const [first = 0, second = 0] = shootIds
    for (const [index, shootId] of [first, second].entries()) {
      const product = db
        .prepare(
          `INSERT INTO product (client_id, code, name, width_um, depth_um, height_um, finish, created_at)
           VALUES (?, ?, 'Lamp', 100000, 100000, 100000, 'matt', ?) RETURNING id`,
        )
        .pluck()
        .get(clientId, `L-${index}`, writing.now)
      db.prepare('INSERT INTO shoot_product (shoot_id, product_id) VALUES (?, ?)').run(shootId, product)
      const sample = db
        .prepare('INSERT INTO sample (job_id, product_id) VALUES (?, ?) RETURNING id')
        .pluck()
        .get(jobId, product)
      if (shootId === first) {
        db.prepare(
          `INSERT INTO sample_move (sample_id, at, state, person_id) VALUES (?, '2026-02-20T08:00:00.000Z', 'in', ?)`,
        ).run(sample, writing.who.personId)
      }
    }
    aBlock(studio, jobId, shootIds, {
      startsAt: '2026-02-27T08:00:00.000Z',
      endsAt: '2026-02-27T10:00:00.000Z',
    })
    expect((await api.extras.ofJob({ jobId })).charges).toMatchObject([
      { kind: 'idle bench', spins: 1, priceMinor: 5200, chargeMinor: 3120 },
    ])
  })
})

async function withTerms(): Promise<TestStudio> {
  const studio = aStudio()
  await studio.api.terms.change([...terms])
  return studio
}
