import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import wilsonLow from 'wilson-score'
import { type TaughtTake, takeLessons } from '../../main/trade/takeLessons.ts'
import { scansDuring } from '../jobs/plans.ts'
import { atTheBench } from '../takes/aSpin.ts'

const midnightMs = Date.UTC(2026, 2, 2)

/** A take begun at a clock time of 2 March, in a studio that keeps UTC; name only what the test is about. */
function taught(clock: string, of: Partial<TaughtTake> & { minutes?: number } = {}): TaughtTake {
  const { minutes = 20, ...rest } = of
  const [hours = 0, past = 0] = clock.split(':').map(Number)
  const localMinute = hours * 60 + past
  const startedMs = midnightMs + localMinute * 60_000
  return {
    rigId: 1,
    personId: 1,
    startedMs,
    endedMs: startedMs + minutes * 60_000,
    localDay: '2026-03-02',
    localMinute,
    stepMs: 6000,
    faults: [],
    verdict: 'keep',
    ...rest,
  }
}

describe('what takes teach', () => {
  it('counts each take once by hour, part of the day, rig and person', () => {
    const takes = fc.array(
      fc.record({
        minute: fc.integer({ min: 0, max: 1439 }),
        rigId: fc.integer({ min: 1, max: 4 }),
        personId: fc.integer({ min: 1, max: 3 }),
        faults: fc.array(fc.constantFrom('bump' as const, 'dust' as const), { maxLength: 3 }),
        verdict: fc.constantFrom('keep' as const, 'reject' as const, null),
      }),
    )
    fc.assert(
      fc.property(takes, (drawn) => {
        const lessons = takeLessons(
          drawn.map(({ minute, ...of }) => taught(`${Math.floor(minute / 60)}:${minute % 60}`, of)),
        )
        for (const by of [lessons.hours, lessons.dayParts, lessons.rigs, lessons.people]) {
          expect(by.reduce((sum, { takes: count }) => sum + count, 0)).toBe(drawn.length)
          expect(by.reduce((sum, { faulty }) => sum + faulty.hits, 0)).toBe(
            drawn.filter(({ faults }) => faults.length > 0).length,
          )
          expect(by.reduce((sum, { rejected }) => sum + rejected.of, 0)).toBe(
            drawn.filter(({ verdict }) => verdict !== null).length,
          )
        }
      }),
    )
  })

  it('does not let three takes look like a law', () => {
    const { rigs } = takeLessons([
      taught('9:00', { faults: ['bump', 'bump', 'dust'], verdict: 'reject' }),
      taught('10:00'),
      taught('11:00'),
    ])
    const [rig] = rigs
    expect(rig?.step).toMatchObject({ median: 6000, count: 3, range: null })
    expect(rig?.faulty).toMatchObject({ hits: 1, of: 3 })
    // The lower bound by another library.
    expect(rig?.faulty.range.low).toBeCloseTo(wilsonLow(1, 3, 1.959963984540054), 4)
    expect((rig?.faulty.range.high ?? 0) - (rig?.faulty.range.low ?? 0)).toBeGreaterThan(0.6)
    expect(rig?.kinds).toEqual([
      { kind: 'bump', takes: 1 },
      { kind: 'dust', takes: 1 },
    ])
  })

  it('tells the first hour and the hour after lunch by each person’s own day', () => {
    const day = [
      taught('9:00'),
      taught('9:50'),
      taught('10:30'),
      // Back from lunch: the break began at 12:00, for 45 minutes.
      taught('11:40'),
      taught('12:45'),
      taught('13:40'),
      taught('14:30'),
      // Another person begins at noon.
      taught('12:10', { personId: 2 }),
      // A short break is no lunch.
      taught('12:50', { personId: 2 }),
    ]
    const counts = takeLessons(day).dayParts.map(({ part, takes }) => [part, takes])
    expect(counts).toEqual([
      ['first hour', 4],
      ['after lunch', 2],
      ['other hours', 3],
    ])
  })
})

describe('the lessons of a studio', () => {
  it('are read from its takes, by the hour of its own clock, and follow a fault and a verdict', async () => {
    const { api, keep, start, shoot, act } = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    await keep(0)
    const before = await api.figures.lessons()
    // 08:01 UTC is 09:01 in Berlin in winter.
    expect(before.hours.map(({ hour, takes }) => [hour, takes])).toEqual([[9, 1]])
    expect(before.people).toMatchObject([{ name: 'Mara Quist', takes: 1, faulty: { hits: 0, of: 1 } }])
    const takeId = await start(1)
    await shoot(takeId, 4)
    await act(takeId, { kind: 'end' })
    await api.takes.fault({ takeId, frame: 2, kind: 'bump', note: null })
    await api.takes.judge({ takeId, verdict: 'reject', reason: 'bumped' })
    const after = await api.figures.lessons()
    expect(after.rigs).toMatchObject([
      {
        takes: 2,
        faulty: { hits: 1, of: 2 },
        rejected: { hits: 1, of: 2 },
        kinds: [{ kind: 'bump', takes: 1 }],
      },
    ])
  })

  it('read no more than the newest takes', async () => {
    const { api, studio, keep } = await atTheBench()
    const takeId = await keep()
    const scans = await scansDuring(studio.db, async () => {
      await api.figures.lessons()
      await api.takes.pace({ takeId })
    })
    // Names alone: a studio has few rigs and people.
    expect(scans.filter((scan) => !/^SCAN (rig|person)\b/u.test(scan))).toEqual([])
  })
})
