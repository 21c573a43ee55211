import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { callAnswer } from '../../main/trade/callQuote.ts'
import { daysText, halfDaysOf } from '../../main/trade/dayLines.ts'
import { byDays, type QuoteLine, workOutQuote } from '../../main/trade/quote.ts'
import { otherWay } from '../../main/trade/quoteWays.ts'
import { aPace } from '../estimate/aPace.ts'
import { aBasis, alikeRows, anInput, aQuoteSpin, boughtIn, cutOut } from './aBasis.ts'

const hour = 3_600_000
const rows = alikeRows(1, { framesPerTurn: 200, overlapFrames: 0 })
/** Spins of 40 min of handling and 200 × 6 s: an hour each at the bench, and nothing that may go wrong. */
const pace = aPace({
  handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 2_400_000, followingMs: 2_400_000 }],
})
const basisOf = (spins: number, finishClassId: number | null = null) =>
  aBasis({
    pace,
    spins: Array.from({ length: spins }, (_, i) => aQuoteSpin({ shootId: i + 1, finishClassId })),
  })
const sold = (differs: Partial<Parameters<typeof anInput>[0]> = {}) =>
  anInput({ rows, soldBy: 'days', ...differs })
const read = (lines: readonly QuoteLine[]) =>
  lines.map(({ text, quantityMilli, priceMinor }) => [text, quantityMilli / 1000, priceMinor])

describe('half days at the bench', () => {
  it('are rounded up, and at least one', () => {
    // By hand, at 6 h a day: 3 h is half a day, a minute more a whole one; 21 h 10 is 3.53 days, so 4.
    expect(
      [0, 3 * hour, 3 * hour + 60_000, 6 * hour, 21 * hour + 600_000].map((ms) => halfDaysOf(ms, 6 * hour)),
    ).toEqual([1, 1, 2, 2, 8])
    expect([1, 2, 3, 4, 7].map(daysText)).toEqual(['half a day', '1 day', '1½ days', '2 days', '3½ days'])
  })

  it('always hold the bench time, and never half a day more than it needs', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e9 }),
        fc.integer({ min: 1_800_000, max: 86_400_000 }),
        (ms, day) => {
          const halfDays = halfDaysOf(ms, day)
          expect((halfDays * day) / 2).toBeGreaterThanOrEqual(ms)
          expect(((halfDays - 1) * day) / 2).toBeLessThan(ms)
        },
      ),
    )
  })
})

