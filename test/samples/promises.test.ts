import { addBusinessDays } from 'date-fns'
import fc from 'fast-check'
import { DateTime } from 'luxon'
import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { standingOf } from '../../db/standing.ts'
import { addDays, mondayToFriday } from '../../main/trade/calendar.ts'
import { freedMinutes, whatFits } from '../../main/trade/freedTime.ts'
import { isBeforeGoods, lateSamples, promisedDay, promiseMovedText } from '../../main/trade/promise.ts'
import { aJob } from '../jobs/aJob.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio } from '../studio.ts'

const anyDay = fc
  .date({ min: new Date('2020-01-01'), max: new Date('2060-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10))
const aSample = fc.record({
  code: fc.constant('KN-01'),
  arrivedDay: fc.option(anyDay),
  expectedDay: fc.option(anyDay),
})

describe('a promise in working days', () => {
  it('falls so many working days after the latest day of its samples, by date-fns and by luxon over closures', () => {
    fc.assert(
      fc.property(
        fc.array(aSample, { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 1, max: 60 }),
        fc.array(fc.integer({ min: 1, max: 80 }), { maxLength: 10 }),
        (samples, count, closedIn) => {
          const days = samples.map(({ arrivedDay, expectedDay }) => arrivedDay ?? expectedDay)
          const known = promisedDay(samples, count, mondayToFriday())
          if (days.includes(null)) {
            expect(known).toBeNull()
            return
          }
          const last = days.toSorted().at(-1) as string
          expect(known?.isExpected).toBe(samples.some(({ arrivedDay }) => arrivedDay === null))
          // date-fns reckons in the machine's zone, so the day is handed over and read back in it.
          const [year = 0, month = 1, date = 1] = last.split('-').map(Number)
          const there = addBusinessDays(new Date(year, month - 1, date, 12), count)
          expect(known?.day).toBe(
            `${there.getFullYear()}-${String(there.getMonth() + 1).padStart(2, '0')}-${String(there.getDate()).padStart(2, '0')}`,
          )
          const closed = new Set(closedIn.map((days) => addDays(last, days)))
          let at = DateTime.fromISO(last, { zone: 'utc' })
          for (let left = count; left > 0; ) {
            at = at.plus({ days: 1 })
            if (at.weekday <= 5 && !closed.has(at.toISODate() ?? '')) left -= 1
          }
          expect(promisedDay(samples, count, mondayToFriday(closed))?.day).toBe(at.toISODate())
        },
      ),
    )
  })

  it('moves from its expected day to its due day as samples come, and says so; the job shows it at once', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds, number } = await aJob(studio, { job: { promiseWorkingDays: 3 } })
    const [first = 0, second = 0] = sampleIds
    const due = async () => [
      (await api.samples.promise({ jobId })).promised,
      (await api.jobs.one({ jobId })).standing.dueDay,
    ]
    expect(await due()).toEqual([null, null])
    const agreed = await api.samples.agree({ sampleIds: [...sampleIds], expectedDay: '2026-03-06' })
    // Friday 6 March 2026 + 3 working days, Monday to Friday: Wednesday 11 March (calendar).
    const expected = { day: '2026-03-11', isExpected: true }
    expect(agreed.promises).toEqual([{ number, before: null, after: expected }])
    expect(await due()).toEqual([expected, null])
    await api.samples.move({ sampleIds: [first], move: 'arrive' })
    const later = await api.samples.agree({ sampleIds: [second], expectedDay: '2026-03-11' })
    expect(later.promises[0]?.after).toEqual({ day: '2026-03-16', isExpected: true })
    studio.setNow('2026-03-09T10:00:00.000Z')
    const { promises } = await api.samples.move({ sampleIds: [second], move: 'arrive' })
    // Monday 9 March + 3: Thursday 12 March.
    expect(await due()).toEqual([{ day: '2026-03-12', isExpected: false }, '2026-03-12'])
    expect(promiseMovedText(promises[0] as never, (day) => day)).toBe(
      `${number}: due moved from 2026-03-16 to 2026-03-12.`,
    )
    const told = (await api.jobs.history({ jobId } as never)) as unknown
    expect(JSON.stringify(told)).toContain('due day moved')
  })

  it('moves when a sample stops being needed, and with the studio’s closed days', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, sampleIds, shootIds } = await aJob(studio, { job: { promiseWorkingDays: 2 } })
    await api.samples.move({ sampleIds: sampleIds.slice(0, 1), move: 'arrive' })
    const { promises } = await api.samples.goWithout({
      shootIds: shootIds.slice(1),
      reason: 'a drawing will do',
    })
    // Monday 2 March 2026 and two working days: Wednesday 4 March.
    expect(promises).toMatchObject([{ before: null, after: { day: '2026-03-04', isExpected: false } }])
    const due = async () => (await api.jobs.one({ jobId })).standing.dueDay
    const { closureId } = await api.benches.addClosure({
      benchId: null,
      fromDay: '2026-03-03',
      toDay: '2026-03-04',
      reason: 'a new floor',
    })
    expect(await due()).toBe('2026-03-06')
    expect(standingOf(db, jobId as Id<'job'>)[4]).toBe('2026-03-06')
    await api.benches.removeClosure({ closureId })
    expect(await due()).toBe('2026-03-04')
  })

  it('tells a sample that is late, from the day after it was expected until it is in', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio, { job: { promiseWorkingDays: 2 } })
    await api.samples.agree({ sampleIds: sampleIds.slice(0, 1), expectedDay: '2026-03-03' })
    const late = async () => (await api.samples.promise({ jobId })).late
    studio.setNow('2026-03-03T20:00:00.000Z')
    expect(await late()).toEqual([])
    studio.setNow('2026-03-05T08:00:00.000Z')
    expect(await late()).toEqual([{ code: 'KN-01', expectedDay: '2026-03-03', daysLate: 2 }])
    await api.samples.move({ sampleIds: sampleIds.slice(0, 1), move: 'arrive' })
    expect(await late()).toEqual([])
    expect(lateSamples([], '2026-03-05')).toEqual([])
  })
})

