import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { deskMs } from '../../main/trade/deskTime.ts'
import { besideMs, jobBenchMs, runMeansMs, spinBenchMs } from '../../main/trade/estimate.ts'
import type { BenchPeople, Pace } from '../../main/trade/pace.ts'
import { quantile } from '../../main/trade/quantile.ts'
import type { SpinWork } from '../../main/trade/spinCost.ts'
import { aPace, aSpin } from './aPace.ts'

describe('bench time of one spin', () => {
  it('is frames times step where nothing else happens', () => {
    // Mathematics: 244 × 6 s = 1464 s = 24 min 24 s; 325 × 6 s = 1950 s.
    expect(spinBenchMs(aSpin(), aPace())).toEqual({
      meanMs: 1_464_000,
      medianMs: 1_464_000,
      p80Ms: 1_464_000,
    })
    expect(spinBenchMs(aSpin({ rows: [{ frames: 244, overlap: 81 }] }), aPace()).meanMs).toBe(1_950_000)
  })

  it('adds handling, check frames and row changes', () => {
    // Mathematics: 480 + 6·6 + (36 + 1 + 24 + 1)·6 + 600 = 1488 s; following the first: 300 in place of 480.
    const pace = aPace({
      checkFrames: 6,
      rowChangeMs: 600_000,
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 480_000, followingMs: 300_000 }],
    })
    const rows = [
      { frames: 36, overlap: 1 },
      { frames: 24, overlap: 1 },
    ]
    expect(spinBenchMs(aSpin({ rows }), pace).medianMs).toBe(1_488_000)
    expect(spinBenchMs(aSpin({ rows, isFirstOfFamily: false }), pace).medianMs).toBe(1_308_000)
  })

  it('has the mean, median and 80 % of the lognormal step', () => {
    // LN(ln 6, 0.25): mean 6.190460445, median 6, q80 7.405069088 (scipy, @stdlib, jStat agree).
    const spin = aSpin({ rows: [{ frames: 1000, overlap: 0 }] })
    expect(spinBenchMs(spin, aPace({ stepSpreadPpm: 250_000 }))).toEqual({
      meanMs: 6_190_460,
      medianMs: 6_000_000,
      p80Ms: 7_405_069,
    })
  })

  it('has the median and 80 % of lognormal handling, whose setting is its mean', () => {
    // LN(ln 6, 0.25) again, in minutes: mean 6.190460445, median 6, q80 7.405069088; and a turn of 1464 s.
    const pace = aPace({
      handlingSpreadPpm: 250_000,
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 6.190460445 * 60_000, followingMs: 0 }],
    })
    const made = spinBenchMs(aSpin(), pace)
    expect(made.meanMs).toBe(1_464_000 + 371_428)
    expect(made.medianMs).toBe(1_464_000 + 360_000)
    expect(made.p80Ms).toBe(1_464_000 + 444_304)
  })

  it('counts a restart at half of the turn on average, and a reshoot in full', () => {
    // Mathematics: 0.1·½·1464 s = 73.2 s; 0.05·(600 + 1464) s = 103.2 s.
    expect(spinBenchMs(aSpin(), aPace({ restartPpm: 100_000 })).meanMs).toBe(1_464_000 + 73_200)
    expect(spinBenchMs(aSpin({ setChangeMs: 600_000 }), aPace({ reshootPpm: 50_000 })).meanMs).toBe(
      1_464_000 + 103_200,
    )
    // And with a pause of 3 min after a rejected take: 0.1·180 s = 18 s more.
    expect(spinBenchMs(aSpin(), aPace({ restartPpm: 100_000, restartPauseMs: 180_000 })).meanMs).toBe(
      1_464_000 + 73_200 + 18_000,
    )
    // Without spread four in five takes see neither at 5 % and 10 %, and one in four sees a reshoot at 25 %.
    expect(spinBenchMs(aSpin(), aPace({ restartPpm: 100_000, reshootPpm: 50_000 })).p80Ms).toBe(1_464_000)
    expect(spinBenchMs(aSpin(), aPace({ reshootPpm: 250_000 })).p80Ms).toBe(2 * 1_464_000)
  })

  it('agrees with simulated spins', () => {
    // Reference: simulation of the described process, 200,000 spins with a fixed seed; a 0.5 % match.
    const pace = aPace({
      stepSpreadPpm: 250_000,
      checkFrames: 6,
      rowChangeMs: 600_000,
      restartPpm: 150_000,
      restartPauseMs: 180_000,
      reshootPpm: 100_000,
      handlingSpreadPpm: 400_000,
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 480_000, followingMs: 300_000 }],
    })
    const spin = aSpin({
      rows: [
        { frames: 72, overlap: 3 },
        { frames: 36, overlap: 3 },
      ],
      setChangeMs: 900_000,
    })
    const random = seeded(7)
    const times = Array.from({ length: 200_000 }, () => simulated([spin], pace, 1, random))
    const made = spinBenchMs(spin, pace)
    expect(made.meanMs / mean(times)).toBeCloseTo(1, 2)
    expect(made.medianMs / quantile(times, 0.5)).toBeCloseTo(1, 2)
    expect(made.p80Ms / quantile(times, 0.8)).toBeCloseTo(1, 2)
  })

  it('never shrinks when more is asked or more goes wrong', () => {
    const ppm = fc.integer({ min: 0, max: 400_000 })
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 400 }), ppm, ppm, ppm, (frames, spread, restart, reshoot) => {
        const at = (more: Partial<Pace>, spin = aSpin({ rows: [{ frames, overlap: 3 }] })) =>
          spinBenchMs(
            spin,
            aPace({ stepSpreadPpm: spread, restartPpm: restart, reshootPpm: reshoot, ...more }),
          )
        const base = at({})
        expect(base.p80Ms).toBeGreaterThanOrEqual(base.medianMs)
        for (const more of [
          at({ restartPpm: restart + 100_000 }),
          at({ reshootPpm: reshoot + 100_000 }),
          at({ checkFrames: 10 }),
          at({}, aSpin({ rows: [{ frames: frames + 1, overlap: 3 }] })),
        ]) {
          expect(more.meanMs).toBeGreaterThanOrEqual(base.meanMs)
          expect(more.medianMs).toBeGreaterThanOrEqual(base.medianMs - 1)
          expect(more.p80Ms).toBeGreaterThanOrEqual(base.p80Ms - 1)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('is refused where the studio has set no handling time', () => {
    expect(() => spinBenchMs(aSpin({ finish: 'mirror' }), aPace())).toThrow(
      'small products with a mirror finish',
    )
    expect(() => spinBenchMs(aSpin({ rows: [] }), aPace())).toThrow('at least one row')
  })
})

