import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BetweenTakes, benchHours, type WorkedTake } from '../../main/trade/benchHours.ts'

const minute = 60_000

/** Invented times of a studio. */
const times: BetweenTakes = {
  handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 20 * minute, followingMs: 8 * minute }],
  rowChangeMs: 5 * minute,
  restartPauseMs: 3 * minute,
  setMs: 45 * minute,
}

function aTake(of: Partial<WorkedTake> = {}): WorkedTake {
  return {
    personId: 1,
    shootId: 1,
    row: 1,
    rigRevisionId: 1,
    startedMs: 100 * minute,
    endedMs: 120 * minute,
    pausedMs: 0,
    sizeClass: 'small',
    finish: 'matt',
    familyId: 7,
    before: null,
    ...of,
  }
}

const before = { shootId: 9, row: 1, rigRevisionId: 1, endedMs: 90 * minute }

describe('the hours of people at the bench', () => {
  it('are the take without its pauses and the preparing before it', () => {
    expect(benchHours([aTake({ pausedMs: 4 * minute, before })], times)).toEqual([
      { personId: 1, turnedMs: 16 * minute, preparedMs: 10 * minute },
    ])
  })

  it('count a night as the studio’s own times', () => {
    const yesterday = { ...before, endedMs: -900 * minute }
    const prepared = (take: WorkedTake, others: readonly WorkedTake[] = []) =>
      benchHours([...others, take], times).at(-1)?.preparedMs
    expect(prepared(aTake({ before: yesterday }))).toBe(20 * minute)
    // Another rig stood there, or none: the set is built first.
    expect(prepared(aTake({ before: { ...yesterday, rigRevisionId: 2 } }))).toBe(65 * minute)
    expect(prepared(aTake())).toBe(65 * minute)
    // The same spin goes on: its next row, or the same one again.
    expect(prepared(aTake({ row: 2, before: { ...yesterday, shootId: 1 } }))).toBe(5 * minute)
    expect(prepared(aTake({ before: { ...yesterday, shootId: 1 } }))).toBe(3 * minute)
    // The second of a family follows the first.
    expect(prepared(aTake({ personId: 2, shootId: 2, before: yesterday }), [aTake()])).toBe(8 * minute)
  })

  it('never count a minute of a bench twice, nor more than the wall clock where nobody breaks off', () => {
    const aGap = fc.integer({ min: 0, max: 12 * minute })
    const aTurn = fc.record({
      gapMs: aGap,
      turnMs: fc.integer({ min: 1, max: 40 * minute }),
      person: fc.nat(2),
    })
    fc.assert(
      fc.property(fc.array(aTurn, { minLength: 1, maxLength: 12 }), (turns) => {
        let endedMs = 0
        const takes = turns.map(({ gapMs, turnMs, person }, index): WorkedTake => {
          const last = { ...before, shootId: index - 1, endedMs }
          const startedMs = endedMs + gapMs
          endedMs = startedMs + turnMs
          return aTake({ personId: person, shootId: index, startedMs, endedMs, before: last })
        })
        const all = benchHours(takes, times).reduce((sum, own) => sum + own.turnedMs + own.preparedMs, 0)
        // Every gap is under four times the handling, so all of it is work and nothing else is.
        expect(all).toBe(endedMs)
      }),
    )
  })
})
