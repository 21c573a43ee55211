import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  beatAt,
  cycleMs,
  isMissed,
  longestCueMs,
  nextBeat,
  type Rhythm,
  rhythmOfStep,
  shortestCueMs,
} from '../../main/trade/pacing.ts'

const cueMs = fc.integer({ min: shortestCueMs, max: longestCueMs })
const rhythm: fc.Arbitrary<Rhythm> = fc.record({ moveMs: cueMs, waitMs: cueMs, shootMs: cueMs })
const elapsed = fc.integer({ min: 0, max: 24 * 3_600_000 })

describe('the paced beat', () => {
  it('says move, wait, shoot at 0, 3 and 4.8 s of a step of 6 s', () => {
    const six = rhythmOfStep(6000)
    expect(six).toEqual({ moveMs: 3000, waitMs: 1800, shootMs: 1200 })
    expect([0, 2999, 3000, 4799, 4800, 5999, 6000].map((ms) => beatAt(six, ms).cue)).toEqual([
      'move',
      'move',
      'wait',
      'wait',
      'shoot',
      'shoot',
      'move',
    ])
  })

  it('lasts one step, whatever the pace', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 2 * longestCueMs }), (stepMs) => {
        expect(cycleMs(rhythmOfStep(stepMs))).toBe(stepMs)
      }),
    )
  })

  it('gives every step a rhythm that it accepts itself', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e7, noNaN: true }), (stepMs) => {
        expect(() => cycleMs(rhythmOfStep(stepMs))).not.toThrow()
      }),
    )
  })

  it('holds every instant in exactly one cue, and the cues meet without gap', () => {
    fc.assert(
      fc.property(rhythm, elapsed, (beats, ms) => {
        const beat = beatAt(beats, ms)
        expect(beat.atMs).toBeLessThanOrEqual(ms)
        expect(beat.untilMs).toBeGreaterThan(ms)
        const next = nextBeat(beats, beat)
        expect(next.atMs).toBe(beat.untilMs)
        expect(`${beat.cue} ${next.cue}`).toMatch(/^(move wait|wait shoot|shoot move)$/u)
      }),
    )
  })

  it('never drifts: the n-th shoot falls where the clock puts it, however late the timers came', () => {
    fc.assert(
      fc.property(
        rhythm,
        fc.array(fc.integer({ min: 0, max: shortestCueMs - 1 }), { minLength: 30, maxLength: 90 }),
        (beats, lateBy) => {
          let beat = beatAt(beats, 0)
          const shoots: number[] = []
          for (const late of lateBy) {
            // A timer set for the cue's end fires late; the next cue is taken from the clock all the same.
            beat = beatAt(beats, beat.untilMs + late)
            if (beat.cue === 'shoot') shoots.push(beat.atMs)
          }
          shoots.forEach((atMs, index) => {
            expect(atMs).toBe(index * cycleMs(beats) + beats.moveMs + beats.waitMs)
          })
        },
      ),
    )
  })

  it('tells a cue that was slept through from one that came a little late', () => {
    const six = rhythmOfStep(6000)
    const shoot = beatAt(six, 4800)
    expect(isMissed(shoot, 4950)).toBe(false)
    expect(isMissed(shoot, 6000)).toBe(true)
  })

  it.each([0, -1, 199, 60_001, 1.5, Number.NaN])('refuses a cue of %s ms and says which', (ms) => {
    expect(() => cycleMs({ moveMs: 1000, waitMs: ms, shootMs: 1000 })).toThrow('‘wait’ lasts')
  })
})
