import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'
import { aQuotableJob, newest, priceList } from './aQuote.ts'

// UNTDID 5305 as EN 16931-1 uses it (BT-118): AE reverse charge, E exempt; BT-120 is the reason in words.
const rates = [
  ['AE', 'Reverse charge', 'The recipient of this service owes the tax, Directive 2006/112/EC, article 196.'],
  ['E', 'Exempt', 'No tax is charged by a small business.'],
] as const

describe('a quote without tax', () => {
  it.each(rates)(
    'of category %s bears none, names the category by its code and gives the reason',
    async (category, name, reason) => {
      const studio = aStudio()
      await studio.api.prices.add(priceList)
      const { taxRateId } = await studio.api.taxRates.add({
        name,
        category,
        ratePpm: 0,
        exemptionReason: reason,
        isDefault: false,
        validFrom: null,
        validTo: null,
      })
      const { jobId, draft } = await aQuotableJob(studio)
      const { quoteId } = await studio.api.quotes.save({ ...draft, input: { ...draft.input, taxRateId } })
      const { paper } = await studio.api.quotes.send({ quoteId })
      const { quote, taxes } = await newest(studio, jobId)
      expect(taxes).toMatchObject([{ category, ratePpm: 0, baseMinor: quote.netMinor, taxMinor: 0, name }])
      expect(quote.totalMinor).toBe(quote.netMinor)
      if (!paper) throw new Error('The sent quote has no paper.')
      const { pages } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, paper.sha256)))
      const text = pages.join(' ').replaceAll(/\s+/gu, ' ')
      expect(text).toContain(`${name} (${category})`)
      expect(text).toContain(reason)
    },
  )
})

const row = { viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 3 }
const rowsAtAngles = (count: number) =>
  Array.from({ length: count }, (_, k) => ({ ...row, viewAngleMdeg: k }))

describe('what cannot be a quote', () => {
  it.each([
    ['a row of one frame', { rows: [row, { ...row, viewAngleMdeg: 1, framesPerTurn: 1 }] }, {}, 'at least 2'],
    ['too many frames', { rows: [{ ...row, framesPerTurn: 1441 }] }, {}, 'at most 1,440 frames'],
    [
      'no number of frames',
      { rows: [{ ...row, framesPerTurn: Number.NaN }] },
      {},
      'Frames per turn are a whole',
    ],
    ['a text for frames', { rows: [{ ...row, framesPerTurn: 'many' }] }, {}, 'Frames per turn are a whole'],
    ['half a frame of overlap', { rows: [{ ...row, overlapFrames: 0.5 }] }, {}, 'whole number of frames'],
    ['an overlap below nothing', { rows: [{ ...row, overlapFrames: -1 }] }, {}, '0 frames or more'],
    ['a view from below', { rows: [{ ...row, viewAngleMdeg: 90_001 }] }, {}, 'between -90° and 90°'],
    ['NaN for an angle', { rows: [{ ...row, viewAngleMdeg: Number.NaN }] }, {}, 'Type in the viewing angle'],
    ['no row', { rows: [] }, {}, 'at least one row'],
    ['a text for rows', { rows: 'two' }, {}, 'The rows are missing.'],
    ['21 rows', { rows: rowsAtAngles(21) }, {}, 'at most 20 rows'],
    ['a row twice', { rows: [row, row] }, {}, 'Row 2 looks from the same angle as row 1.'],
    ['a discount over everything', { discountPpm: 1_000_001 }, {}, 'The discount is at most 100 %.'],
    ['a discount below nothing', { discountPpm: -1 }, {}, 'The discount cannot be below 0 %.'],
    ['a rim of nothing', {}, { rimMm: 0 }, 'A rim is at least 100 mm.'],
    ['a step of nothing', {}, { stepMm: 0 }, 'A step is at least 0.1 mm.'],
    ['a step longer than the rim', {}, { rimMm: 800, stepMm: 900 }, 'The step is over half of the rim.'],
    ['NaN for a rim', {}, { rimMm: Number.NaN }, 'The rim is not a number.'],
    ['a step in words', {}, { stepMm: 'short' }, 'The step is not a number.'],
    ['a day no calendar has', {}, { dueDay: '2026-02-30' }, 'not in the calendar'],
  ])('%s is refused with a sentence, and nothing is kept', async (_what, input, words, sentence) => {
    const studio = aStudio()
    const { jobId, draft } = await aQuotableJob(studio, 1)
    const bad = { ...draft, input: { ...draft.input, ...input }, words: { ...draft.words, ...words } }
    const refused = studio.api.quotes.save(bad as typeof draft).catch((error: Error) => String(error.message))
    expect(await refused).toContain(sentence)
    expect(await studio.api.quotes.ofJob({ jobId })).toEqual([])
  })

  it('a tax rate that the studio lacks, or a price below 0, is refused', async () => {
    const studio = aStudio()
    const { draft } = await aQuotableJob(studio, 1)
    await expect(
      studio.api.quotes.save({ ...draft, input: { ...draft.input, taxRateId: 99 as never } }),
    ).rejects.toThrow(/tax rate/u)
    const line = {
      kind: 'fee' as const,
      text: 'Set',
      quantityMilli: 1000,
      unit: 'LS' as const,
      priceMinor: -1,
    }
    await expect(
      studio.api.quotes.save({
        ...draft,
        input: { ...draft.input, fees: [{ ...line, taxRateId: draft.input.taxRateId }] },
      }),
    ).rejects.toThrow('A price cannot be below 0')
  })
})
