import { describe, expect, it } from 'vitest'
import { aJob } from '../jobs/aJob.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { priceList, startingDraft } from './aQuote.ts'

/** A quote of one spin at a price, typed by hand, and what came of it. */
async function quoted(
  studio: TestStudio,
  code: string,
  priceMinor: number,
  came: 'won' | 'lost' | 'waits' | 'no',
) {
  const { jobId } = await aJob(studio, { codes: [code], client: { name: `Client ${code}` } })
  const draft = await startingDraft(studio, jobId)
  const { lines } = await studio.api.quotes.preview({ jobId, input: draft.input })
  const [line] = lines.map(({ netMinor: _, ...each }) => ({ ...each, priceMinor }))
  const { quoteId } = await studio.api.quotes.save({
    ...draft,
    input: { ...draft.input, byHand: line ? [line as never] : [] },
  })
  await studio.api.quotes.send({ quoteId })
  if (came === 'won')
    await studio.api.quotes.accept({ quoteId, orderNumber: null, day: '2026-03-02', by: 'Ida Falk' })
  if (came === 'lost' || came === 'no') {
    await studio.api.quotes.decline({
      quoteId,
      reason: 'too dear',
      priceMinor: 3000,
      isLost: came === 'lost',
    })
  }
  return { jobId, quoteId }
}

describe('what came of quotes', () => {
  it('is counted by price a spin: won 2 of 3 under 50, none of 1 over it, and what waits not at all', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    await quoted(studio, 'A', 4100, 'won')
    await quoted(studio, 'B', 4400, 'won')
    await quoted(studio, 'C', 4700, 'lost')
    await quoted(studio, 'D', 9900, 'lost')
    await quoted(studio, 'E', 4200, 'waits')
    await quoted(studio, 'F', 4200, 'no')
    const { bands } = await studio.api.quotes.outcomes()
    const under50 = bands.filter(({ toMinor }) => toMinor <= 5000)
    const sum = (of: typeof bands, key: 'won' | 'jobs') => of.reduce((all, band) => all + band[key], 0)
    expect([sum(under50, 'won'), sum(under50, 'jobs')]).toEqual([2, 3])
    expect([sum(bands, 'won'), sum(bands, 'jobs')]).toEqual([2, 4])
  })

  it('counts a job once, by the way the client took', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId } = await aJob(studio, { codes: ['A'] })
    const draft = await startingDraft(studio, jobId)
    await studio.api.quotes.save(draft)
    const { quoteId } = await studio.api.quotes.save({
      ...draft,
      way: 'coarser',
      input: { ...draft.input, discountPpm: 500_000 },
    })
    await studio.api.quotes.send({ quoteId })
    await studio.api.quotes.accept({ quoteId, orderNumber: null, day: '2026-03-02', by: 'Ida Falk' })
    const { bands } = await studio.api.quotes.outcomes()
    // Half of 163.45 + 55.05: 109.25.
    expect(bands).toMatchObject([{ won: 1, jobs: 1 }])
    expect(bands[0]?.fromMinor).toBeLessThanOrEqual(10_925)
    expect(bands[0]?.toMinor).toBeGreaterThan(10_925)
  })

  it('keeps the reason and the price of what was lost for the list, and waits for no lost job', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    await quoted(studio, 'A', 4100, 'no')
    const { jobId } = await quoted(studio, 'B', 4400, 'waits')
    await studio.api.jobs.lose({ jobId, reason: 'went elsewhere', priceMinor: 3500 })
    const { lines, total } = await studio.api.quotes.list({ filter: 'lost', order: 'newest' })
    expect(total).toBe(2)
    expect(lines.map(({ lostReason, lostPriceMinor }) => [lostReason, lostPriceMinor])).toEqual([
      ['went elsewhere', 3500],
      ['too dear', 3000],
    ])
    expect((await studio.api.quotes.list({ filter: 'open' })).total).toBe(0)
  })
})
