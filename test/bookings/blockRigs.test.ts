import { describe, expect, it } from 'vitest'
import { blockRigSentences } from '../../main/trade/blockRig.ts'
import { aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const monday = '2026-03-02'

/** A job of three spins on rig One, all in one block on Tuesday from ten, with its set change before. */
async function aBookedJob(studio: TestStudio) {
  const one = await aRig(studio, 'One')
  const two = await aRig(studio, 'Two')
  const job = await aStoredJob(studio, [{ name: 'a' }, { name: 'b' }, { name: 'c' }])
  await studio.api.rigs.plan({ shootIds: job.shootIds, rigRevisionId: one.rigRevisionId })
  await studio.api.bookings.add({
    blocks: [
      {
        benchId: 1,
        day: '2026-03-03',
        fromMinute: 540,
        toMinute: 740,
        shootIds: job.shootIds,
        setChangeMinutes: 30,
      },
    ],
  })
  return { ...job, one, two }
}

async function blocksOf({ api }: TestStudio, jobId: number) {
  return (await api.bookings.ofJob({ jobId })).map(({ kind, rig, rigRevisionId, spins, sequence }) => ({
    kind,
    rig,
    rigRevisionId,
    sequence,
    spins: spins.map(({ name }) => name).join(''),
  }))
}

describe('a booked block whose spins are planned on another rig', () => {
  it('follows with its set change, and calendars learn of it', async () => {
    const studio = aStudio()
    const { jobId, shootIds, two } = await aBookedJob(studio)
    const before = await blocksOf(studio, jobId)
    expect(before.map(({ rig }) => rig)).toEqual(['One', 'One'])
    const { blocks } = await studio.api.rigs.plan({ shootIds, rigRevisionId: two.rigRevisionId })
    const after = await blocksOf(studio, jobId)
    expect(after).toEqual(
      before.map((block) => ({
        ...block,
        rig: 'Two',
        rigRevisionId: two.rigRevisionId,
        sequence: block.sequence + 1,
      })),
    )
    expect(blocks).toMatchObject([{ bench: 'Bench 1', day: '2026-03-03', rig: 'Two', left: [] }])
    // Nothing stood on the bench: everything of the new rig is set up, by the studio's own times.
    const pace = studio.db.prepare('SELECT * FROM pace').get() as Record<string, number>
    const whole =
      (pace.change_platter_ms ?? 0) +
      (pace.change_backdrop_ms ?? 0) +
      (pace.change_camera_ms ?? 0) +
      (pace.change_lens_ms ?? 0) +
      2 * (pace.change_light_ms ?? 0)
    expect(blocks[0]?.setChange).toEqual({ bookedMin: 30, neededMin: Math.ceil(whole / 60_000) })
    expect(blockRigSentences(blocks[0] as never, (day) => day).join(' ')).toMatch(/Open the block to fit it/u)
  })

  it('takes the equipment of its new rig with it', async () => {
    const studio = aStudio()
    const { equipmentId } = await studio.api.equipment.add({ name: 'Lamp 2', kind: 'light', count: 1 })
    const { jobId, shootIds, two } = await aBookedJob(studio)
    const [revision] = (await studio.api.rigs.one({ rigId: two.rigId })).revisions
    const [light, ...others] = revision?.lights ?? []
    const { rigRevisionId } = await studio.api.rigs.revise({
      rigId: two.rigId,
      revision: {
        ...(revision as NonNullable<typeof revision>),
        why: 'lamp 2',
        lights: [{ ...(light as NonNullable<typeof light>), equipmentId }, ...others],
      } as never,
    })
    const taken = () =>
      studio.db.prepare('SELECT equipment_id FROM booking_equipment').pluck().all() as number[]
    expect(taken()).toEqual([])
    const { blocks } = await studio.api.rigs.plan({ shootIds, rigRevisionId })
    expect(taken()).toEqual([equipmentId])
    expect(blocks[0]?.objections).toEqual([])
    await studio.api.equipment.addOutage({
      equipmentId,
      kind: 'repair',
      fromDay: monday,
      toDay: '2026-03-06',
      reason: null,
    })
    expect((await blocksOf(studio, jobId))[1]?.rigRevisionId).toBe(rigRevisionId)
    await studio.api.rigs.plan({ shootIds, rigRevisionId: two.rigRevisionId })
    const again = await studio.api.rigs.plan({ shootIds, rigRevisionId })
    expect(again.blocks[0]?.objections).toEqual(["'Lamp 2' is in repair until 2026-03-06."])
  })

  it('is left by the spins that go to another rig while others stay; they wait for a place again', async () => {
    const studio = aStudio()
    const { jobId, shootIds, two } = await aBookedJob(studio)
    studio.setNow('2026-03-02T09:00:00.000Z')
    const { blocks } = await studio.api.rigs.plan({
      shootIds: shootIds.slice(1, 2),
      rigRevisionId: two.rigRevisionId,
    })
    expect(blocks).toMatchObject([{ rig: 'One', left: ['b'] }])
    // Calendars and plans ask when a block was changed.
    expect(studio.db.prepare("SELECT changed_at FROM booking WHERE kind = 'spins'").pluck().get()).toBe(
      '2026-03-02T09:00:00.000Z',
    )
    expect((await blocksOf(studio, jobId)).map(({ rig, spins }) => [rig, spins])).toEqual([
      ['One', ''],
      ['One', 'ac'],
    ])
    const { groups } = await studio.api.benches.waiting({ jobId })
    expect(groups).toMatchObject([{ rig: 'Two', spins: 1, shootIds: [shootIds[1]] }])
    // Booked anew it is one block of one rig again.
    await studio.api.bookings.add({
      blocks: [
        { benchId: 1, day: '2026-03-03', fromMinute: 800, toMinute: 900, shootIds: shootIds.slice(1, 2) },
      ],
    })
    expect((await studio.api.benches.waiting({ jobId })).groups).toEqual([])
  })

  it('stays as it is where the same rig is planned again, and where it has passed', async () => {
    const studio = aStudio()
    const { jobId, shootIds, one, two } = await aBookedJob(studio)
    const before = await blocksOf(studio, jobId)
    expect((await studio.api.rigs.plan({ shootIds, rigRevisionId: one.rigRevisionId })).blocks).toEqual([])
    expect(await blocksOf(studio, jobId)).toEqual(before)
    studio.setNow('2026-03-04T08:00:00.000Z')
    expect((await studio.api.rigs.plan({ shootIds, rigRevisionId: two.rigRevisionId })).blocks).toEqual([])
    expect(await blocksOf(studio, jobId)).toEqual(before)
  })

  it('stays with its old rig where planning is refused', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aBookedJob(studio)
    const weak = await aRig(studio, 'Weak', {
      ...{ name: 'weak platter', rimMm: 1_220, divisionMm: 1, surface: null, note: null },
      loadLimitG: 100,
    })
    const before = await blocksOf(studio, jobId)
    await expect(studio.api.rigs.plan({ shootIds, rigRevisionId: weak.rigRevisionId })).rejects.toMatchObject(
      { cause: { code: 'over-load-limit' } },
    )
    expect(await blocksOf(studio, jobId)).toEqual(before)
  })
})

describe('a block that passed without a take', () => {
  it('holds no place: its spins wait again, and it is said which block passed', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aBookedJob(studio)
    expect((await studio.api.benches.waiting({ jobId })).groups).toEqual([])
    studio.setNow('2026-03-03T11:21:00.000Z')
    const waiting = async () => (await studio.api.benches.waiting({ jobId })).groups
    // It ends at 12:20 in Berlin, an hour ahead of UTC.
    expect(await waiting()).toMatchObject([{ spins: 3, passed: 3, passedAt: '2026-03-03T08:30:00.000Z' }])
    studio.setNow('2026-03-03T11:19:00.000Z')
    expect(await waiting()).toEqual([])
    studio.setNow('2026-03-04T08:00:00.000Z')
    await studio.api.bookings.add({
      blocks: [{ benchId: 1, day: '2026-03-05', fromMinute: 540, toMinute: 740, shootIds }],
    })
    expect(await waiting()).toEqual([])
  })
})
