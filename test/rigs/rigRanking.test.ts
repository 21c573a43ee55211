import fc from 'fast-check'
import jstat from 'jstat'
import { describe, expect, it } from 'vitest'
import wilsonScore from 'wilson-score'
import { type Finish, finishes, type SizeClass, sizeClasses } from '../../main/trade/product.ts'
import {
  type AnsweredKind,
  likenessOf,
  type RigCandidate,
  rankRigs,
  rateText,
  reasonText,
  stepRangeMm,
  type WantedProduct,
} from '../../main/trade/rigRanking.ts'
import { wilson, wilsonOfWeights } from '../../main/trade/wilson.ts'

const flacon: WantedProduct = { finish: 'clear', sizeStep: 14, sizeClass: 'small', loadG: 400 }

function aKind(of: Partial<AnsweredKind> = {}): AnsweredKind {
  return {
    finish: 'clear',
    sizeStep: 14,
    answered: 8,
    approved: 7,
    lastYesAt: '2026-05-03T10:00:00.000Z',
    ...of,
  }
}

function aRig(
  rigId: number,
  kinds: readonly AnsweredKind[] = [],
  of: Partial<RigCandidate> = {},
): RigCandidate {
  return {
    rigId,
    sizeClass: 'small',
    loadLimitG: 3_000,
    lastUsedAt: '2026-06-01T10:00:00.000Z',
    kinds,
    ...of,
  }
}

const order = (wanted: WantedProduct, rigs: readonly RigCandidate[]) =>
  rankRigs(wanted, rigs).offered.map(({ rig }) => rig.rigId)

const anAnswer = fc
  .record({
    finish: fc.constantFrom<Finish>(...finishes),
    sizeStep: fc.integer({ min: -1, max: 22 }),
    answered: fc.integer({ min: 0, max: 400 }),
    part: fc.double({ min: 0, max: 1, noNaN: true }),
    day: fc.integer({ min: 1, max: 28 }),
  })
  .map(({ part, day, ...kind }): AnsweredKind => {
    const approved = Math.round(kind.answered * part)
    return {
      ...kind,
      approved,
      lastYesAt: approved > 0 ? `2026-05-${String(day).padStart(2, '0')}T10:00:00.000Z` : null,
    }
  })
const anyRig = fc.record({
  sizeClass: fc.constantFrom<SizeClass>(...sizeClasses),
  loadLimitG: fc.option(fc.integer({ min: 1, max: 60_000 })),
  lastUsedAt: fc.option(fc.constantFrom('2026-05-01T08:00:00.000Z', '2026-06-01T08:00:00.000Z')),
  kinds: fc.array(anAnswer, { maxLength: 6 }),
})
const anyRigs = fc
  .array(anyRig, { maxLength: 8 })
  .map((rigs) => rigs.map((rig, index) => ({ ...rig, rigId: index + 1 })))
const anyProduct = fc.record({
  finish: fc.constantFrom<Finish>(...finishes),
  sizeStep: fc.integer({ min: -1, max: 22 }),
  sizeClass: fc.constantFrom<SizeClass>(...sizeClasses),
  loadG: fc.option(fc.integer({ min: 0, max: 60_000 })),
})

