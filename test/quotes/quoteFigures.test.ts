import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type QuoteBasis, type QuoteInput, type QuoteLine, workOutQuote } from '../../main/trade/quote.ts'
import { alikeRows, aTurnRow } from '../price/aBasis.ts'
import { aStudio } from '../studio.ts'
import { aQuotableJob, priceList, startingDraft } from './aQuote.ts'

async function basisOfThree(withPrices = true) {
  const studio = aStudio()
  studio.db.exec(`UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4500, rush_ppm = 250000`)
  if (withPrices) await studio.api.prices.add(priceList)
  const { jobId } = await aQuotableJob(studio)
  const { basis, start } = await studio.api.quotes.basis({ jobId })
  return { studio, jobId, basis: basis as QuoteBasis, input: start.input as QuoteInput }
}

/** EN 16931-1 by decimal arithmetic, apart from our own: ROUND_HALF_UP of decimal.js rounds away from zero. */
function decimalTotals(lines: readonly QuoteLine[], basis: QuoteBasis) {
  const round = (value: Decimal) => value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP)
  const nets = lines.map((line) =>
    round(new Decimal(line.quantityMilli).times(line.priceMinor).div(line.baseMilli)),
  )
  const bases = new Map<string, { base: Decimal; ratePpm: number }>()
  lines.forEach((line, index) => {
    const rate = basis.taxRates.find(({ id }) => id === line.taxRateId)
    const key = `${rate?.category} ${rate?.ratePpm}`
    const before = bases.get(key)?.base ?? new Decimal(0)
    bases.set(key, { base: before.plus(nets[index] ?? 0), ratePpm: rate?.ratePpm ?? 0 })
  })
  const net = Decimal.sum(0, ...nets)
  const tax = Decimal.sum(
    0,
    ...[...bases.values()].map(({ base, ratePpm }) => round(base.times(ratePpm).div(1e6))),
  )
  return { net: net.toNumber(), tax: tax.toNumber(), total: net.plus(tax).toNumber() }
}

const unequalRows = [aTurnRow(), aTurnRow({ viewAngleMdeg: 30_000, framesPerTurn: 122, overlapFrames: 41 })]