describe('a quote sold by the day', () => {
  it('has bench days and a half one for its 80 % time, at the studio’s prices', () => {
    // Eight hours at 6 h a day: 1⅓ days, so 1½: 620.00 + 340.00.
    const figures = workOutQuote(basisOf(8), sold())
    expect(read(figures.lines)).toEqual([
      ['Bench day', 1, 62_000],
      ['Half bench day', 1, 34_000],
    ])
    expect(figures.netMinor).toBe(96_000)
    // 20 % of it.
    expect(figures.taxMinor).toBe(19_200)
    expect(figures.lines[0]?.shootIds).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
    expect(figures.lines[0]?.why).toBe('80 % of the time under 8 h 00, at 6 h 00 a day: 1½ days')
    const german = workOutQuote({ ...basisOf(8), language: 'de' }, sold())
    expect(german.lines.map(({ text }) => text)).toEqual(['Aufnahmetag', 'Halber Aufnahmetag'])
    // Half a day is a piece of its own and no half of a day (UN/ECE Recommendation 20: DAY, C62).
    expect(figures.lines.map(({ unit }) => unit)).toEqual(['DAY', 'C62'])
  })

  it('sells as many days as the person sets, and says where they are too few', () => {
    const figures = workOutQuote(basisOf(8), sold({ halfDays: 2 }))
    expect(read(figures.lines)).toEqual([['Bench day', 1, 62_000]])
    expect(figures.notices.join(' ')).toContain(
      'This sells 1 day; four times in five the bench needs up to 1½ days.',
    )
    expect(workOutQuote(basisOf(8), sold({ halfDays: 4 })).netMinor).toBe(124_000)
    for (const halfDays of [0, -1, 2.4, Number.NaN]) {
      expect(() => workOutQuote(basisOf(8), sold({ halfDays }))).toThrow('whole or half ones')
    }
  })

  it('adds finishing by the delivered frame, rush and discount on both, fees, and the minimum', () => {
    // A loop and a set of 24 of 200 frames: the loop wants all 200. 30 s a frame at 45.00 an hour: 37.50 a hundred,
    // up to 38.00; 8 × 200 frames: 608.00. With 960.00 of days 1568.00; rush 25 % 392.00; discount 10 % of 1960.00.
    const fee: QuoteLine = {
      kind: 'fee',
      text: 'Courier',
      quantityMilli: 2000,
      unit: 'LS',
      priceMinor: 1500,
      baseMilli: 1000,
      taxRateId: 1,
      shootIds: [],
      why: null,
    }
    const input = sold({ isRush: true, discountPpm: 100_000, fees: [fee] })
    const figures = workOutQuote(basisOf(8, cutOut.id), input)
    expect(figures.lines.map(({ kind, netMinor }) => [kind, netMinor])).toEqual([
      ['days', 62_000],
      ['days', 34_000],
      ['finishing', 60_800],
      ['rush', 39_200],
      ['discount', -19_600],
      ['fee', 3000],
    ])
    expect(figures.lines[2]?.text).toBe('Finishing of delivered pictures: cut-out')
    const least = workOutQuote({ ...basisOf(1), minimumMinor: 50_000 }, sold())
    expect(least.lines.map(({ kind, netMinor }) => [kind, netMinor])).toEqual([
      ['days', 34_000],
      ['minimum', 16_000],
    ])
    // Bought in at 40.00 a hundred, 200 frames: 80.00.
    expect(workOutQuote(basisOf(1, boughtIn.id), sold()).lines[1]?.netMinor).toBe(8000)
  })

  it('keeps floor, margin and break-even those of the work, whatever it is sold by', () => {
    const byList = workOutQuote(basisOf(8), anInput({ rows }))
    const figures = workOutQuote(basisOf(8), sold())
    expect(figures.cost?.p80Minor).toBe(byList.cost?.p80Minor)
    expect(figures.cost?.marginP80Minor).toBe(96_000 - (figures.cost?.p80Minor ?? 0))
    expect(byDays(basisOf(8), anInput({ rows }))).toEqual({ halfDays: 3, netMinor: 96_000 })
  })

  it('lets another way follow by its own days, without a line for what it saves', () => {
    const smoother = otherWay(
      basisOf(8),
      sold({ halfDays: 3 }),
      'smoother',
      alikeRows(1, { framesPerTurn: 400, overlapFrames: 0 }),
    )
    expect(smoother.fees).toEqual([])
    // 8 × (40 + 40) min = 10 h 40: 2 days.
    expect(read(workOutQuote(basisOf(8), smoother).lines)).toEqual([['Bench day', 2, 62_000]])
  })

  it('is refused in a currency that the day prices are not in, and warned of where a price lacks', () => {
    expect(() => workOutQuote({ ...basisOf(8), days: null }, sold())).toThrow(
      'day prices are in another currency',
    )
    const unpriced = { ...basisOf(8), days: { halfDayMinor: 0, dayMinor: 62_000, workingDayMs: 6 * hour } }
    expect(workOutQuote(unpriced, sold()).notices.join(' ')).toContain('No price for half a day is set.')
    expect(byDays(unpriced, sold())).toBeNull()
  })

  it('stands beside the price of a call', () => {
    const usual = { rows, setFrames: 24, stills: 6, taxRateId: 1, people: 1 as const }
    const ask = { spins: 8, sizeClass: 'small' as const, finishClassId: null, kinds: ['loop' as const] }
    const mirror = {
      sizeClass: 'small' as const,
      finish: 'mirror' as const,
      firstMs: 6_000_000,
      followingMs: 6_000_000,
    }
    const basis = { ...basisOf(1), pace: { ...pace, handling: [...pace.handling, mirror] } }
    const { low, high } = callAnswer(basis, ask, usual)
    // Mirrors of 100 + 20 min: 16 h, 2⅔ days, so 3.
    expect([low.byDays, high.byDays]).toEqual([
      { halfDays: 3, netMinor: 96_000 },
      { halfDays: 6, netMinor: 186_000 },
    ])
  })
})
