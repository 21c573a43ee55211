import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Learning } from '../../main/trade/learning.ts'
import type { Pace } from '../../main/trade/pace.ts'
import { betaMean, Seen, shrunk } from '../../main/trade/shrinkage.ts'
import { type TakeFact, takeStepMs } from '../../main/trade/takeFact.ts'
import { aPace } from '../estimate/aPace.ts'
import { aFact, minute, morning, spinsInARow } from './aFact.ts'

const setting = aPace({
  stepSpreadPpm: 250_000,
  restartPpm: 100_000,
  reshootPpm: 50_000,
  rowChangeMs: 10 * minute,
  handling: [
    { sizeClass: 'small', finish: 'matt', firstMs: 8 * minute, followingMs: 5 * minute },
    { sizeClass: 'large', finish: 'clear', firstMs: 35 * minute, followingMs: 25 * minute },
  ],
})

function taught(takes: readonly TakeFact[], from: Pace = setting): Learning {
  const learning = new Learning(from)
  for (const take of takes) learning.see(take)
  return learning
}

describe('shrinkage', () => {
  it('weighs values against the level above by the normal rule', () => {
    // Normal shrinkage w = n/(n + σ²/τ²), σ² = 4, τ² = 1, prior 6, mean 8: n = 0 → 6, 1 → 6.4, 4 → 7, 16 → 7.6
    // (textbook form, from memory).
    expect([0, 1, 4, 16].map((n) => shrunk(6, 8, n, 4))).toEqual([6, 6.4, 7, 7.6])
  })

  it('gives a chance the mean of its Beta posterior', () => {
    // Uniform prior, 7 hits and 3 misses: Beta(8, 4), mean 2/3 (the worked coin of many courses; rule
    // Beta(a + x, b + n − x) as at io.eriktuck.com, beta-binomial conjugate).
    expect(betaMean(0.5, 2, 7, 10)).toBeCloseTo(2 / 3, 12)
    expect(betaMean(0.08, 20, 0, 0)).toBe(0.08)
  })

  it('gives a variance the scale of its scaled inverse χ² posterior', () => {
    // (ν₀·s₀² + Σ off²) / (ν₀ + n) for a known mean (real-statistics.com, normal conjugate priors, property 2):
    // ν₀ = 4, s₀² = 1, one value 3 off: (4 + 9) / 5 = 2.6.
    const seen = new Seen()
    expect(seen.variance(1, 4)).toBe(1)
    seen.add(0, 1, 3, morning)
    expect(seen.variance(1, 4)).toBeCloseTo(2.6, 12)
  })
})

describe('the step of a take', () => {
  it('holds its short stops, and no pause that was marked', () => {
    // 99 steps of 6 s with 29.7 s of stops: 6.3 s a step.
    expect(takeStepMs(aFact({ spanMs: 99 * 6300 }))).toBe(6300)
    expect(takeStepMs(aFact({ spanMs: 99 * 6300 + 600_000, pausedMs: 600_000 }))).toBe(6300)
  })

  it('is not spoiled by a long break that nobody marked', () => {
    // An hour more would make it 42.7 s; it counts at most a quarter over the median.
    expect(takeStepMs(aFact({ spanMs: 99 * 6300 + 3_600_000 }))).toBe(7500)
  })

  it('is the mean step where frames were only counted, and unknown of a single frame', () => {
    expect(takeStepMs(aFact({ medianStepMs: 6100 }))).toBe(6100)
    expect(takeStepMs(aFact({ framesShot: 1, medianStepMs: null }))).toBeNull()
  })
})

