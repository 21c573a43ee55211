import { describe, expect, it } from 'vitest'
import { BackTest } from '../../main/trade/backTest.ts'
import type { TakeFact } from '../../main/trade/takeFact.ts'
import { aPace } from '../estimate/aPace.ts'
import { aFact, minute, morning, spinsInARow } from './aFact.ts'

function tested(takes: readonly TakeFact[], setting = aPace()) {
  const test = new BackTest(setting)
  for (const take of takes) test.see(take)
  return test.figures()
}

describe('the back-test', () => {
  it('measures how far the flat setting was off, by the definitions of bias and mean absolute error', () => {
    // Two spins of 100 frames at 5 s and 8 s, quoted at 6 s: +100 s and −200 s. Mean −50 s, mean of the absolute
    // 150 s; really 650 s on average, so −1/13 and 3/13 (mathematics).
    const figures = tested([
      aFact({ medianStepMs: 5000 }),
      aFact({ jobId: 2, shootId: 2, benchId: 2, medianStepMs: 8000 }),
    ])
    expect(figures).toMatchObject({ spins: 2, withHandling: 0, realMs: 650_000 })
    expect(figures?.flat.biasMs).toBeCloseTo(-50_000, 6)
    expect(figures?.flat.absoluteMs).toBeCloseTo(150_000, 6)
    expect(figures?.flat.biasShare).toBeCloseTo(-1 / 13, 12)
    expect(figures?.flat.absoluteShare).toBeCloseTo(3 / 13, 12)
  })

  it('quotes a job by nothing that was learned from itself or later', () => {
    const first = spinsInARow(20, minute, { medianStepMs: 9000 })
    const figures = tested(first)
    expect(figures?.learned.biasMs).toBeCloseTo(figures?.flat.biasMs ?? 0, 9)
    const later = tested([...first, aFact({ jobId: 2, shootId: 99, benchId: 2, medianStepMs: 9000 })])
    expect(Math.abs(later?.learned.biasMs ?? 0)).toBeLessThan(Math.abs(later?.flat.biasMs ?? 0))
  })

  it('counts handling and check frames only where the gap before shows them', () => {
    // The second spin: 5 min of gap and 600 s of turning, quoted at 8 min, 10 check frames of 6 s and 600 s.
    const setting = aPace({
      checkFrames: 10,
      handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 8 * minute, followingMs: 8 * minute }],
    })
    const figures = tested(spinsInARow(2, 5 * minute), setting)
    expect(figures?.withHandling).toBe(1)
    expect(figures?.realMs).toBeCloseTo((600_000 + 900_000) / 2, 6)
    expect(figures?.flat.biasMs).toBeCloseTo((4 * minute) / 2, 6)
  })

  it('leaves out spins that were never turned to the end, and counts every try of those that were', () => {
    expect(tested([aFact({ verdict: 'reject' })])).toBeUndefined()
    expect(tested([aFact({ rows: 2 })])).toBeUndefined()
    const tries = tested([
      aFact({ verdict: 'reject', framesShot: 50 }),
      aFact({ startedMs: morning + 20 * minute }),
    ])
    // The pause between them, 10 min to 20 min, is far over the setting of nothing: a break. One of 3 min counts.
    expect(tries?.realMs).toBe(900_000)
    const paused = tested(
      [
        aFact({ verdict: 'reject', framesShot: 50, endedMs: morning + 5 * minute }),
        aFact({ startedMs: morning + 8 * minute }),
      ],
      aPace({ restartPauseMs: 3 * minute }),
    )
    expect(paused?.realMs).toBe(900_000 + 3 * minute)
  })

  it('counts a reshoot we caused and not one by the client’s own wish', () => {
    const later = { startedMs: morning + 72 * 60 * minute }
    expect(tested([aFact(), aFact({ ...later, reshoots: 1 })])?.realMs).toBe(1_200_000)
    expect(tested([aFact(), aFact(later)])?.realMs).toBe(600_000)
  })
})