describe('blocks before their goods', () => {
  it('are those with a sample that is due in on their day or later, is late, or has no day', () => {
    const at = (expectedDay: string | null) => isBeforeGoods('2026-03-05', [{ expectedDay }], '2026-03-02')
    expect(['2026-03-03', '2026-03-04', '2026-03-05', '2026-03-06', '2026-03-01', null].map(at)).toEqual([
      false,
      false,
      true,
      true,
      true,
      true,
    ])
    expect(isBeforeGoods('2026-03-05', [], '2026-03-02')).toBe(false)
  })

  it('are listed with what they free and what could use it; freed, their spins wait again', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const rig = await aRig(studio, 'One')
    const job = await aStoredJob(studio, [
      { name: 'a', estimateMs: 3_600_000 },
      { name: 'b', estimateMs: 3_600_000, sample: 'expected' },
    ])
    const other = await aStoredJob(
      studio,
      [
        { name: 'c', estimateMs: 1_800_000 },
        { name: 'd', estimateMs: 1_800_000 },
      ],
      {
        number: 'J-2026-002',
      },
    )
    await aStoredJob(studio, [{ name: 'long', estimateMs: 7_200_000 }], { number: 'J-2026-003' })
    await aStoredJob(studio, [{ name: 'out', estimateMs: 60_000, sample: 'expected' }], {
      number: 'J-2026-004',
    })
    db.prepare(`UPDATE sample SET expected_day = '2026-03-06' WHERE state = 'expected'`).run()
    db.prepare('UPDATE shoot SET rig_revision_id = ? WHERE name IN (?, ?)').run(rig.rigRevisionId, 'a', 'b')
    await api.bookings.add({
      blocks: [
        {
          benchId: 1,
          day: '2026-03-04',
          fromMinute: 540,
          toMinute: 660,
          shootIds: job.shootIds as never,
          overruledReason: 'they may come sooner',
        },
      ],
    })
    const [block] = await api.samples.freed({})
    expect(block).toMatchObject({
      day: '2026-03-04',
      spins: [{ name: 'b', codes: ['J-2026-001-b'] }],
      staying: 1,
      freedMin: 60,
    })
    // An hour takes both of c and d (no rig is planned: no set change), but not the one of two hours.
    expect(block?.fitting.map(({ jobId, fits }) => [jobId, fits])).toEqual([[other.jobId, 2]])
    const { before } = await api.samples.promise({ jobId: job.jobId })
    expect(before).toHaveLength(1)
    expect(await api.samples.freeBlocks({ bookingIds: [block?.bookingId as never] })).toEqual({
      shootIds: [job.shootIds[1]],
    })
    expect((await api.samples.promise({ jobId: job.jobId })).before).toEqual([])
    expect((await api.bookings.ofJob({ jobId: job.jobId }))[0]?.spins.map(({ name }) => name)).toEqual(['a'])
    expect((await api.benches.waiting({ jobId: job.jobId })).groups).toMatchObject([{ spins: 1 }])
    // Its other spin's goods are in, so nothing more leaves it.
    expect(await api.samples.freeBlocks({ bookingIds: [block?.bookingId as never] })).toEqual({
      shootIds: [],
    })
  })

  it('never free more than they have, and all of it where none stays', () => {
    expect([freedMinutes(120, 60, 1), freedMinutes(120, 200, 1), freedMinutes(120, 60, 0)]).toEqual([
      60, 120, 120,
    ])
  })

  it('take whole spins only, as many as fit after the set change', () => {
    const work = fc.record({
      spins: fc.integer({ min: 1, max: 40 }),
      spinMin: fc.integer({ min: 1, max: 90 }),
      changeMin: fc.integer({ min: 0, max: 60 }),
      dueDay: fc.option(anyDay),
    })
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600 }), fc.array(work), (minutes, waiting) => {
        const fitting = whatFits({ minutes }, waiting)
        for (const { fits, spins, spinMin, changeMin } of fitting) {
          expect(changeMin + fits * spinMin).toBeLessThanOrEqual(minutes)
          if (fits < spins) expect(changeMin + (fits + 1) * spinMin).toBeGreaterThan(minutes)
        }
        const left = waiting.filter(
          (one) => !fitting.some((fit) => fit.spinMin === one.spinMin && fit.changeMin === one.changeMin),
        )
        for (const { spinMin, changeMin } of left) expect(changeMin + spinMin).toBeGreaterThan(minutes)
      }),
    )
  })

  it('are found by indexes alone', async () => {
    const studio = aStudio()
    const { jobId } = await aStoredJob(studio, [{ name: 'a' }, { name: 'b', sample: 'expected' }])
    await studio.api.bookings.add({
      blocks: [
        {
          benchId: 1,
          day: '2026-03-04',
          fromMinute: 540,
          toMinute: 660,
          shootIds: (await studio.api.benches.waiting({ jobId })).groups.flatMap(({ shootIds }) => shootIds),
          overruledReason: 'they may come sooner',
        },
      ],
    })
    expect(
      await scansDuring(studio.db, async () => {
        await studio.api.samples.promise({ jobId })
        await studio.api.samples.freed({})
      }),
    ).toEqual([])
  })
})
