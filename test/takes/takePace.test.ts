import fc from 'fast-check'
import jstat from 'jstat'
import { describe, expect, it } from 'vitest'
import { medianRange, medianRank } from '../../main/trade/medianInterval.ts'
import { takePace } from '../../main/trade/takePace.ts'
import { medianStepMs } from '../../main/trade/takes.ts'
import { atTheBench } from './aSpin.ts'

describe('the interval of a median', () => {
  it.each([
    // From memory, as tables of order statistics print them for 95 %: Conover; Campbell and Gardner 1988.
    [6, 1],
    [8, 1],
    [9, 2],
    [10, 2],
    [15, 4],
    [20, 6],
    [30, 10],
    [50, 18],
    [100, 40],
  ])('of %i values runs from the %i. smallest', (n, k) => {
    expect(medianRank(n)).toBe(k)
  })

  it('holds the true median 95 times in 100, and one narrower would not: by another library’s binomial', () => {
    for (let n = 6; n <= 400; n += 1) {
      const k = medianRank(n)
      // Outside stand the true medians with fewer than k values on one side.
      expect(2 * jstat.binomial.cdf(k - 1, n, 0.5)).toBeLessThanOrEqual(0.05 + 1e-9)
      expect(2 * jstat.binomial.cdf(k, n, 0.5)).toBeGreaterThan(0.05 - 1e-9)
    }
  })

  it('is not claimed for fewer than six, and holds the median', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 60_000 }), { minLength: 1, maxLength: 60 }),
        (sample) => {
          const seen = medianRange(sample)
          expect(seen?.count).toBe(sample.length)
          expect(seen?.range === null).toBe(sample.length < 6)
          if (!seen?.range) return
          expect(seen.range.low).toBeLessThanOrEqual(seen.median)
          expect(seen.range.high).toBeGreaterThanOrEqual(seen.median)
        },
      ),
    )
    expect(medianRange([])).toBeNull()
  })
})

const frame = (offsetMs: number, mark: number, isVoid = false) => ({ offsetMs, mark, isVoid, file: null })

describe('the pace over a take', () => {
  it('counts every timed step once, in the stretch of its mark', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 300 }),
        fc.integer({ min: 0, max: 20 }),
        fc.array(fc.integer({ min: 100, max: 20_000 }), { minLength: 330, maxLength: 330 }),
        (framesPerTurn, overlapFrames, gaps) => {
          let at = 0
          const frames = Array.from({ length: framesPerTurn + overlapFrames }, (_, mark) => {
            at += gaps[mark] ?? 0
            return frame(at, mark)
          })
          const { stretches } = takePace({ framesPerTurn, overlapFrames, frames, pauses: [], faults: [] })
          expect(stretches.reduce((sum, { step }) => sum + (step?.count ?? 0), 0)).toBe(frames.length - 1)
          expect(stretches[0]?.fromMark).toBe(0)
          expect(stretches.at(-1)?.toMark).toBe(framesPerTurn + overlapFrames)
          for (const [k, { fromMark }] of stretches.entries()) {
            if (k > 0) expect(fromMark).toBe(stretches[k - 1]?.toMark)
          }
        },
      ),
    )
  })

  it('shows where the hands grew slow, where they paused, and where it was bumped', () => {
    // By hand: 24 marks, 5 s a step on the first half and 8 s on the second; a pause of a minute after mark 11.
    let at = 0
    const frames = Array.from({ length: 24 }, (_, mark) => {
      at += mark < 12 ? 5000 : 8000
      if (mark === 12) at += 60_000
      return frame(at, mark)
    })
    const pauseAt = frames[11]?.offsetMs ?? 0
    const pace = takePace({
      framesPerTurn: 24,
      overlapFrames: 0,
      frames,
      pauses: [{ fromMs: pauseAt + 1000, toMs: pauseAt + 61_000, reason: 'the phone' }],
      faults: [
        { frame: 18, kind: 'bump', note: null },
        { frame: null, kind: 'dust', note: null },
      ],
    })
    expect(pace.stretches.map(({ step }) => step?.median)).toEqual([
      ...Array(6).fill(5000),
      ...Array(6).fill(8000),
    ])
    expect(pace.pauses).toEqual([{ mark: 11, ms: 60_000, reason: 'the phone' }])
    expect(pace.faults).toEqual([{ mark: 17, kind: 'bump', note: null }])
    expect(pace.faultsOfAll).toEqual(['dust'])
    // Eleven steps of 5 s, eleven of 8 s: the one over the pause is none.
    expect(medianStepMs(frames, [{ fromMs: pauseAt + 1000, toMs: pauseAt + 61_000 }])).toBe(6500)
  })

  it('of a take that was turned here is told from its kept frames, and of one counted by files nothing is', async () => {
    const { api, keep, shootIds, stand } = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    const takeId = await keep(0)
    const pace = await api.takes.pace({ takeId })
    expect(pace.stretches.map(({ step }) => step?.median)).toEqual([undefined, ...Array(8).fill(6000)])
    const counted = await api.takes.count({
      shootId: Number(shootIds[1]),
      ...stand,
      framesShot: 10,
      startedAt: '2026-03-02T07:00:00.000Z',
      endedAt: '2026-03-02T07:01:00.000Z',
      overruleReason: null,
    } as never)
    const other = await api.takes.pace({ takeId: (counted as { takeId: number }).takeId })
    expect(other.stretches.every(({ step }) => step === null)).toBe(true)
    await expect(api.takes.pace({ takeId: 999 })).rejects.toThrow('not in the studio')
  })
})
