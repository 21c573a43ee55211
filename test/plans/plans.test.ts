import { describe, expect, it } from 'vitest'
import { refreshStanding } from '../../db/standing.ts'
import { aRig } from '../rigs/builders.ts'
import { aStudio } from '../studio.ts'
import { aWaitingJob, planOf, type Start } from './waiting.ts'

describe('a plan of the bench', () => {
  it('lays what waits by due day into free opening hours, and says that it is proved', async () => {
    const studio = aStudio()
    const later = await aWaitingJob(studio, [60, 60], '2026-03-06')
    // Together with these the day is full.
    const sooner = await aWaitingJob(studio, [190, 160], '2026-03-02')
    const plan = await planOf(studio, { shootIds: [...later.shootIds, ...sooner.shootIds] })
    expect(plan.isProved).toBe(true)
    expect(plan.late).toEqual([])
    const sooners = plan.blocks.filter(({ jobId }) => jobId === sooner.jobId)
    expect(sooners.map(({ day }) => day)).toEqual(['2026-03-02', '2026-03-02'])
    expect(plan.blocks.flatMap(({ shootIds }) => shootIds).sort()).toEqual(
      [...later.shootIds, ...sooner.shootIds].sort(),
    )
    expect(studio.db.prepare('SELECT count(*) FROM booking').pluck().get()).toBe(0)
  })

  it('books what is accepted, all of it, and takes it off the list of what waits', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60, 60, 60, 60, 60, 60, 60, 60])
    const plan = await planOf(studio, { shootIds: job.shootIds })
    await studio.api.plans.accept({ planId: plan.planId })
    const booked = await studio.api.bookings.ofJob({ jobId: job.jobId })
    expect(booked.map(({ day, fromMinute, toMinute }) => ({ day, fromMinute, toMinute }))).toEqual(
      plan.blocks.map(({ day, fromMinute, toMinute }) => ({ day, fromMinute, toMinute })),
    )
    expect(booked.flatMap(({ spins }) => spins)).toHaveLength(9)
    expect((await studio.api.benches.waiting({ jobId: job.jobId })).groups).toEqual([])
    await expect(studio.api.plans.accept({ planId: plan.planId })).rejects.toThrow('Plan again')
  })

  it('plans nothing before its sample is expected, and leaves out what has no day', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60])
    const sample = studio.db.prepare(
      `UPDATE sample SET state = 'expected', arrived_at = NULL, place = NULL, expected_day = ?
       WHERE product_id = (SELECT product_id FROM shoot_product WHERE shoot_id = ?)`,
    )
    sample.run('2026-03-04', job.shootIds[0])
    sample.run(null, job.shootIds[1])
    const plan = await planOf(studio, { shootIds: job.shootIds })
    expect(plan.blocks.map(({ day }) => day)).toEqual(['2026-03-05'])
    expect(plan.leftOut).toMatchObject([{ shootId: job.shootIds[1], why: 'no day for its sample' }])
  })

  it('holds a promise to the day its expected samples make, before it binds', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [200, 200])
    studio.db.prepare('UPDATE job SET due_day = NULL, promise_working_days = 1 WHERE id = ?').run(job.jobId)
    studio.db
      .prepare(`UPDATE sample SET state = 'expected', arrived_at = NULL, place = NULL, expected_day = '2026-03-04'
        WHERE job_id = ?`)
      .run(job.jobId)
    refreshStanding(studio.writing, job.jobId)
    const plan = await planOf(studio, { shootIds: job.shootIds })
    expect(plan.blocks.map(({ day }) => day)).toEqual(['2026-03-05', '2026-03-06'])
    expect(plan.late).toMatchObject([{ dueDay: '2026-03-05', endDay: '2026-03-06' }])
  })

  it('changes rigs as seldom as the due days allow, and shows the set change before the block', async () => {
    const studio = aStudio()
    const { rigRevisionId: one } = await aRig(studio, 'One')
    const { rigRevisionId: two } = await aRig(studio, 'Two')
    const job = await aWaitingJob(studio, [30, 30, 30, 30])
    const onRig = studio.db.prepare('UPDATE shoot SET rig_revision_id = ? WHERE id = ?')
    job.shootIds.forEach((id, index) => {
      onRig.run(index % 2 ? two : one, id)
    })
    const plan = await planOf(studio, { shootIds: job.shootIds })
    expect(plan.blocks).toHaveLength(2)
    expect(plan.blocks.map(({ rig }) => rig).sort()).toEqual(['One', 'Two'])
    expect(plan.blocks.every(({ setChangeMinutes }) => setChangeMinutes > 0)).toBe(true)
    expect(plan.cost.changeoverMin).toBe(plan.blocks.reduce((sum, block) => sum + block.setChangeMinutes, 0))
    expect(plan.cost.changeoverMin).toBeLessThan(plan.byDueDay.changeoverMin)
  })

  it('plans movable blocks anew round the fixed ones; a moved block keeps its identity in calendars', async () => {
    const studio = aStudio()
    const calm = await aWaitingJob(studio, [120], '2026-03-20')
    const fixed = await aWaitingJob(studio, [60], '2026-03-20')
    await studio.api.bookings.add({
      blocks: [
        { benchId: 1, day: '2026-03-03', fromMinute: 540, toMinute: 660, shootIds: calm.shootIds },
        {
          benchId: 1,
          day: '2026-03-03',
          fromMinute: 690,
          toMinute: 750,
          shootIds: fixed.shootIds,
          isFixed: true,
        },
      ],
    })
    const [before] = await studio.api.bookings.ofJob({ jobId: calm.jobId })
    const [fixedBefore] = await studio.api.bookings.ofJob({ jobId: fixed.jobId })
    const rush = await aWaitingJob(studio, [200, 200], '2026-03-02')
    const plan = await planOf(studio, { shootIds: rush.shootIds, replan: true })
    expect(plan.replanned).toBe(1)
    await studio.api.plans.accept({ planId: plan.planId })
    const [after] = await studio.api.bookings.ofJob({ jobId: calm.jobId })
    expect(after?.uid).toBe(before?.uid)
    if (after?.startsAt !== before?.startsAt) expect(after?.sequence).toBeGreaterThan(before?.sequence ?? 0)
    expect(await studio.api.bookings.ofJob({ jobId: fixed.jobId })).toEqual([fixedBefore])
  })

  it('refuses an accepted plan that the world has overtaken, and books nothing of it', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60, 60])
    const plan = await planOf(studio, { shootIds: job.shootIds })
    const [block] = plan.blocks
    await studio.api.bookings.add({
      blocks: [
        {
          benchId: 1,
          kind: 'other',
          title: 'cleaning',
          day: block?.day ?? '',
          fromMinute: block?.fromMinute ?? 0,
          toMinute: (block?.fromMinute ?? 0) + 30,
        },
      ],
    })
    await expect(studio.api.plans.accept({ planId: plan.planId })).rejects.toThrow('is booked from')
    expect(await studio.api.bookings.ofJob({ jobId: job.jobId })).toEqual([])
  })

  it('says what each spin costs, what today costs beside it, and why a block moves', async () => {
    const studio = aStudio()
    const calm = await aWaitingJob(studio, [120], '2026-03-20')
    await studio.api.bookings.add({
      blocks: [{ benchId: 1, day: '2026-03-03', fromMinute: 540, toMinute: 660, shootIds: calm.shootIds }],
    })
    const rush = await aWaitingJob(studio, [190, 160, 190], '2026-03-03')
    const plan = await planOf(studio, { shootIds: rush.shootIds, replan: true })
    expect(
      plan.items.map(({ jobNumber, latenessMinutes, weight }) => [jobNumber, latenessMinutes, weight]),
    ).toEqual([
      ['J-2026-002', 0, 2],
      ['J-2026-002', 0, 2],
      ['J-2026-002', 0, 2],
      ['J-2026-001', 0, 2],
    ])
    expect(plan.today).toMatchObject({ placed: 1, unplaced: 3, bookedMin: 120 })
    expect(plan.proposed).toMatchObject({ placed: 4, unplaced: 0, lateItems: 0, bookedMin: 660 })
    expect(plan.moves).toMatchObject([
      {
        jobNumber: 'J-2026-001',
        from: { day: '2026-03-03', minute: 540 },
        why: 'made room',
        isDueEarlier: true,
      },
    ])
    expect(plan.gap).toBe(null)
  })

  it('counts a minute late as the studio says, and refuses a low job that counts more than a high one', async () => {
    const studio = aStudio()
    expect(await studio.api.plans.weights()).toEqual({ low: 1, normal: 2, high: 6 })
    await studio.api.plans.setWeights({ low: 1, normal: 9, high: 20 })
    const job = await aWaitingJob(studio, [60], '2026-02-27')
    const plan = await planOf(studio, { shootIds: job.shootIds })
    const [item] = plan.items
    expect(item?.weight).toBe(9)
    expect(item?.weightedLatenessMinutes).toBe(9 * (item?.latenessMinutes ?? 0))
    expect(plan.proposed.lateItems).toBe(1)
    const set = studio.api.plans.setWeights
    await expect(set({ low: 3, normal: 2, high: 6 })).rejects.toThrow('cannot count more')
    await expect(set({ low: 1, normal: 2, high: 101 })).rejects.toThrow('at most 100')
    expect(await studio.api.plans.weights()).toEqual({ low: 1, normal: 9, high: 20 })
  })

  it('stays shut for whoever is away, and refuses a plan without hands, bench or spins', async () => {
    const studio = aStudio()
    const job = await aWaitingJob(studio, [60])
    await studio.api.studio.addAbsence({
      personId: 1,
      fromDay: '2026-03-02',
      toDay: '2026-03-04',
      reason: null,
    })
    const plan = await planOf(studio, { shootIds: job.shootIds })
    expect(plan.blocks.map(({ day }) => day)).toEqual(['2026-03-05'])
    const start = (of: Partial<Start>) =>
      studio.api.plans.start({ benchIds: [1], personIds: [1], shootIds: job.shootIds, ...of })
    await expect(start({ personIds: [] })).rejects.toThrow('Nobody is chosen')
    await expect(start({ benchIds: [] })).rejects.toThrow('No bench is chosen')
    await expect(start({ shootIds: [999] })).rejects.toThrow('None of these spins')
  })
})