describe('the ranking of rigs', () => {
  it('puts much evidence before little, and evidence on like products before any other', () => {
    const much = aRig(1, [aKind({ answered: 20, approved: 19 })])
    const little = aRig(2, [aKind({ answered: 1, approved: 1 })])
    const unlike = aRig(3, [aKind({ finish: 'textile', sizeStep: 20, answered: 20, approved: 20 })])
    expect(order(flacon, [unlike, little, much])).toEqual([1, 2, 3])
    // Size decides the platter and the distance, finish only the light.
    const ofSize = aRig(6, [aKind({ finish: 'matt', answered: 3, approved: 3 })])
    const ofFinish = aRig(7, [aKind({ sizeStep: 18, answered: 9, approved: 9 })])
    expect(order(flacon, [ofFinish, ofSize])).toEqual([6, 7])
    expect(order(flacon, [aRig(4, [aKind({ finish: 'matt' })]), aRig(5, [aKind()])])).toEqual([5, 4])
  })

  it('breaks ties by the size the rig is meant for, then by what was used last', () => {
    const [large, older, newer] = [
      aRig(1, [], { sizeClass: 'large', lastUsedAt: '2026-06-03T08:00:00.000Z' }),
      aRig(2, [], { lastUsedAt: '2026-06-01T08:00:00.000Z' }),
      aRig(3, [], { lastUsedAt: '2026-06-02T08:00:00.000Z' }),
    ]
    expect(order(flacon, [large, older, newer])).toEqual([3, 2, 1])
  })

  it('never offers a rig over its load limit, and offers every other', () => {
    fc.assert(
      fc.property(anyProduct, anyRigs, (wanted, rigs) => {
        const { offered, tooWeak } = rankRigs(wanted, rigs)
        for (const { rig } of offered) {
          if (wanted.loadG !== null && rig.loadLimitG !== null)
            expect(wanted.loadG).toBeLessThanOrEqual(rig.loadLimitG)
        }
        for (const rig of tooWeak)
          expect(wanted.loadG).toBeGreaterThan(rig.loadLimitG ?? Number.POSITIVE_INFINITY)
        expect(offered.length + tooWeak.length).toBe(rigs.length)
      }),
    )
  })

  it('gives the same whatever order rigs and their evidence come in', () => {
    fc.assert(
      fc.property(
        anyProduct,
        anyRigs.chain((rigs) =>
          fc.tuple(
            fc.constant(rigs),
            fc.shuffledSubarray(rigs, { minLength: rigs.length, maxLength: rigs.length }),
          ),
        ),
        (wanted, [rigs, shuffled]) => {
          const turned = shuffled.map((rig) => ({ ...rig, kinds: rig.kinds.toReversed() }))
          const seen = (ranking: ReturnType<typeof rankRigs>) => [
            ranking.offered.map(({ rig, score, reason }) => [rig.rigId, score, reason]),
            ranking.tooWeak.map(({ rigId }) => rigId),
          ]
          expect(seen(rankRigs(wanted, turned))).toEqual(seen(rankRigs(wanted, rigs)))
        },
      ),
    )
  })

  it('never ranks a rig lower for one more yes, nor for a change that becomes a yes', () => {
    fc.assert(
      fc.property(anyProduct, anyRigs, fc.nat(), anAnswer, (wanted, rigs, which, kind) => {
        fc.pre(rigs.length > 0)
        const lucky = rigs[which % rigs.length] as (typeof rigs)[number]
        const one = { finish: kind.finish, sizeStep: kind.sizeStep, lastYesAt: null }
        const place = (kinds: readonly AnsweredKind[]) =>
          order(
            wanted,
            rigs.map((rig) => (rig === lucky ? { ...rig, kinds } : rig)),
          ).indexOf(lucky.rigId)
        const before = place(lucky.kinds)
        expect(place([...lucky.kinds, { ...one, answered: 1, approved: 1 }])).toBeLessThanOrEqual(before)
        const refused = place([...lucky.kinds, { ...one, answered: 1, approved: 0 }])
        expect(place([...lucky.kinds, { ...one, answered: 1, approved: 1 }])).toBeLessThanOrEqual(refused)
      }),
    )
  })

  it('calls a size the same within one half octave step, and an unknown one like none', () => {
    expect(likenessOf(flacon, aKind({ sizeStep: 15 }))).toBe('both')
    expect(likenessOf(flacon, aKind({ sizeStep: 16 }))).toBe('finish')
    expect(likenessOf(flacon, aKind({ sizeStep: 13, finish: 'matt' }))).toBe('size')
    expect(likenessOf({ ...flacon, sizeStep: -1 }, aKind({ sizeStep: -1 }))).toBe('finish')
    expect(stepRangeMm(14)).toEqual({ fromMm: 130, toMm: 180 })
  })
})