describe('a step learned from takes', () => {
  it('is the studio’s setting while there are none', () => {
    const learning = new Learning(setting)
    const unspread = setting.handling.map((row) => ({ ...row, spreadPpm: setting.handlingSpreadPpm }))
    expect(learning.pace()).toEqual({ ...setting, handling: unspread })
    expect(learning.figures().step).toEqual({ stepMs: 6000, takes: 0, weight: 0, lastMs: null })
    expect(learning.stepFactor(1)).toBe(1)
  })

  it('lies between the setting and the takes, the nearer to the takes the more there are', () => {
    const ms = fc.integer({ min: 4000, max: 9000 })
    fc.assert(
      fc.property(ms, ms, fc.integer({ min: 1, max: 40 }), (own, shown, takes) => {
        const of = (count: number) =>
          taught(spinsInARow(count, minute, { medianStepMs: shown }), { ...setting, stepMs: own }).pace()
            .stepMs
        expect(of(takes)).toBeGreaterThanOrEqual(Math.min(own, shown) - 1)
        expect(of(takes)).toBeLessThanOrEqual(Math.max(own, shown) + 1)
        expect(Math.abs(of(takes + 1) - shown)).toBeLessThanOrEqual(Math.abs(of(takes) - shown) + 1)
      }),
    )
  })

  it('draws a rig with few takes toward the studio, and lets one with many be itself', () => {
    const slow = (count: number) =>
      taught([
        ...spinsInARow(60, minute, { medianStepMs: 6000 }),
        ...spinsInARow(count, minute, { medianStepMs: 7200, rigId: 2 }),
      ])
    const two = slow(2)
      .figures()
      .rigs.find(({ rigId }) => rigId === 2)
    const forty = slow(40)
      .figures()
      .rigs.find(({ rigId }) => rigId === 2)
    expect(two?.stepMs).toBeGreaterThan(6000)
    expect(two?.stepMs).toBeLessThan(6600)
    expect(forty?.stepMs).toBeGreaterThan(6900)
    expect(forty?.stepMs).toBeLessThanOrEqual(7200)
    expect(two?.takes).toBe(2)
    expect(slow(40).stepFactor(2)).toBeGreaterThan(1)
  })

  it('is not moved far by one take that was left standing overnight, nor by one of three frames', () => {
    const usual = spinsInARow(10, minute)
    const before = taught(usual).pace().stepMs
    const overnight = taught([...usual, aFact({ shootId: 99, medianStepMs: 400_000 })]).pace().stepMs
    expect(overnight / before).toBeLessThan(1.06)
    const short = taught([...usual, aFact({ shootId: 99, medianStepMs: 12_000, framesShot: 3 })]).pace()
      .stepMs
    expect(short / before).toBeLessThan(1.015)
  })

  it('follows hands that have become faster', () => {
    const learning = taught([
      ...spinsInARow(1000, minute, { medianStepMs: 8000 }),
      ...spinsInARow(300, minute, { medianStepMs: 5000 }),
    ])
    expect(learning.pace().stepMs).toBeLessThan(5700)
    expect(learning.figures().step.takes).toBe(1300)
  })

  it('narrows its spread to that of the takes', () => {
    const steady = taught(spinsInARow(100, minute)).pace()
    expect(steady.stepSpreadPpm).toBeLessThan(80_000)
    expect(steady.stepSpreadPpm).toBeGreaterThan(0)
  })
})

describe('handling learned from the gaps between takes', () => {
  const smallMatt = (learning: Learning) =>
    learning.figures().handling.find(({ finish }) => finish === 'matt')
  const largeClear = (learning: Learning) =>
    learning.figures().handling.find(({ finish }) => finish === 'clear')

  it('goes from the setting to the gap, first of family and following apart', () => {
    // Alike gaps of 4 min leave nothing to spread but the way from 8 min down; it is within a quarter by then.
    const alone = smallMatt(taught(spinsInARow(60, 4 * minute)))
    expect(alone?.first.gaps).toBe(59)
    expect(alone?.following.gaps).toBe(0)
    expect(alone?.first.learnedMs).toBeGreaterThan(3.9 * minute)
    expect(alone?.first.learnedMs).toBeLessThan(5 * minute)
    const family = smallMatt(taught(spinsInARow(60, 4 * minute, { familyId: 7 })))
    expect(family?.following.gaps).toBe(59)
    expect(family?.first.gaps).toBe(0)
  })

  it('draws a case nobody has seen the way of all others', () => {
    const clear = largeClear(taught(spinsInARow(60, 4 * minute)))
    expect(clear?.first.gaps).toBe(0)
    expect(clear?.first.learnedMs).toBeLessThan(0.7 * 35 * minute)
  })

  it('holds the check frames of the gap back, which estimates count by themselves', () => {
    const bare = smallMatt(taught(spinsInARow(40, 8 * minute)))?.first.learnedMs ?? 0
    const checked = smallMatt(taught(spinsInARow(40, 9 * minute), { ...setting, checkFrames: 10 }))?.first
    expect(checked?.learnedMs).toBeCloseTo(bare, -2)
  })

  it('learns nothing from a meal, a night, a set change or another bench', () => {
    const two = (gapMs: number, second: Partial<TakeFact>) =>
      taught([aFact(), aFact({ shootId: 2, startedMs: morning + 600_000 + gapMs, ...second })]).figures()
    const seen = (figures: ReturnType<Learning['figures']>) =>
      figures.handling.reduce((sum, { first, following }) => sum + first.gaps + following.gaps, 0)
    expect(seen(two(8 * minute, {}))).toBe(1)
    expect(seen(two(60 * minute, {}))).toBe(0)
    expect(seen(two(14 * 60 * minute, {}))).toBe(0)
    expect(seen(two(8 * minute, { rigRevisionId: 2 }))).toBe(0)
    expect(seen(two(8 * minute, { benchId: 2 }))).toBe(0)
  })

  it('learns how widely it spreads, by size and finish, and gives it at its mean', () => {
    // Gaps of 5 and 20 min by turns: medians of 10 min, half a factor of four either way, so σ = ln 2 = 0.693 and a
    // mean of 10·e^(σ²/2) = 12.7 min (mathematics). Shrinkage holds both back a little.
    const gaps = Array.from({ length: 120 }, (_, i) => (i % 2 === 0 ? 5 : 20) * minute)
    let at = morning
    const wide = gaps.map((gapMs, i) => {
      at += 600_000 + gapMs
      return aFact({ shootId: i + 1, startedMs: at })
    })
    const from = { ...setting, handlingSpreadPpm: 300_000 }
    const seen = smallMatt(taught(wide, from))
    expect(seen?.spreadPpm).toBeGreaterThan(600_000)
    expect(seen?.spreadPpm).toBeLessThan(720_000)
    expect((seen?.first.learnedMs ?? 0) / minute).toBeGreaterThan(11.5)
    expect((seen?.first.learnedMs ?? 0) / minute).toBeLessThan(13.5)
    const steady = smallMatt(taught(spinsInARow(120, 8 * minute), from))
    expect(steady?.spreadPpm).toBeLessThan(120_000)
    // A case of which there is no gap takes the spread of all; where there is none at all, the setting.
    expect(largeClear(taught(wide, from))?.spreadPpm).toBeGreaterThan(500_000)
    expect(largeClear(taught([], from))?.spreadPpm).toBe(300_000)
    expect(taught([], from).pace().handling[0]?.firstMs).toBe(8 * minute)
  })

  it('tells a row change and a second try from handling', () => {
    const at = (n: number) => morning + n * (600_000 + 5 * minute)
    const learning = taught([
      aFact({ rows: 2 }),
      aFact({ rows: 2, row: 2, startedMs: at(1), verdict: 'reject' }),
      aFact({ rows: 2, row: 2, startedMs: at(2) }),
    ])
    const { rowChange, handling } = learning.figures()
    expect(rowChange.gaps).toBe(1)
    expect(rowChange.learnedMs).toBeLessThan(10 * minute)
    expect(handling.every(({ first, following }) => first.gaps + following.gaps === 0)).toBe(true)
  })
})

