import { describe, expect, it } from 'vitest'
import { costMinor } from '../../main/trade/cost.ts'
import { workOutQuote } from '../../main/trade/quote.ts'
import { whatGives } from '../../main/trade/whatGives.ts'
import { aPace } from '../estimate/aPace.ts'
import { aBasis, alikeRows, anInput } from '../price/aBasis.ts'
import { aStudio } from '../studio.ts'
import { aQuotableJob, newest, priceList, startingDraft } from './aQuote.ts'

/** 10 min of handling, 6 of them beside the platter, and nothing that may go wrong. */
const pace = aPace({
  besidePpm: 600_000,
  handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 600_000, followingMs: 600_000 }],
})
const rows = alikeRows(1, { framesPerTurn: 100, overlapFrames: 0 })

describe('a quote for two people at the bench', () => {
  it('takes the bench for the critical path and counts both people’s work', () => {
    // By hand, as in the estimate's own test: three spins of 10 min and 100 × 6 s: 48 min at the bench, 60 of work,
    // 12 of it by the second person. At 60.00 the bench hour and 24.00 the second's: 48.00 + 4.80.
    const figures = workOutQuote(aBasis({ pace }), anInput({ rows, people: 2 }))
    expect(figures.bench.medianMs).toBe(48 * 60_000)
    expect(figures.work.medianMs).toBe(60 * 60_000)
    expect((figures.cost?.medianMinor ?? 0) - costMinor(0, figures.desk.totalMs, rates, 0)).toBe(4800 + 480)
    const alone = workOutQuote(aBasis({ pace }), anInput({ rows, people: 1 }))
    expect(alone.bench).toEqual(alone.work)
    expect(alone.work).toEqual(figures.work)
  })

  it('covers its floor where the prices are worked out from the time, and gives by the same floor', () => {
    const basis = aBasis({ pace: { ...pace, stepSpreadPpm: 200_000, handlingSpreadPpm: 350_000 } })
    const input = anInput({ rows, people: 2 })
    const figures = workOutQuote(basis, input)
    const floor = figures.cost?.p80Minor ?? 0
    expect(figures.netMinor).toBeGreaterThanOrEqual(floor)
    // Every price is rounded up to whole units of the currency, one for each of two deliverables of three spins.
    expect(figures.netMinor).toBeLessThan(floor + 600)
    expect(whatGives(basis, input, floor).floorMinor).toBe(floor)
  })

  const rates = { benchHourMinor: 6000, deskHourMinor: 4500, secondHourMinor: 2400 }

  it('starts from the studio’s setting, is kept, and shortens the spins of the job once it is accepted', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.prices.add(priceList)
    const { figures } = await api.pace.figures()
    const { jobId } = await aQuotableJob(studio)
    expect((await startingDraft(studio, jobId)).input.people).toBe(1)
    await api.pace.change({ ...figures, benchPeople: 2 })
    const draft = await startingDraft(studio, jobId)
    expect(draft.input.people).toBe(2)
    const times = () =>
      studio.db.prepare('SELECT estimate_ms AS ms FROM shoot ORDER BY position').pluck().all() as number[]
    const before = times()
    const { quoteId } = await api.quotes.save(draft)
    await api.quotes.send({ quoteId })
    await api.quotes.accept({ quoteId, orderNumber: null, day: '2026-03-02', by: 'Ada' })
    const { quote } = await newest(studio, jobId)
    expect(quote.people).toBe(2)
    expect(quote.workMedianMs).toBeGreaterThan(quote.benchMedianMs)
    const [first, ...others] = times()
    expect(first).toBe(before[0])
    others.forEach((ms, i) => {
      expect(ms).toBeLessThan(before[i + 1] ?? 0)
    })
    // Each is rounded to a millisecond on its own.
    expect(Math.abs(times().reduce((a, b) => a + b, 0) / quote.benchMeanMs - 1)).toBeLessThan(0.001)
  })

  it('is for one or two, and no third', async () => {
    const studio = aStudio()
    const { draft } = await aQuotableJob(studio)
    await expect(
      studio.api.quotes.save({ ...draft, input: { ...draft.input, people: 3 as 2 } }),
    ).rejects.toMatchObject({ cause: { issues: [{ path: ['input', 'people'] }] } })
  })
})
