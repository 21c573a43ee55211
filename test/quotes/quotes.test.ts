import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { formatMoney } from '../../main/trade/money.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aQuotableJob, newest, priceList, startingDraft } from './aQuote.ts'

async function aSentQuote(studio: TestStudio) {
  await studio.api.prices.add(priceList)
  const job = await aQuotableJob(studio)
  const { quoteId } = await studio.api.quotes.save(job.draft)
  const { paper } = await studio.api.quotes.send({ quoteId })
  return { ...job, quoteId, paper }
}

const yes = { orderNumber: '4711', day: '2026-03-02', by: 'Ida Falk' }

describe('quotes', () => {
  it('are kept as a draft with the figures that were shown while typing', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const shown = await studio.api.quotes.preview({ jobId, input: draft.input })
    await studio.api.quotes.save(draft)
    const { quote, name, lines } = await newest(studio, jobId)
    expect(name).toBe('Q-2026-0001')
    expect(quote).toMatchObject({
      state: 'draft',
      netMinor: shown.netMinor,
      taxMinor: shown.taxMinor,
      totalMinor: shown.totalMinor,
      benchP80Ms: shown.bench.p80Ms,
    })
    expect(lines).toEqual(shown.lines)
  })

  it('preview without writing anything', async () => {
    const studio = aStudio()
    const { jobId, draft } = await aQuotableJob(studio)
    const before = studio.db.pragma('data_version')
    const events = studio.db.prepare('SELECT count(*) FROM event').pluck()
    const counted = events.get()
    await studio.api.quotes.preview({ jobId, input: draft.input })
    expect(events.get()).toBe(counted)
    expect(studio.db.pragma('data_version')).toEqual(before)
    expect(await studio.api.quotes.ofJob({ jobId })).toEqual([])
  })

  it('keep lines typed by hand when figures change, until they are worked out again', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const { lines } = await studio.api.quotes.preview({ jobId, input: draft.input })
    const byHand = lines.map(({ netMinor: _, ...line }) => ({ ...line, priceMinor: 10_000 })) as never
    const row = { viewAngleMdeg: 0, framesPerTurn: 120, overlapFrames: 3 }
    await studio.api.quotes.save({ ...draft, input: { ...draft.input, byHand, rows: [row] } })
    const kept = await newest(studio, jobId)
    expect(kept.quote).toMatchObject({ linesByHand: true, rows: [row] })
    expect(kept.lines.every(({ priceMinor }) => priceMinor === 10_000)).toBe(true)
    await studio.api.quotes.save(draft)
    expect((await newest(studio, jobId)).lines).toEqual(lines)
  })

  it('bear number, version and last day once sent, and wait at the station of the quote', async () => {
    const studio = aStudio()
    const { jobId } = await aSentQuote(studio)
    // 30 days after 2 March 2026.
    expect((await newest(studio, jobId)).quote).toMatchObject({ state: 'sent', validUntil: '2026-04-01' })
    expect((await studio.api.jobs.one({ jobId })).standing).toMatchObject({ station: 'quote' })
  })

  it('never change once sent, not even by SQL', async () => {
    const studio = aStudio()
    const { quoteId } = await aSentQuote(studio)
    for (const sql of [
      `UPDATE quote SET net_minor = 0, tax_minor = 0, total_minor = 0`,
      `UPDATE quote SET cost_median_minor = 1`,
      `UPDATE quote SET rim_um10 = 12200000`,
      `UPDATE quote_line SET price_minor = 1`,
      `UPDATE quote_row SET frames_per_turn = 36`,
      `DELETE FROM quote_row`,
      `INSERT INTO quote_row SELECT id, 20, 90000, 36, 0 FROM quote`,
      `DELETE FROM quote_line`,
      `DELETE FROM quote_line_shoot`,
      `DELETE FROM quote`,
    ]) {
      expect(() => studio.db.exec(sql), sql).toThrow('a quote that was sent never changes')
    }
    await expect(studio.api.quotes.discard({ quoteId })).rejects.toMatchObject({
      cause: { code: 'quote-state' },
    })
  })

  it('are revised as a new version of the same number, which replaces the old one when it is sent', async () => {
    const studio = aStudio()
    const { jobId, quoteId } = await aSentQuote(studio)
    const revised = await studio.api.quotes.revise({ quoteId })
    expect((await studio.api.quotes.ofJob({ jobId })).map(({ name, quote }) => [name, quote.state])).toEqual([
      ['Q-2026-0001 v2', 'draft'],
      ['Q-2026-0001', 'sent'],
    ])
    await studio.api.quotes.send(revised)
    expect((await studio.api.quotes.ofJob({ jobId })).map(({ quote }) => quote.state)).toEqual([
      'sent',
      'replaced',
    ])
  })

  it('of another job take the next number', async () => {
    const studio = aStudio()
    await aSentQuote(studio)
    const { jobId } = await studio.api.jobs.add({
      clientId: (await studio.api.clients.names())[0]?.id as never,
      job: {
        contactId: null,
        title: 'Autumn range',
        orderNumber: null,
        buyerReference: null,
        costCentre: null,
        callBackDay: null,
        dueDay: null,
        promiseWorkingDays: null,
        returnByDay: null,
        note: null,
      },
      spins: [],
    })
    await studio.api.quotes.save(await startingDraft(studio, jobId))
    expect((await newest(studio, jobId)).name).toBe('Q-2026-0002')
  })

  it('are refused where no price is known, unless a person typed that it is free', async () => {
    const studio = aStudio()
    const { jobId, draft } = await aQuotableJob(studio)
    studio.db.exec('DELETE FROM price; UPDATE studio SET bench_hour_minor = 0, desk_hour_minor = 0')
    const { quoteId } = await studio.api.quotes.save(draft)
    await expect(studio.api.quotes.send({ quoteId })).rejects.toMatchObject({ cause: { code: 'no-price' } })
    const free = {
      kind: 'fee' as const,
      text: 'A trial spin, free of charge',
      quantityMilli: 1000,
      unit: 'LS' as const,
      priceMinor: 0,
      taxRateId: draft.input.taxRateId,
    }
    await studio.api.quotes.save({ ...draft, input: { ...draft.input, byHand: [free] } })
    await studio.api.quotes.send({ quoteId })
    expect((await newest(studio, jobId)).quote).toMatchObject({ state: 'sent', netMinor: 0 })
  })

  it('are refused without a line, and nothing is sent', async () => {
    const studio = aStudio()
    const { jobId, draft } = await aQuotableJob(studio)
    await studio.api.spins.cancel({
      shootIds: (await studio.api.spins.list({ jobId })).map(({ id }) => id),
      reason: 'not wanted',
    })
    const { quoteId } = await studio.api.quotes.save(draft)
    await expect(studio.api.quotes.send({ quoteId })).rejects.toMatchObject({
      cause: { code: 'empty-quote' },
    })
    expect((await newest(studio, jobId)).quote.state).toBe('draft')
  })
})