describe('a quote’s figures', () => {
  it('price three spins by the list, break, rush and discount, each line rounded once', async () => {
    const { basis, input } = await basisOfThree()
    const figures = workOutQuote(basis, { ...input, isRush: true, discountPpm: 50_000 })
    // By hand, each product first of its own: 3 × 163.45 + 3 × 55.05 = 655.50; break 3.3333 % = 21.85;
    // rush 25 % of 633.65 = 158.41 (158.4125); discount 5 % of 792.06 = 39.60 (39.603).
    expect(figures.lines.map(({ netMinor }) => netMinor)).toEqual([49_035, 16_515, -2185, 15_841, -3960])
    expect(figures.netMinor).toBe(75_246)
    // 20 % of 752.46.
    expect(figures.taxMinor).toBe(15_049)
    expect(figures.totalMinor).toBe(90_295)
  })

  it('add up to the minor unit for any lines, as decimal arithmetic says', async () => {
    const { basis, input, studio } = await basisOfThree()
    await studio.api.taxRates.add({
      name: 'Reduced',
      category: 'S',
      ratePpm: 73_000,
      exemptionReason: null,
      isDefault: false,
      validFrom: null,
      validTo: null,
    })
    const taxRates = await studio.api.taxRates.list()
    const line = fc.record({
      kind: fc.constant('fee' as const),
      text: fc.constant('Anything'),
      quantityMilli: fc.integer({ min: -50_000, max: 50_000 }),
      unit: fc.constant('C62' as const),
      priceMinor: fc.integer({ min: 0, max: 5_000_000 }),
      baseMilli: fc.constantFrom(1000, 3000, 100_000),
      taxRateId: fc.constantFrom(...taxRates.map(({ id }) => id as number)),
      shootIds: fc.constant([]),
      why: fc.constant(null),
    })
    fc.assert(
      fc.property(fc.array(line, { maxLength: 30 }), (lines) => {
        const known = { ...basis, taxRates }
        const figures = workOutQuote(known, { ...input, byHand: lines })
        const { net, tax, total } = decimalTotals(lines, known)
        expect([figures.netMinor, figures.taxMinor, figures.totalMinor]).toEqual([net, tax, total])
        expect(figures.lines.reduce((sum, { netMinor }) => sum + netMinor, 0)).toBe(figures.netMinor)
      }),
    )
  })

  it('tell the studio how a line’s turning adds up', async () => {
    const { basis, input } = await basisOfThree()
    const pace = { ...basis.pace, stepMs: 5400 }
    const [first, second] = workOutQuote({ ...basis, pace }, { ...input, rows: [aTurnRow()] }).lines
    // 3 × 326 × 5.4 s = 5,281.2 s = 1 h 28 min 1.2 s.
    expect(first?.why).toContain('3 spins × (244 + 82) frames × 5.4 s = 1 h 28 of turning')
    expect(first?.why).toContain('price list “Standard 2026”')
    expect(second?.why).toContain('from the same turns as the lines above')
    expect(first?.shootIds).toEqual(basis.spins.map(({ shootId }) => shootId))
  })

  it('tell how the rows of a spin add up, each with its own frames', async () => {
    const { basis, input } = await basisOfThree()
    const pace = { ...basis.pace, stepMs: 5400 }
    const why = (rows: QuoteInput['rows']) =>
      workOutQuote({ ...basis, pace }, { ...input, rows }).lines[0]?.why ?? ''
    // 3 × (244 + 82 + 122 + 41) × 5.4 s = 3 × 489 × 5.4 s = 7,921.8 s = 2 h 12 min 1.8 s.
    expect(why(unequalRows)).toContain('3 spins × (244 + 82 + 122 + 41) frames × 5.4 s = 2 h 12 of turning')
    // 3 × 2 × 326 × 5.4 s = 10,562.4 s = 2 h 56 min 2.4 s.
    expect(why(alikeRows(2))).toContain('3 spins × 2 rows × (244 + 82) frames × 5.4 s = 2 h 56 of turning')
  })

  it('count every row by its own frames: shot, developed, exported and copied', async () => {
    const { basis, input } = await basisOfThree()
    const figures = workOutQuote(basis, { ...input, rows: unequalRows })
    expect(figures.framesShot).toBe(3 * 489)
    // Each row gives the loop of its whole turn, and the set of 24 lies among those frames.
    expect(figures.desk.developMs).toBe(3 * (244 + 122) * basis.pace.developFrameMs)
    expect(figures.desk.exportMs).toBe(3 * (244 + 24 + 122 + 24) * basis.pace.exportFrameMs)
    expect(figures.desk.copyMs).toBe(
      Math.round((3 * 489 * basis.pace.frameBytes * 1000) / basis.pace.copyBytesPerSecond),
    )
  })

  it('are the sum over the rows, whatever they are, and the same in any order of them', async () => {
    const { basis, input } = await basisOfThree()
    const row = fc.record({
      viewAngleMdeg: fc.integer({ min: -90_000, max: 90_000 }),
      framesPerTurn: fc.integer({ min: 2, max: 1440 }),
      overlapFrames: fc.nat(1440),
    })
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 20 }), (rows) => {
        const figures = workOutQuote(basis, { ...input, rows })
        const each = rows.reduce(
          (sum, { framesPerTurn, overlapFrames }) => sum + framesPerTurn + overlapFrames,
          0,
        )
        expect(figures.framesShot).toBe(3 * each)
        const reversed = workOutQuote(basis, { ...input, rows: rows.toReversed() })
        expect(reversed.bench.meanMs).toBe(figures.bench.meanMs)
        expect(reversed.desk).toEqual(figures.desk)
        expect(reversed.netMinor).toBe(figures.netMinor)
        // The same rows in briefs of the spins' own come to the same.
        const own = basis.spins.map((spin) => ({
          ...spin,
          ownRows: rows.map(({ framesPerTurn, overlapFrames }) => ({
            frames: framesPerTurn,
            overlap: overlapFrames,
          })),
        }))
        const { lines: _, notices: __, ...sums } = workOutQuote({ ...basis, spins: own }, input)
        const { lines: ___, notices: ____, ...quoted } = figures
        expect(sums).toEqual(quoted)
      }),
      { numRuns: 30 },
    )
  })

  it('say which row is too short for the set', async () => {
    const { basis, input } = await basisOfThree()
    const rows = [aTurnRow(), aTurnRow({ viewAngleMdeg: 30_000, framesPerTurn: 20 })]
    const { notices } = workOutQuote(basis, { ...input, rows })
    expect(notices.join(' ')).toContain('asks for 24 frames of one turn, but row 2 has 20')
  })

  it('count frames once for all deliverables at the desk, and overlap only while turning', async () => {
    const { basis, input } = await basisOfThree()
    const figures = workOutQuote(basis, {
      ...input,
      rows: [aTurnRow({ framesPerTurn: 240, overlapFrames: 3 })],
    })
    // A loop wants all 240 frames and the set of 24 lies among them: 3 × 240 developed, 3 × (240 + 24) exported.
    expect(figures.framesShot).toBe(3 * 243)
    expect(figures.desk.developMs).toBe(3 * 240 * basis.pace.developFrameMs)
    expect(figures.desk.exportMs).toBe(3 * 264 * basis.pace.exportFrameMs)
  })

  it('state the cost at the median and at the 80 % time, and the margin beside it', async () => {
    const { basis, input } = await basisOfThree()
    const { cost, bench, desk, netMinor } = workOutQuote(basis, input)
    const hours = (ms: number) => new Decimal(ms).div(3_600_000)
    const expected = (benchMs: number) =>
      hours(benchMs)
        .times(6000)
        .plus(hours(desk.totalMs).times(4500))
        .toDecimalPlaces(0, Decimal.ROUND_HALF_UP)
        .toNumber()
    expect(cost?.medianMinor).toBe(expected(bench.medianMs))
    expect(cost?.p80Minor).toBe(expected(bench.p80Ms))
    expect(cost?.marginP80Minor).toBe(netMinor - expected(bench.p80Ms))
    expect(bench.medianMs).toBeLessThan(bench.p80Ms)
  })

  it('work a price out from the time where there is no list, cover the cost with it, and say so', async () => {
    const { basis, input } = await basisOfThree(false)
    const figures = workOutQuote(basis, input)
    expect(figures.cost?.marginP80Minor).toBeGreaterThanOrEqual(0)
    expect(figures.notices.join(' ')).toContain('no price list in EUR')
    expect(figures.lines[0]?.why).toContain('worked out from the 80 % time')
    // Rounded up to whole euros.
    expect(figures.lines.every(({ priceMinor }) => priceMinor % 100 === 0)).toBe(true)
  })

  it('ask for the price of the first of a family once, and the lower one for those that follow', async () => {
    const studio = aStudio()
    await studio.api.prices.add(priceList)
    const { clientId, productIds, jobId } = await aQuotableJob(studio, 3)
    const { familyId } = await studio.api.families.add({
      clientId,
      family: { name: 'Nord', note: null },
    } as never)
    studio.db.prepare('UPDATE product SET family_id = ?').run(familyId)
    expect(productIds.length).toBe(3)
    const { input } = await startingDraft(studio, jobId)
    const { lines } = await studio.api.quotes.preview({ jobId, input })
    expect(
      lines
        .filter(({ kind }) => kind === 'spins')
        .map(({ quantityMilli, priceMinor }) => [quantityMilli, priceMinor]),
    ).toEqual([
      [1000, 16_345],
      [1000, 5505],
      [2000, 11_955],
      [2000, 3005],
    ])
  })

  it('say which sizes are not known, and that a turn is too short for the set', async () => {
    const { studio, jobId, input } = await basisOfThree()
    studio.db.exec(
      "UPDATE product SET width_um = NULL, depth_um = NULL, height_um = NULL WHERE code = 'HL-1'",
    )
    const { notices } = await studio.api.quotes.preview({
      jobId,
      input: { ...input, rows: [aTurnRow({ framesPerTurn: 20 })] } as never,
    })
    expect(notices.join(' ')).toContain('One spin holds a product of unknown size')
    expect(notices.join(' ')).toContain('asks for 24 frames of one turn, but a turn has 20')
  })
})
