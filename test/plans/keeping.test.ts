import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findCalendarFeed } from '../../db/calendarFeed.ts'
import { openCalendar } from '../../main/api/calendar.ts'
import { type Entry, readBack } from '../icalendar/readBack.ts'
import { aRig } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aWaitingJob, planOf } from './waiting.ts'

const days = ['2026-03-03', '2026-03-04', '2026-03-05', '2026-03-06', '2026-03-09'] as const

/** What a calendar program reads of the blocks. */
async function calendarOf({ db, house, writing, api }: TestStudio): Promise<readonly Entry[]> {
  if (!findCalendarFeed(db)) await api.calendar.open({ withNames: true })
  if (!house.studio) throw new Error('No studio is open.')
  return readBack(
    openCalendar({ db, now: () => new Date(writing.now) }, findCalendarFeed(db)?.secret ?? '') ?? '',
  )
}

/** A studio of two rigs with a morning's block booked on each of some days, as long and with such a set change as is said. */
async function aBookedWeek(
  blocks: readonly {
    readonly rig: 0 | 1
    readonly spins: number
    readonly setChange: number
    readonly slack: number
  }[],
) {
  const studio = aStudio()
  const rigs = [await aRig(studio, 'One'), await aRig(studio, 'Two')]
  for (const [at, { rig, spins, setChange, slack }] of blocks.entries()) {
    const job = await aWaitingJob(
      studio,
      Array.from({ length: spins }, () => 20.4),
    )
    const { rigRevisionId } = rigs[rig] as (typeof rigs)[0]
    await studio.api.rigs.plan({ shootIds: job.shootIds, rigRevisionId })
    studio.db.prepare('UPDATE shoot SET estimate_ms = ? WHERE job_id = ?').run(20.4 * 60_000, job.jobId)
    await studio.api.bookings.add({
      blocks: [
        {
          benchId: 1,
          day: days[at] ?? '',
          fromMinute: 540,
          // As a person books it: the spins' minutes added up, then rounded.
          toMinute: 540 + setChange + Math.ceil(spins * 20.4) + slack,
          setChangeMinutes: setChange,
          shootIds: job.shootIds,
        },
      ],
    })
  }
  return { studio, rigs }
}

const block = fc.record({
  rig: fc.constantFrom<0 | 1>(0, 1),
  spins: fc.integer({ min: 1, max: 3 }),
  setChange: fc.constantFrom(0, 5, 25, 60),
  slack: fc.integer({ min: 0, max: 30 }),
})

describe('a plan that keeps places', () => {
  it('leaves a booked week as it is, whatever set changes and lengths a person chose, and calendars hear nothing', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(block, { minLength: 1, maxLength: 5 }), async (blocks) => {
        const { studio } = await aBookedWeek(blocks)
        const before = await calendarOf(studio)
        const plan = await planOf(studio, { shootIds: [], replan: true, keepsPlaces: true })
        expect(plan.moves).toEqual([])
        await studio.api.plans.accept({ planId: plan.planId })
        expect(await calendarOf(studio)).toEqual(before)
      }),
      { numRuns: 12 },
    )
  })

  it('tells calendars of those blocks alone that an urgent job pushes away', async () => {
    const { studio, rigs } = await aBookedWeek([
      { rig: 0, spins: 3, setChange: 25, slack: 0 },
      { rig: 1, spins: 2, setChange: 25, slack: 0 },
    ])
    const before = await calendarOf(studio)
    // It takes Monday and Tuesday, where the first block lies; the second, on Wednesday, is in nobody's way.
    const urgent = await aWaitingJob(studio, [170, 170, 170], '2026-03-03')
    // On the rig that stands before the second block either way.
    await studio.api.rigs.plan({ shootIds: urgent.shootIds, rigRevisionId: rigs[0]?.rigRevisionId ?? 0 })
    studio.db.prepare('UPDATE shoot SET estimate_ms = ? WHERE job_id = ?').run(170 * 60_000, urgent.jobId)
    const plan = await planOf(studio, { shootIds: urgent.shootIds, replan: true, keepsPlaces: true })
    const pushed = new Set(plan.moves.map(({ jobNumber }) => jobNumber))
    expect([...pushed]).toEqual(['J-2026-001'])
    await studio.api.plans.accept({ planId: plan.planId })
    const after = new Map((await calendarOf(studio)).map((entry) => [entry.uid, entry]))
    for (const entry of before) {
      const isPushed = entry.summary.includes('J-2026-001')
      expect(after.get(entry.uid)?.sequence, entry.summary).toBe(isPushed ? 1 : 0)
      if (!isPushed) expect(after.get(entry.uid)).toEqual(entry)
    }
  })
})