describe('the pause after a rejected take', () => {
  const from = { ...setting, restartPauseMs: 3 * minute }
  const tries = (pauseMs: number, second: Partial<TakeFact> = {}) =>
    taught(
      [
        aFact({ verdict: 'reject', framesShot: 50 }),
        aFact({ startedMs: morning + 600_000 + pauseMs, ...second }),
      ],
      from,
    ).figures().restartPause

  it('is learned from the end of the take to the start of the next of its row', () => {
    expect(tries(6 * minute)).toMatchObject({ settingMs: 3 * minute, gaps: 1 })
    expect(tries(6 * minute).learnedMs).toBeGreaterThan(3 * minute)
    expect(tries(6 * minute).learnedMs).toBeLessThan(6 * minute)
    expect(tries(1 * minute).learnedMs).toBeLessThan(3 * minute)
  })

  it('is none after a kept take, over a break, on another bench or before a reshoot', () => {
    expect(
      taught([aFact(), aFact({ startedMs: morning + 12 * minute })], from).figures().restartPause.gaps,
    ).toBe(0)
    expect(tries(90 * minute).gaps).toBe(0)
    expect(tries(6 * minute, { benchId: 2 }).gaps).toBe(0)
    expect(tries(6 * minute, { reshoots: 1 }).gaps).toBe(0)
    expect(tries(6 * minute, { row: 2, rows: 2 }).gaps).toBe(0)
  })
})

describe('the two chances', () => {
  const next = (after: number) => morning + after
  const hour = 60 * minute

  it('count a spin once, from its kept take on: restarted while the set stood, reshot when it was gone', () => {
    const restarted = taught([
      aFact({ verdict: 'reject' }),
      aFact({ verdict: 'reject', startedMs: next(11 * minute) }),
      aFact({ startedMs: next(22 * minute) }),
    ])
    expect(restarted.figures().restart).toMatchObject({ hits: 1, spins: 1 })
    expect(restarted.figures().reshoot).toMatchObject({ hits: 0, spins: 1 })
    const later = taught([aFact({ verdict: 'reject' }), aFact({ startedMs: next(24 * hour) })])
    expect(later.figures().restart.hits).toBe(0)
    expect(later.figures().reshoot.hits).toBe(1)
    const called = taught([aFact(), aFact({ startedMs: next(72 * hour), reshoots: 1 })])
    expect(called.figures().reshoot).toMatchObject({ hits: 1, spins: 1 })
  })

  it('move from the setting by the Beta rule', () => {
    // Setting 10 %, worth 20 spins; 0 of 30 restarted: 2 / 50 = 4 %.
    const { restart } = taught(spinsInARow(30, minute)).figures()
    expect(restart.chance).toBeCloseTo(0.04, 12)
    expect(taught(spinsInARow(30, minute)).pace().restartPpm).toBe(40_000)
  })
})
