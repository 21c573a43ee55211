import { describe, expect, it } from 'vitest'
import { aRig } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aWaitingJob, found, planOf } from './waiting.ts'

type Job = Awaited<ReturnType<typeof aWaitingJob>>

/** What may happen between a plan and its yes, and the words in which the plan is then refused. */
const happenings: readonly (readonly [
  what: string,
  happens: (studio: TestStudio, job: Job) => unknown,
  said: RegExp,
])[] = [
  [
    'a spin is cancelled',
    (studio, { shootIds }) =>
      studio.db
        .prepare(
          "UPDATE shoot SET cancelled_at = '2026-03-02T08:00:00.000Z', cancelled_reason = 'not wanted' WHERE id = ?",
        )
        .run(shootIds[0]),
    /'piece 1' of J-2026-001 is cancelled, or its job is closed\./,
  ],
  [
    'a spin is planned on a rig',
    async (studio, { shootIds }) => {
      const { rigRevisionId } = await aRig(studio)
      studio.db.prepare('UPDATE shoot SET rig_revision_id = ? WHERE id = ?').run(rigRevisionId, shootIds[1])
    },
    /'piece 2' of J-2026-001 is planned on another rig\./,
  ],
  [
    'a spin takes longer',
    (studio, { shootIds }) =>
      studio.db.prepare('UPDATE shoot SET estimate_ms = 7200000 WHERE id = ?').run(shootIds[0]),
    /'piece 1' of J-2026-001 takes another time by now\./,
  ],
  [
    'a sample is found to be missing',
    (studio, { shootIds }) =>
      studio.db
        .prepare(
          `UPDATE sample SET state = 'missing', arrived_at = NULL, place = NULL
           WHERE product_id = (SELECT product_id FROM shoot_product WHERE shoot_id = ?)`,
        )
        .run(shootIds[0]),
    /'piece 1' of J-2026-001 waits longer for its sample\./,
  ],
  [
    'the job gets another priority',
    (studio, { jobId }) => studio.db.prepare("UPDATE job SET priority = 'high' WHERE id = ?").run(jobId),
    /has another priority\./,
  ],
  [
    'a spin is booked by hand',
    (studio, { shootIds }) =>
      studio.api.bookings.add({
        blocks: [
          { benchId: 1, day: '2026-03-10', fromMinute: 540, toMinute: 660, shootIds: shootIds.slice(0, 1) },
        ],
      }),
    /'piece 1' was booked on Bench 1\./,
  ],
  [
    'the hour at which it begins has passed',
    (studio) => studio.setNow('2026-03-04T12:00:00.000Z'),
    /The plan begins at \d\d:\d\d, and it is 13:00\./,
  ],
]

describe('a plan that something has overtaken', () => {
  it.each(happenings)('is refused with the reason where %s, and books nothing', async (_, happens, said) => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60])
    const { planId } = await planOf(studio, { shootIds: job.shootIds })
    await happens(studio, job)
    const bookings = () => studio.db.prepare('SELECT count(*) FROM booking').pluck().get()
    const before = bookings()
    await expect(studio.api.plans.accept({ planId })).rejects.toThrow(said)
    await expect(studio.api.plans.accept({ planId })).rejects.toThrow(/^Nothing is booked, .* Plan again\.$/)
    expect(bookings()).toBe(before)
  })

  it('is refused where a block that it moves was moved or fixed by hand', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60])
    const block = { benchId: 1, day: '2026-03-03', fromMinute: 540, toMinute: 600, shootIds: job.shootIds }
    const { bookingIds } = await studio.api.bookings.add({ blocks: [block] })
    const other = await aWaitingJob(studio, [60])
    const { planId } = await planOf(studio, { shootIds: other.shootIds, replan: true })
    studio.db.prepare('UPDATE booking SET is_fixed = 1 WHERE id = ?').run(bookingIds[0])
    await expect(studio.api.plans.accept({ planId })).rejects.toThrow(
      'A booked block was moved, fixed, begun or cancelled.',
    )
    expect(await studio.api.bookings.ofJob({ jobId: other.jobId })).toEqual([])
  })

  it('is planned again as it was asked for, and then booked', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60])
    const { planId } = await planOf(studio, { jobId: job.jobId })
    studio.db.prepare('UPDATE shoot SET estimate_ms = 7200000 WHERE id = ?').run(job.shootIds[0])
    const again = await studio.api.plans.again({ planId })
    const plan = await found(studio, again.planId)
    await studio.api.plans.accept({ planId: plan.planId })
    expect(await studio.api.bookings.ofJob({ jobId: job.jobId })).toHaveLength(plan.blocks.length)
    await expect(studio.api.plans.state({ planId })).rejects.toThrow('This plan is gone')
  })
})

