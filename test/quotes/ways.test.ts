import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { formatMoney } from '../../main/trade/money.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aTurnRow } from '../price/aBasis.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aQuotableJob, priceList } from './aQuote.ts'

const frames = { coarser: 122, 'as asked': 244, smoother: 488 } as const
type Way = keyof typeof frames

/** Drafts of three ways of one job; the coarser one is 10 % off. */
async function threeWays(studio: TestStudio) {
  await studio.api.prices.add(priceList)
  const job = await aQuotableJob(studio)
  const ids = {} as Record<Way, number>
  for (const way of ['as asked', 'coarser', 'smoother'] as const) {
    const input = {
      ...job.draft.input,
      rows: [aTurnRow({ framesPerTurn: frames[way], overlapFrames: 3 })],
      discountPpm: way === 'coarser' ? 100_000 : 0,
    }
    ids[way] = (await studio.api.quotes.save({ ...job.draft, way, input })).quoteId
  }
  return { ...job, ids }
}

const statesOf = async (studio: TestStudio, jobId: number) =>
  Object.fromEntries(
    (await studio.api.quotes.ofJob({ jobId })).map(({ quote }) => [
      `v${quote.version} ${quote.way}`,
      quote.state,
    ]),
  )

const yes = { orderNumber: null, day: '2026-03-02', by: 'Ida Falk' }

describe('the ways of a quote', () => {
  it('share one number and version, and are sent together on one paper', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    const all = await studio.api.quotes.ofJob({ jobId })
    expect(all.map(({ name, quote }) => [name, quote.way])).toEqual([
      ['Q-2026-0001', 'as asked'],
      ['Q-2026-0001', 'coarser'],
      ['Q-2026-0001', 'smoother'],
    ])
    await studio.api.quotes.send({ quoteId: ids.coarser })
    const sent = await studio.api.quotes.ofJob({ jobId })
    expect(sent.map(({ quote }) => quote.state)).toEqual(['sent', 'sent', 'sent'])
    expect(new Set(sent.map(({ paper }) => paper?.id)).size).toBe(1)
  })

  it('stand side by side on the paper, each with its frames, look, lines and total', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    const { paper } = await studio.api.quotes.send({ quoteId: ids['as asked'] })
    if (!paper) throw new Error('The sent quote has no paper.')
    const { pages } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, paper.sha256)))
    const text = pages.join(' ').replaceAll(/\s+/gu, ' ')
    expect(text).toContain('Your choice')
    for (const { quote, lines } of await studio.api.quotes.ofJob({ jobId })) {
      expect(text).toContain(formatMoney(quote.totalMinor, 'EUR', 'en-GB'))
      for (const line of lines) expect(text).toContain(line.text)
    }
    // 122 ÷ 25 = 4.88, 244 ÷ 25 = 9.76, 488 ÷ 25 = 19.52.
    for (const said of ['As you asked', 'Fewer frames', 'More frames', '4.9 s', '9.8 s', '19.5 s']) {
      expect(text).toContain(said)
    }
    for (const [index, page] of pages.entries())
      expect(page).toContain(`Page ${index + 1} of ${pages.length}`)
  })

  it('one is chosen by the client’s yes, and the others are replaced', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    await studio.api.quotes.send({ quoteId: ids['as asked'] })
    await studio.api.quotes.accept({ quoteId: ids.coarser, ...yes })
    expect(await statesOf(studio, jobId)).toEqual({
      'v1 as asked': 'replaced',
      'v1 coarser': 'accepted',
      'v1 smoother': 'replaced',
    })
    expect(studio.db.prepare('SELECT DISTINCT frames_per_turn FROM shoot_row').pluck().all()).toEqual([122])
    await expect(studio.api.quotes.accept({ quoteId: ids.smoother, ...yes })).rejects.toMatchObject({
      cause: { code: 'quote-state' },
    })
  })

  it('are all declined by a no, which keeps its reason and price', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    await studio.api.quotes.send({ quoteId: ids['as asked'] })
    await studio.api.quotes.decline({ quoteId: ids.smoother, reason: 'too dear', priceMinor: 40_000 })
    const all = await studio.api.quotes.ofJob({ jobId })
    expect(all.map(({ quote }) => [quote.state, quote.decidedReason, quote.decidedPriceMinor])).toEqual(
      Array.from({ length: 3 }, () => ['declined', 'too dear', 40_000]),
    )
  })

  it('lapse together, and are all begun again by a next version, which replaces them when it is sent', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    await studio.api.quotes.send({ quoteId: ids['as asked'] })
    const { quoteId } = await studio.api.quotes.revise({ quoteId: ids.coarser })
    expect(await statesOf(studio, jobId)).toMatchObject({
      'v2 as asked': 'draft',
      'v2 coarser': 'draft',
      'v2 smoother': 'draft',
      'v1 coarser': 'sent',
    })
    await studio.api.quotes.discard({
      quoteId: (await studio.api.quotes.ofJob({ jobId })).find(
        ({ quote }) => quote.way === 'smoother' && quote.version === 2,
      )?.quote.id as number,
    })
    await studio.api.quotes.send({ quoteId })
    expect(await statesOf(studio, jobId)).toEqual({
      'v2 as asked': 'sent',
      'v2 coarser': 'sent',
      'v1 as asked': 'replaced',
      'v1 coarser': 'replaced',
      'v1 smoother': 'replaced',
    })
    studio.setNow('2026-04-10T08:00:00.000Z')
    await studio.api.quotes.lapse({ quoteId })
    expect(await statesOf(studio, jobId)).toMatchObject({ 'v2 as asked': 'lapsed', 'v2 coarser': 'lapsed' })
  })

  it('are none of them sent where one has no lines, and the sentence says which', async () => {
    const studio = aStudio()
    const { jobId, ids, draft } = await threeWays(studio)
    await studio.api.quotes.save({ ...draft, way: 'smoother', input: { ...draft.input, byHand: [] } })
    await expect(studio.api.quotes.send({ quoteId: ids['as asked'] })).rejects.toThrow(
      'There are no lines in the way “smoother” of this quote.',
    )
    expect(new Set(Object.values(await statesOf(studio, jobId)))).toEqual(new Set(['draft']))
  })
})

describe('a draft’s paper', () => {
  it('says that it is a draft, and is not kept as the paper of its quote', async () => {
    const studio = aStudio()
    const { jobId, ids } = await threeWays(studio)
    const { paperId } = await studio.api.quotes.draftPaper({ quoteId: ids['as asked'] })
    const sha256 = studio.db
      .prepare('SELECT sha256 FROM attachment WHERE id = ?')
      .pluck()
      .get(paperId) as string
    const { title } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, sha256)))
    expect(title).toBe('Quote Q-2026-0001 (draft)')
    for (const { paper, quote } of await studio.api.quotes.ofJob({ jobId })) {
      expect([quote.state, paper]).toEqual(['draft', null])
    }
    // Looked at again, unchanged, it is the same file.
    expect(await studio.api.quotes.draftPaper({ quoteId: ids.coarser })).toEqual({ paperId })
  })

  it('is refused once the quote was sent', async () => {
    const studio = aStudio()
    const { ids } = await threeWays(studio)
    await studio.api.quotes.send({ quoteId: ids['as asked'] })
    await expect(studio.api.quotes.draftPaper({ quoteId: ids['as asked'] })).rejects.toMatchObject({
      cause: { code: 'quote-state' },
    })
  })
})