describe('bench time of several spins', () => {
  it('adds up means, and widens with the shared step', () => {
    // LN(ln 6, 0.25) again: forty spins of 25 frames by the same hands spread as one of 1000, to 0.05 %.
    const spins = Array.from({ length: 40 }, () => aSpin({ rows: [{ frames: 25, overlap: 0 }] }))
    const made = jobBenchMs(spins, aPace({ stepSpreadPpm: 250_000 }))
    expect(made.meanMs).toBe(6_190_460)
    expect(made.medianMs / 6_000_000).toBeCloseTo(1, 3)
    expect(made.p80Ms / 7_405_069).toBeCloseTo(1, 3)
  })

  it.each([
    [2, 50_000, 1, 244],
    [3, 250_000, 1, 244],
    [7, 50_000, 1, 36],
    [40, 250_000, 1, 244],
    [70, 50_000, 1, 36],
    [2, 250_000, 2, 36],
    [3, 250_000, 2, 36],
    [7, 50_000, 2, 24],
    [40, 250_000, 2, 24],
    [70, 250_000, 2, 36],
    [40, 250_000, 2, 244],
  ] as const)(
    'agrees with simulated jobs of %i spins, a spread of %i ppm, worked by %i, of %i frames, within one in a hundred',
    (count, stepSpreadPpm, people, frames) => {
      // Reference: simulation of the described process with a fixed seed, 100,000 jobs.
      const pace = aPace({
        stepSpreadPpm,
        checkFrames: 6,
        rowChangeMs: 600_000,
        restartPpm: 80_000,
        restartPauseMs: 180_000,
        reshootPpm: 50_000,
        handlingSpreadPpm: 400_000,
        besidePpm: 600_000,
        handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 480_000, followingMs: 300_000 }],
      })
      const kinds = [
        aSpin({ setChangeMs: 2_640_000, rows: [{ frames, overlap: 0 }] }),
        aSpin({
          rows: [
            { frames: frames / 2, overlap: 3 },
            { frames: frames / 4, overlap: 3 },
          ],
          setChangeMs: 2_640_000,
        }),
      ] as const
      const spins = Array.from({ length: count }, (_, i) => kinds[i % 2 === 0 ? 0 : 1])
      const random = seeded(11 + count)
      const times = Float64Array.from({ length: 100_000 }, () =>
        simulated(spins, pace, people, random),
      ).sort()
      const made = jobBenchMs(spins, pace, people)
      expect(Math.abs(made.meanMs / mean([...times]) - 1)).toBeLessThan(0.01)
      expect(Math.abs(made.medianMs / (times[50_000] ?? 0) - 1)).toBeLessThan(0.01)
      expect(Math.abs(made.p80Ms / (times[80_000] ?? 0) - 1)).toBeLessThan(0.01)
    },
    60_000,
  )

  it('counts reshoots as a binomial does, where nothing else happens', () => {
    // Binomial tables, n = 20, p = 0.10: P(X ≤ 1) = 0.3917, P(X ≤ 2) = 0.6769, P(X ≤ 3) = 0.8670 (from memory):
    // the median job has 2 reshoots, and four in five have no more than 3.
    const spins = Array.from({ length: 20 }, () => aSpin({ setChangeMs: 600_000 }))
    const made = jobBenchMs(spins, aPace({ reshootPpm: 100_000 }))
    expect(made.medianMs / (20 * 1_464_000 + 2 * 2_064_000)).toBeCloseTo(1, 2)
    expect(made.p80Ms / (20 * 1_464_000 + 3 * 2_064_000)).toBeCloseTo(1, 2)
    expect(20 * spinBenchMs(aSpin(), aPace({ reshootPpm: 100_000 })).p80Ms).toBeLessThan(made.meanMs)
  })

  it('takes a tenth longer for all its frames on a rig that is a tenth slower', () => {
    // Mathematics: 2 × (480 + 244 × 6 s × 1.1) = 4180.8 s.
    const pace = aPace({
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 480_000, followingMs: 0 }],
    })
    const slow = aSpin({ stepFactor: 1.1 })
    expect(jobBenchMs([slow, slow], pace).medianMs).toBe(4_180_800)
  })

  it('of two people is the critical path, while their work stays the sum', () => {
    // Mathematics: 10 min of handling, 6 of them beside the platter, and 100 frames of 6 s: 14 min on the platter.
    // Three spins: 6 + 3·14 = 48 min at the bench, 3·20 = 60 min of work, 2·6 of it beside.
    const pace = aPace({
      besidePpm: 600_000,
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 600_000, followingMs: 600_000 }],
    })
    const spins = Array.from({ length: 3 }, () => aSpin({ rows: [{ frames: 100, overlap: 0 }] }))
    expect(jobBenchMs(spins, pace, 2)).toEqual({
      meanMs: 2_880_000,
      medianMs: 2_880_000,
      p80Ms: 2_880_000,
    })
    expect(jobBenchMs(spins, pace, 1).meanMs).toBe(3_600_000)
    expect(besideMs(spins, pace)).toBe(720_000)
    expect(runMeansMs(spins, pace, 2)).toEqual([1_200_000, 840_000, 840_000])
    // Ten frames are turned in 1 min: 5 min on the platter, so it waits a minute for each product that follows.
    const short = Array.from({ length: 3 }, () => aSpin({ rows: [{ frames: 10, overlap: 0 }] }))
    expect(jobBenchMs(short, pace, 2).medianMs).toBe((6 + 5 + 1 + 5 + 1 + 5) * 60_000)
    expect(runMeansMs(short, pace, 2)).toEqual([660_000, 360_000, 360_000])
  })

  it('is never longer with a second person, and never shorter than what stays on the platter', () => {
    const minutes = fc.integer({ min: 0, max: 40 })
    const ppm = fc.integer({ min: 0, max: 400_000 })
    fc.assert(
      fc.property(
        fc.array(fc.tuple(minutes, fc.integer({ min: 2, max: 200 })), { minLength: 2, maxLength: 70 }),
        ppm,
        fc.integer({ min: 0, max: 1_000_000 }),
        (work, spread, besidePpm) => {
          const pace = aPace({
            stepSpreadPpm: spread,
            besidePpm,
            handlingSpreadPpm: spread,
            handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 600_000, followingMs: 240_000 }],
          })
          const spins = work.map(([first, frames]) =>
            aSpin({ isFirstOfFamily: first > 20, rows: [{ frames, overlap: 0 }] }),
          )
          const [one, two] = [jobBenchMs(spins, pace, 1), jobBenchMs(spins, pace, 2)]
          expect(two.meanMs).toBeLessThanOrEqual(one.meanMs * 1.0001)
          expect(two.meanMs).toBeGreaterThanOrEqual(0.9999 * (one.meanMs - besideMs(spins, pace)))
          const shares = runMeansMs(spins, pace, 2).reduce((a, b) => a + b, 0)
          expect(Math.abs(shares / two.meanMs - 1)).toBeLessThan(0.002)
        },
      ),
      { numRuns: 40 },
    )
  })

  it('of one spin is that spin, of none is nothing', () => {
    const pace = aPace({ stepSpreadPpm: 200_000, restartPpm: 80_000 })
    expect(jobBenchMs([aSpin()], pace)).toEqual(spinBenchMs(aSpin(), pace))
    expect(jobBenchMs([], pace)).toEqual({ meanMs: 0, medianMs: 0, p80Ms: 0 })
    expect(jobBenchMs([aSpin(), aSpin()], aPace()).p80Ms).toBe(2 * 1_464_000)
  })
})