describe('the client’s answer', () => {
  it('yes gives the spins the turn and the bench time that were quoted, and the job its order number', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const input = { ...draft.input, rows: [{ viewAngleMdeg: 0, framesPerTurn: 180, overlapFrames: 2 }] }
    const { quoteId } = await studio.api.quotes.save({ ...draft, input })
    await studio.api.quotes.send({ quoteId })
    await studio.api.quotes.accept({ quoteId, ...yes })
    const { quote } = await newest(studio, jobId)
    expect(quote).toMatchObject({ state: 'accepted', decidedReason: 'Ida Falk' })
    expect(
      studio.db.prepare('SELECT DISTINCT frames_per_turn, overlap_frames FROM shoot_row').raw().all(),
    ).toEqual([[180, 2]])
    // Means add up, whatever the spread: the spins' times are the quoted mean, but for rounding each to a ms.
    const kept = studio.db.prepare('SELECT sum(estimate_ms) FROM shoot').pluck().get() as number
    expect(Math.abs(kept - quote.benchMeanMs)).toBeLessThanOrEqual(3)
    expect(studio.db.prepare('SELECT order_number FROM job').pluck().get()).toBe('4711')
    expect((await studio.api.jobs.one({ jobId })).standing.station).toBe('samples in')
  })

  it('yes gives the job’s brief exactly the rows that were quoted, and its spins with them', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const rows = [
      { viewAngleMdeg: 0, framesPerTurn: 72, overlapFrames: 24 },
      { viewAngleMdeg: 30_000, framesPerTurn: 36, overlapFrames: 3 },
      { viewAngleMdeg: -5500, framesPerTurn: 48, overlapFrames: 0 },
    ]
    // One spin has a brief of its own, which no quote rewrites.
    const [own] = await studio.api.spins.list({ jobId })
    if (!own) throw new Error('The job has no spins.')
    const brief = await studio.api.jobs.brief({ jobId })
    const ownRow = { viewAngleMdeg: 10_000, framesPerTurn: 90, overlapFrames: 1 }
    await studio.api.spins.writeBrief({
      shootIds: [own.id],
      brief: { ...brief, deliverables: [...brief.deliverables], rows: [ownRow] },
    })
    const { quoteId } = await studio.api.quotes.save({ ...draft, input: { ...draft.input, rows } })
    expect((await newest(studio, jobId)).quote.rows).toEqual(rows)
    await studio.api.quotes.send({ quoteId })
    await studio.api.quotes.accept({ quoteId, ...yes })
    expect((await studio.api.jobs.brief({ jobId })).rows).toEqual(rows)
    const rowsOf = studio.db.prepare(
      `SELECT view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames
       FROM shoot_row WHERE shoot_id = ? ORDER BY row`,
    )
    for (const { id } of await studio.api.spins.list({ jobId })) {
      expect(rowsOf.all(id)).toEqual(id === own.id ? [ownRow] : rows)
    }
    const kept = studio.db.prepare('SELECT sum(estimate_ms) FROM shoot').pluck().get() as number
    const { quote } = await newest(studio, jobId)
    expect(Math.abs(kept - quote.benchMeanMs)).toBeLessThanOrEqual(3)
  })

  it('yes to a quote whose last day is over is taken only on purpose', async () => {
    const studio = aStudio()
    const { quoteId } = await aSentQuote(studio)
    studio.setNow('2026-04-10T08:00:00.000Z')
    const late = { quoteId, ...yes, day: '2026-04-10' }
    await expect(studio.api.quotes.accept(late)).rejects.toMatchObject({
      cause: { code: 'no-longer-valid', canOverrule: true },
    })
    await studio.api.quotes.accept({ ...late, afterValidity: true })
    await expect(studio.api.quotes.revise({ quoteId })).rejects.toMatchObject({
      cause: { code: 'quote-accepted' },
    })
  })

  it('yes cannot be dated before the quote was sent or into the future', async () => {
    const studio = aStudio()
    const { quoteId } = await aSentQuote(studio)
    await expect(studio.api.quotes.accept({ quoteId, ...yes, day: '2026-03-01' })).rejects.toMatchObject({
      cause: { code: 'before-sent', field: 'day' },
    })
    await expect(studio.api.quotes.accept({ quoteId, ...yes, day: '2026-03-03' })).rejects.toMatchObject({
      cause: { code: 'day-to-come', field: 'day' },
    })
  })

  it('no keeps the reason, and loses the job only where that is said', async () => {
    const studio = aStudio()
    const { jobId, quoteId } = await aSentQuote(studio)
    const { quoteId: second } = await studio.api.quotes.revise({ quoteId })
    await studio.api.quotes.decline({ quoteId, reason: 'too dear' })
    expect((await studio.api.jobs.one({ jobId })).standing.isOpen).toBe(true)
    await studio.api.quotes.send({ quoteId: second })
    await studio.api.quotes.decline({
      quoteId: second,
      reason: 'went elsewhere',
      priceMinor: 50_000,
      isLost: true,
    })
    expect(studio.db.prepare('SELECT lost_reason, lost_price_minor FROM job').raw().all()).toEqual([
      ['went elsewhere', 50_000],
    ])
  })

  it('none lets a quote lapse after its last day, not on it', async () => {
    const studio = aStudio()
    const { jobId, quoteId } = await aSentQuote(studio)
    // 23:30 on 1 April in Berlin (UTC+2 since 29 March 2026).
    studio.setNow('2026-04-01T21:30:00.000Z')
    await expect(studio.api.quotes.lapse({ quoteId })).rejects.toMatchObject({
      cause: { code: 'still-valid' },
    })
    studio.setNow('2026-04-01T22:30:00.000Z')
    await studio.api.quotes.lapse({ quoteId })
    expect((await newest(studio, jobId)).quote.state).toBe('lapsed')
  })
})

