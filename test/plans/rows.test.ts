import { describe, expect, it } from 'vitest'
import { aStudio, type TestStudio } from '../studio.ts'
import { aWaitingJob, planOf } from './waiting.ts'

/** A job with one spin of two rows: 186 min for the first, 154 for the second; the bench closes at noon. */
async function aLongSpin(studio: TestStudio) {
  const job = await aWaitingJob(studio, [340])
  const [shootId] = job.shootIds
  studio.db.prepare('DELETE FROM shoot_row WHERE shoot_id = ?').run(shootId)
  const row = studio.db.prepare(
    'INSERT INTO shoot_row (shoot_id, row, frames_per_turn, overlap_frames) VALUES (?, ?, 1440, 0)',
  )
  row.run(shootId, 1)
  row.run(shootId, 2)
  // What begins this very minute counts as begun: the first thing of the morning is another.
  await studio.api.bookings.add({
    blocks: [
      { benchId: 1, kind: 'other', title: 'cleaning', day: '2026-03-02', fromMinute: 540, toMinute: 550 },
    ],
  })
  return job
}

function letBreak(studio: TestStudio, shootId: number | undefined) {
  studio.db.prepare('UPDATE shoot SET breaks_between_rows = 1 WHERE id = ?').run(shootId)
}

describe('a spin of several rows', () => {
  it('is never broken unless it is said to be so', async () => {
    const studio = aStudio()
    const job = await aLongSpin(studio)
    const whole = await planOf(studio, { shootIds: job.shootIds })
    expect(whole.blocks).toEqual([])
    expect(whole.tooLong).toEqual(['piece 1'])
  })

  it('lies in a block a row where it may break, and is booked, kept and moved whole', async () => {
    const studio = aStudio()
    const job = await aLongSpin(studio)
    letBreak(studio, job.shootIds[0])
    const plan = await planOf(studio, { shootIds: job.shootIds })
    expect(plan.blocks.map(({ day, fromMinute, toMinute }) => [day, toMinute - fromMinute])).toEqual([
      ['2026-03-02', 186],
      ['2026-03-02', 154],
    ])
    await studio.api.plans.accept({ planId: plan.planId })
    const booked = await studio.api.bookings.ofJob({ jobId: job.jobId })
    expect(booked.map(({ spins }) => spins.map(({ name }) => name))).toEqual([['piece 1'], ['piece 1']])
    expect((await studio.api.benches.waiting({ jobId: job.jobId })).groups).toEqual([])

    const again = await planOf(studio, { shootIds: [], replan: true, keepsPlaces: true })
    expect(again.replanned).toBe(2)
    expect(again.moves).toEqual([])
    await studio.api.plans.accept({ planId: again.planId })
    const after = await studio.api.bookings.ofJob({ jobId: job.jobId })
    expect(after.map(({ uid, startsAt }) => [uid, startsAt])).toEqual(
      booked.map(({ uid, startsAt }) => [uid, startsAt]),
    )
  })

  it('is not booked a second time once its rows are, and says what is left when one of them is cancelled', async () => {
    const studio = aStudio()
    const job = await aLongSpin(studio)
    letBreak(studio, job.shootIds[0])
    const byHand = (day: string, fromMinute: number, toMinute: number) =>
      studio.api.bookings.add({
        blocks: [{ benchId: 1, day, fromMinute, toMinute, shootIds: job.shootIds }],
      })
    const { bookingIds } = await byHand('2026-03-03', 540, 726)
    await byHand('2026-03-03', 795, 949)
    await expect(byHand('2026-03-04', 540, 726)).rejects.toThrow("'piece 1' already has a place")
    const [bookingId = 0] = bookingIds
    expect(await studio.api.bookings.cancel({ bookingId })).toEqual({ partlyBooked: ['piece 1'] })
    await byHand('2026-03-04', 540, 726)
  })

  it('stays as it is where one of its blocks is fixed', async () => {
    const studio = aStudio()
    const job = await aLongSpin(studio)
    letBreak(studio, job.shootIds[0])
    const plan = await planOf(studio, { shootIds: job.shootIds })
    await studio.api.plans.accept({ planId: plan.planId })
    studio.db.prepare('UPDATE booking SET is_fixed = 1 WHERE id = (SELECT max(id) FROM booking)').run()
    expect((await studio.api.plans.choices({})).movable.blocks).toBe(0)
  })

  it('refuses to break a spin of one row, and says so in its list', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60])
    await expect(studio.api.spins.letBreak({ shootIds: job.shootIds, mayBreak: true })).rejects.toThrow(
      'a turn is never broken',
    )
  })
})

describe('the rest of a job', () => {
  it('waits for its first spin that is booked and has no yes, and its hours are at risk', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60, 60])
    const [first, ...rest] = job.shootIds
    studio.db.prepare('UPDATE shoot SET is_first = 1 WHERE id = ?').run(first)
    await studio.api.bookings.add({
      blocks: [
        {
          benchId: 1,
          day: '2026-03-04',
          fromMinute: 540,
          toMinute: 600,
          shootIds: [first as (typeof rest)[number]],
        },
      ],
    })
    const plan = await planOf(studio, { shootIds: rest })
    expect(plan.items.map(({ day, minute }) => [day, minute])).toEqual([
      ['2026-03-04', 600],
      ['2026-03-04', 660],
    ])
    expect(plan.atRisk).toEqual({ spins: 2, ms: 7_200_000 })
  })
})