describe('desk time', () => {
  it('copies by bytes, and works by the frame', () => {
    // Mathematics: 244 frames of 42 MB are 10.248 GB, 170.8 s at 60 MB/s (the V60 speed class of SD cards).
    const pace = aPace({ developFrameMs: 400, pickSpinMs: 300_000, exportFrameMs: 300 })
    const work = {
      spins: 1,
      framesShot: 244,
      framesDeveloped: 244,
      framesExported: 268,
      framesFinished: 24,
      finishFrameMs: 60_000,
    }
    expect(deskMs(work, pace)).toEqual({
      copyMs: 170_800,
      pickMs: 300_000,
      developMs: 97_600,
      exportMs: 80_400,
      finishMs: 1_440_000,
      totalMs: 2_088_800,
    })
  })
})

/** A job as the estimate's description has it, played out: one spin after the other, by one or two people. */
function simulated(
  spins: readonly SpinWork[],
  pace: Pace,
  people: BenchPeople,
  random: () => number,
): number {
  const step = pace.stepMs * Math.exp((pace.stepSpreadPpm / 1e6) * normal(random))
  const played = spins.map((spin) => simulatedSpin(spin, pace, step, random))
  const again = played.reduce((sum, { againMs }) => sum + againMs, 0)
  const share = people === 1 ? 0 : pace.besidePpm / 1e6
  let at = share * (played[0]?.handlingMs ?? 0)
  played.forEach(({ handlingMs, turningMs }, k) => {
    const preparing = share * (played[k + 1]?.handlingMs ?? 0)
    at += Math.max((1 - share) * handlingMs + turningMs, preparing)
  })
  return at + again
}

function simulatedSpin(spin: SpinWork, pace: Pace, step: number, random: () => number) {
  const sigma = pace.handlingSpreadPpm / 1e6
  const meanMs = pace.handling[0]?.firstMs ?? 0
  const handling = () => meanMs * Math.exp(sigma * normal(random) - sigma ** 2 / 2)
  const rows = spin.rows.map((row) => row.frames + row.overlap)
  const shot = rows.reduce((a, b) => a + b, 0)
  const once = (rows.length - 1) * pace.rowChangeMs + (pace.checkFrames + shot) * step
  let lost = 0
  if (random() < pace.restartPpm / 1e6) {
    let at = random() * shot
    for (const frames of rows) {
      if (at < frames) break
      at -= frames
    }
    lost = at * step + pace.restartPauseMs
  }
  const againMs = random() < pace.reshootPpm / 1e6 ? spin.setChangeMs + handling() + once : 0
  return { handlingMs: handling(), turningMs: once + lost, againMs }
}

/** Mulberry32, a small generator of uniform numbers with a fixed seed. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}

/** Box and Muller's transform. */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length
}