describe('a quote’s paper', () => {
  it('holds every line and total as quoted, and nothing of the studio’s own figures', async () => {
    const studio = aStudio()
    studio.db.exec(
      `UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4500, terms = 'Payment in 14 days.'`,
    )
    const { jobId, paper } = await aSentQuote(studio)
    if (!paper) throw new Error('The sent quote has no paper.')
    const { pages, title } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, paper.sha256)))
    const text = pages.join(' ').replaceAll(/\s+/gu, ' ')
    const { quote, lines, taxes } = await newest(studio, jobId)
    expect(title).toBe('Quote Q-2026-0001')
    const money = (minor: number) => formatMoney(minor, 'EUR', 'en-GB')
    for (const line of lines) {
      expect(text).toContain(line.text)
      expect(text).toContain(money(line.netMinor))
    }
    for (const minor of [quote.netMinor, ...taxes.map((tax) => tax.taxMinor), quote.totalMinor]) {
      expect(text).toContain(money(minor))
    }
    for (const said of ['1 April 2026', 'Payment in 14 days.', 'Page 1 of ']) expect(text).toContain(said)
    for (const own of [money(quote.costMedianMinor), money(quote.costP80Minor), 'turning', 'price list']) {
      expect(text).not.toContain(own)
    }
  })

  it('tells the rows of a spin, each with its frames and its angle', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { draft } = await aQuotableJob(studio)
    const paperOf = async (rows: typeof draft.input.rows) => {
      const { quoteId } = await studio.api.quotes.save({ ...draft, input: { ...draft.input, rows } })
      const { paperId } = await studio.api.quotes.draftPaper({ quoteId })
      const sha256 = studio.db.prepare('SELECT sha256 FROM attachment WHERE id = ?').pluck().get(paperId)
      const { pages } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, String(sha256))))
      return pages.join(' ').replaceAll(/\s+/gu, ' ')
    }
    const row = { viewAngleMdeg: 0, framesPerTurn: 72, overlapFrames: 24 }
    const second = { viewAngleMdeg: 30_000, framesPerTurn: 36, overlapFrames: 3 }
    const text = await paperOf([row, second])
    // 360° ÷ 72 = 5°, ÷ 36 = 10°; 36 ÷ 25 = 1.44 s, 72 ÷ 25 = 2.88 s.
    expect(text).toContain(
      'turned in two rows: 72 frames at 0°, 36 at 30°. It looks lightly stepped and stepped.',
    )
    for (const said of ['all 72 and 36 of the turns', '1.4 – 2.9 s', '24 pictures of each row']) {
      expect(text).toContain(said)
    }
    const alike = await paperOf([row, { ...second, framesPerTurn: 72 }])
    expect(alike).toContain('turned once round in 72 frames, from 2 heights: it looks lightly stepped.')
    studio.db.exec(`UPDATE client SET language = 'de'`)
    expect(await paperOf([row, second])).toContain('in zwei Reihen gedreht: 72 Bilder bei 0°, 36 bei 30°.')
  })

  it('is kept in the transaction of sending: where it cannot be written, the quote is still a draft', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const { quoteId } = await studio.api.quotes.save(draft)
    fs.rmSync(`${studio.folder}/files`, { recursive: true })
    await expect(studio.api.quotes.send({ quoteId })).rejects.toThrow()
    expect((await newest(studio, jobId)).quote.state).toBe('draft')
  })
})

describe('the list of quotes', () => {
  it('shows those that wait for an answer, the next to call back first', async () => {
    const studio = aStudio()
    const { jobId } = await aSentQuote(studio)
    const { lines, total } = await studio.api.quotes.list({})
    expect(total).toBe(1)
    expect(lines[0]).toMatchObject({ jobId, number: 'Q-2026-0001', client: 'Halvorsen Lamps', state: 'sent' })
    expect((await studio.api.quotes.list({ filter: 'drafts' })).total).toBe(0)
  })
})