describe('the reason of a rank', () => {
  const say = (kinds: readonly AnsweredKind[]) =>
    reasonText(rankRigs(flacon, [aRig(1, kinds)]).offered[0]?.reason ?? null, 'clear', () => '3 May')

  it('counts what is most like the product, in words', () => {
    expect(say([aKind(), aKind({ finish: 'matt', answered: 90, approved: 90 })])).toBe(
      '7 of 8 clear pieces of this size approved, last on 3 May',
    )
    expect(say([aKind({ sizeStep: 20 })])).toBe(
      '7 of 8 clear pieces, none of this size, approved, last on 3 May',
    )
    expect(say([aKind({ finish: 'matt' })])).toBe(
      '7 of 8 pieces of this size, none clear, approved, last on 3 May',
    )
    expect(say([aKind({ answered: 1, approved: 0, lastYesAt: null })])).toBe(
      '0 of 1 clear piece of this size approved',
    )
    expect(say([])).toBe('No client has answered to a spin on it yet.')
  })

  it('says the rate with its interval', () => {
    // 9 of 11: Wilson 52.3 % to 94.9 %, by the formula as published, worked by hand.
    expect(rateText(9, 11)).toMatch(/^9 of 11 answered spins; between 52\s% and 95\s%$/)
    expect(rateText(0, 0)).toBe('no spin answered yet')
  })
})

describe('the score', () => {
  it('is the lower bound that the library wilson-score gives', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (answered, part) => {
          const approved = Math.round(answered * part)
          const [ranked] = rankRigs(flacon, [aRig(1, [aKind({ answered, approved })])]).offered
          expect(ranked?.score).toBeCloseTo(wilsonScore(approved, answered, 1.959963984540054), 9)
        },
      ),
    )
  })

  it('is the same for weights as for whole answers where the weights are 1', () => {
    for (const [hits, trials] of [
      [0, 20],
      [9, 11],
      [81, 263],
      [10, 10],
    ] as const) {
      expect(wilsonOfWeights(hits, trials).low).toBeCloseTo(wilson(hits, trials).low, 12)
      expect(wilsonOfWeights(hits, trials).high).toBeCloseTo(wilson(hits, trials).high, 12)
    }
    expect(() => wilsonOfWeights(2, 1)).toThrow('is no share')
  })

  it('lies where the Beta distribution puts the same evidence', () => {
    // Clopper and Pearson's exact interval, by jstat's Beta quantiles. Newcombe 1998, table I, method 5 (from memory):
    // 81 of 263: 0.2527 to 0.3676; 15 of 148: 0.0578 to 0.1617; 0 of 20: 0 to 0.1684; 1 of 29: 0.0009 to 0.1776.
    for (const [hits, trials, low, high] of [
      [81, 263, 0.2527, 0.3676],
      [15, 148, 0.0578, 0.1617],
      [1, 29, 0.0009, 0.1776],
    ] as const) {
      expect(jstat.beta.inv(0.025, hits, trials - hits + 1)).toBeCloseTo(low, 4)
      expect(jstat.beta.inv(0.975, hits + 1, trials - hits)).toBeCloseTo(high, 4)
      expect(wilson(hits, trials).low).toBeGreaterThan(low)
      expect(wilson(hits, trials).high).toBeLessThan(high)
    }
    // Jeffreys' interval, Beta(½ + yes, ½ + no), which Brown, Cai and DasGupta 2001 name beside Wilson's for small
    // samples: from 20 answers on the two lower ends are within 4 hundredths.
    for (let answered = 20; answered <= 200; answered += 15) {
      for (let approved = 1; approved < answered; approved += 3) {
        const jeffreys = jstat.beta.inv(0.025, approved + 0.5, answered - approved + 0.5)
        expect(Math.abs(jeffreys - wilson(approved, answered).low)).toBeLessThan(0.04)
      }
    }
  })
})