describe('what a plan is asked for', () => {
  it('holds the spins of a selection that still wait, and leaves those that are booked', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60])
    const [booked, waits] = job.shootIds as [number, number]
    await studio.api.bookings.add({
      blocks: [{ benchId: 1, day: '2026-03-03', fromMinute: 540, toMinute: 600, shootIds: [booked] }],
    })
    expect(await studio.api.plans.choices({ shootIds: [booked, waits] })).toMatchObject({
      waiting: { spins: 1, jobs: 1, ms: 3_600_000, withoutEstimate: 0 },
    })
    const plan = await planOf(studio, { shootIds: [booked, waits] })
    expect(plan.blocks.flatMap(({ shootIds }) => shootIds)).toEqual([waits])
  })

  it('moves the blocks of a job alone where the job is named', async () => {
    const studio = aStudio()
    const [one, two] = [await aWaitingJob(studio, [60]), await aWaitingJob(studio, [60])]
    const at = (fromMinute: number, shootIds: readonly number[]) => ({
      benchId: 1,
      day: '2026-03-03',
      fromMinute,
      toMinute: fromMinute + 60,
      shootIds: [...shootIds],
    })
    await studio.api.bookings.add({ blocks: [at(540, one.shootIds), at(600, two.shootIds)] })
    expect((await studio.api.plans.choices({ jobId: one.jobId })).movable).toEqual({ blocks: 1, spins: 1 })
    expect((await studio.api.plans.choices({})).movable).toEqual({ blocks: 2, spins: 2 })
    const plan = await planOf(studio, { jobId: one.jobId, replan: true })
    expect(plan.replanned).toBe(1)
    expect(plan.blocks.flatMap(({ shootIds }) => shootIds)).toEqual(one.shootIds)
  })

  it('takes the set change of a block along, so that nothing of it is left where the block was', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const job = await aWaitingJob(studio, [60], '2026-03-20')
    studio.db.prepare('UPDATE shoot SET rig_revision_id = ?').run(rigRevisionId)
    const block = { benchId: 1, day: '2026-03-09', fromMinute: 540, toMinute: 660, shootIds: job.shootIds }
    await studio.api.bookings.add({ blocks: [{ ...block, setChangeMinutes: 60 }] })
    const plan = await planOf(studio, { jobId: job.jobId, replan: true })
    // Nothing stands there and nothing else is booked: the first opening hour of the first day is free.
    expect(plan.blocks).toMatchObject([{ day: '2026-03-02' }])
    await studio.api.plans.accept({ planId: plan.planId })
    const left = studio.db
      .prepare("SELECT kind FROM booking WHERE cancelled_at IS NULL AND starts_at > '2026-03-08'")
      .all()
    expect(left).toEqual([])
  })

  it('takes of everything the three hundred that are due first, and says how many are left', async () => {
    const studio = aStudio()
    await aWaitingJob(
      studio,
      Array.from({ length: 310 }, () => 1),
      '2026-03-20',
    )
    const urgent = await aWaitingJob(studio, [1], '2026-03-03')
    const { planId } = await studio.api.plans.start({ benchIds: [1], personIds: [1] })
    await studio.api.plans.stop({ planId })
    const plan = await found(studio, planId)
    expect(plan.spins).toBe(300)
    expect(plan.otherSpins).toBe(11)
    expect(plan.blocks.flatMap(({ shootIds }) => shootIds)).toContain(urgent.shootIds[0])
    // One that no plan can place yet keeps no other out, however soon it is due.
    studio.db.prepare('UPDATE shoot SET estimate_ms = 0 WHERE id = ?').run(urgent.shootIds[0])
    const again = await studio.api.plans.start({ benchIds: [1], personIds: [1] })
    await studio.api.plans.stop({ planId: again.planId })
    expect((await found(studio, again.planId)).leftOut).toEqual([])
  })
})
