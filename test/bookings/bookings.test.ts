import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import { standingOf } from '../../db/standing.ts'
import type { Asks } from '../../main/api/types.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aPlatter, aRevision, aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

type Block = Asks['bookings']['add']['blocks'][number]

/** A block on the first bench on Monday 2026-03-09; its hours are 09:00–12:30 and 13:15–17:30. */
function aBlock(of: Partial<Block> = {}): Block {
  return { benchId: 1, day: '2026-03-09', fromMinute: 540, toMinute: 660, ...of }
}

const book = (studio: TestStudio, of: Partial<Block>) => studio.api.bookings.add({ blocks: [aBlock(of)] })
const refusal = async (work: Promise<unknown>) =>
  (await work.then(
    () => undefined,
    (error: { cause: unknown }) => error.cause,
  )) as { code: string; message: string; canOverrule: boolean; field?: string } | undefined

describe('booking a bench', () => {
  it('books spins of a job in their order, and the job waits for its takes then', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    await book(studio, { shootIds: [...shootIds].reverse() })
    const [booking] = await studio.api.bookings.ofJob({ jobId })
    expect(booking?.spins.map(({ name }) => name)).toEqual(['jug', 'vase'])
    // 09:00 in Berlin in winter is 08:00 UTC.
    expect(booking?.startsAt).toBe('2026-03-09T08:00:00.000Z')
    const kept = studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)
    expect(kept).toEqual(standingOf(studio.db, jobId as Id<'job'>))
    expect(studio.db.prepare('SELECT at_takes FROM job_standing WHERE job_id = ?').pluck().get(jobId)).toBe(2)
  })

  it('refuses an overlap and says with what', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    await book(studio, { shootIds: shootIds.slice(0, 1) })
    expect(
      await refusal(book(studio, { shootIds: shootIds.slice(1), fromMinute: 600, toMinute: 700 })),
    ).toMatchObject({
      code: 'bench-booked',
      message:
        'Bench 1 is booked from 09:00 to 11:00 with 1 of the spins of J-2026-001 (Client of J-2026-001). Choose another time, or move that block first.',
      canOverrule: false,
    })
    expect(
      await refusal(book(studio, { shootIds: shootIds.slice(1), fromMinute: 660, toMinute: 700 })),
    ).toBeUndefined()
  })

  it('holds the rule against overlaps in the store itself', async () => {
    const studio = aStudio()
    const { insert } = await aStoredJob(studio, [{ name: 'vase' }])
    const row = (uid: string, from: string, to: string) => ({
      bench_id: 1,
      kind: 'other',
      title: 'x',
      starts_at: `2026-03-09T${from}:00.000Z`,
      ends_at: `2026-03-09T${to}:00.000Z`,
      uid,
      changed_at: '2026-03-02T08:00:00.000Z',
    })
    insert('booking', row('a', '08:00', '09:00'))
    expect(() => insert('booking', row('b', '08:30', '09:30'))).toThrow('already booked')
    insert('booking', row('c', '09:00', '10:00'))
    expect(() =>
      studio.db.exec(`UPDATE booking SET ends_at = '2026-03-09T09:30:00.000Z' WHERE uid = 'a'`),
    ).toThrow('already booked')
  })

  it.each([
    ['before opening', { fromMinute: 500, toMinute: 600 }, 'outside-hours'],
    [
      'over the lunch break, which would break a turn',
      { fromMinute: 700, toMinute: 800 },
      'over-closing-time',
    ],
    ['on a Sunday', { day: '2026-03-08' }, 'bench-closed'],
    ['with the end before the start', { fromMinute: 660, toMinute: 600 }, 'not-valid'],
  ])('refuses a block %s', async (_, of, code) => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const refused = await refusal(book(studio, { shootIds, ...of }))
    // What zod refuses comes as its own error, which the gate turns into 'not-valid' on its way to the page.
    expect(refused?.code ?? 'not-valid').toBe(code)
    expect(studio.db.prepare('SELECT count(*) FROM booking').pluck().get()).toBe(0)
  })

  it('refuses a closed day with its reason', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.benches.addClosure({
      benchId: null,
      fromDay: '2026-03-09',
      toDay: '2026-03-10',
      reason: 'stocktaking',
    })
    expect((await refusal(book(studio, { shootIds })))?.message).toContain(
      'closed on 2026-03-09: stocktaking',
    )
  })

  it('books several blocks together or none of them', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    const [vase = 0, jug = 0] = shootIds
    await expect(
      studio.api.bookings.add({
        blocks: [aBlock({ shootIds: [vase] }), aBlock({ shootIds: [jug], fromMinute: 600 })],
      }),
    ).rejects.toThrow('is booked from 09:00')
    expect(await studio.api.bookings.ofJob({ jobId })).toEqual([])
  })

  it('keeps spins of several jobs and of several rigs out of one block', async () => {
    const studio = aStudio()
    const glass = await aRig(studio, 'Glass')
    const shoes = await aRig(studio, 'Shoes')
    const one = await aStoredJob(studio, [{ name: 'vase' }, { name: 'boot' }])
    const two = await aStoredJob(studio, [{ name: 'jug' }], { number: 'J-2026-002' })
    expect((await refusal(book(studio, { shootIds: [...one.shootIds, ...two.shootIds] })))?.code).toBe(
      'several-jobs',
    )
    const [vase = 0, boot = 0] = one.shootIds
    await studio.api.rigs.plan({ shootIds: [vase], rigRevisionId: glass.rigRevisionId })
    await studio.api.rigs.plan({ shootIds: [boot], rigRevisionId: shoes.rigRevisionId })
    expect((await refusal(book(studio, { shootIds: one.shootIds })))?.message).toContain(
      'different rigs: Glass, Shoes',
    )
  })

  it('refuses products too heavy for the bench, whatever the reason', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'urn', massG: 30_500 }])
    const { id, goneAt: _, ...bench } = await studio.api.benches.one({ benchId: 1 })
    await studio.api.benches.change({
      benchId: id,
      bench: { ...bench, openings: [...bench.openings], platterIds: [], loadLimitG: 30_000 },
    })
    expect(await refusal(book(studio, { shootIds, overruledReason: 'it will hold' }))).toMatchObject({
      code: 'over-load-limit',
      message: "'urn' weighs 30.5 kg, but Bench 1 carries 30 kg. Book it on a bench that carries more.",
    })
  })
})

describe('objections that a reason overrules', () => {
  it('says which sample is not in, and books with the reason kept', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase', sample: 'expected' }])
    expect(await refusal(book(studio, { shootIds }))).toMatchObject({
      code: 'sample-not-in',
      message: 'The sample of J-2026-001-vase is not in.',
      canOverrule: true,
    })
    await book(studio, { shootIds, overruledReason: 'comes by courier at eight' })
    expect((await studio.api.bookings.ofJob({ jobId }))[0]?.overruledReason).toBe('comes by courier at eight')
  })

  it('says what speaks against any of several blocks at once, and each thing once', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [
      { name: 'vase', sample: 'expected' },
      { name: 'jug', sample: 'missing' },
    ])
    const [vase = 0, jug = 0] = shootIds
    const blocks = [aBlock({ shootIds: [vase] }), aBlock({ shootIds: [jug], fromMinute: 660, toMinute: 700 })]
    expect((await refusal(studio.api.bookings.add({ blocks })))?.message).toBe(
      'The sample of J-2026-001-vase is not in. The sample of J-2026-001-jug (missing) is not in.',
    )
    expect(await studio.api.bookings.ofJob({ jobId })).toEqual([])
  })

  it('keeps no reason where there was nothing to overrule', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await book(studio, { shootIds, overruledReason: 'just in case' })
    expect((await studio.api.bookings.ofJob({ jobId }))[0]?.overruledReason).toBeNull()
  })

  it('objects to one pair of hands on two benches, and to a person who is away', async () => {
    const studio = aStudio()
    const { benchId } = await studio.api.benches.add({
      name: 'Second',
      openings: [{ weekday: 1, fromMinute: 540, toMinute: 1020 }],
    })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    const [vase = 0, jug = 0] = shootIds
    await book(studio, { shootIds: [vase] })
    expect(
      await refusal(book(studio, { benchId, shootIds: [jug], fromMinute: 600, toMinute: 700 })),
    ).toMatchObject({
      code: 'person-booked',
      message:
        'Mara Quist is booked on Bench 1 at that time; two benches with one pair of hands are one bench.',
      canOverrule: true,
    })
    await studio.api.studio.addAbsence({
      personId: 1,
      fromDay: '2026-03-16',
      toDay: '2026-03-17',
      reason: 'fair',
    })
    expect((await refusal(book(studio, { shootIds: [jug], day: '2026-03-16' })))?.message).toBe(
      'Mara Quist is away until 2026-03-17 (fair).',
    )
  })

  it('objects to equipment in repair on that day, and not once it is back', async () => {
    const studio = aStudio()
    const { equipmentId } = await studio.api.equipment.add({
      name: '100 mm macro',
      kind: 'lens',
      count: 1,
      note: null,
    })
    const { platterId } = await studio.api.platters.add(aPlatter())
    const { rigRevisionId } = await studio.api.rigs.add({
      rig: { name: 'Glass', sizeClass: 'small', note: null },
      revision: aRevision(platterId, { lensEquipmentId: equipmentId }),
    })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    const { outageId } = await studio.api.equipment.addOutage({
      equipmentId,
      kind: 'repair',
      fromDay: '2026-03-05',
      toDay: null,
      reason: 'focus ring',
    })
    expect((await refusal(book(studio, { shootIds })))?.message).toBe(
      "'100 mm macro' is in repair without a known day of return (focus ring).",
    )
    await studio.api.equipment.endOutage({ outageId, toDay: '2026-03-08' })
    expect(await refusal(book(studio, { shootIds }))).toBeUndefined()
  })

  it('objects to a lamp that stands on another bench when there are not enough of it', async () => {
    const studio = aStudio()
    const { equipmentId } = await studio.api.equipment.add({
      name: 'strip lamp',
      kind: 'light',
      count: 3,
      note: null,
    })
    const rigWith = async (name: string) => {
      const { platterId } = await studio.api.platters.add(aPlatter({ name: `${name} platter` }))
      return studio.api.rigs.add({
        rig: { name, sizeClass: 'small', note: null },
        revision: aRevision(platterId, {
          lights: [45, 315].map((bearingDeg) => ({
            kind: 'strip',
            equipmentId,
            bearingDeg,
            distanceMm: 900,
          })),
        }),
      })
    }
    const { benchId } = await studio.api.benches.add({
      name: 'Second',
      openings: [{ weekday: 1, fromMinute: 540, toMinute: 1020 }],
    })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    const [vase = 0, jug = 0] = shootIds
    await studio.api.rigs.plan({ shootIds: [vase], rigRevisionId: (await rigWith('Glass')).rigRevisionId })
    await studio.api.rigs.plan({ shootIds: [jug], rigRevisionId: (await rigWith('Shoes')).rigRevisionId })
    await book(studio, { shootIds: [vase] })
    // Two stand on each rig; three are there.
    expect((await refusal(book(studio, { benchId, shootIds: [jug], personIds: [] })))?.message).toBe(
      "The rig takes 2 of 'strip lamp'; the studio has 3, and Bench 1 has 2 at that time.",
    )
  })

  it('objects to a spin that already has a place to come, but not to one whose block is over', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await book(studio, { shootIds })
    expect((await refusal(book(studio, { shootIds, day: '2026-03-10' })))?.code).toBe('already-booked')
    studio.setNow('2026-03-09T18:00:00.000Z')
    expect(await refusal(book(studio, { shootIds, day: '2026-03-10' }))).toBeUndefined()
  })
})

describe('a set change', () => {
  it('is booked as a block of its own before the spins and goes with them', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const { bookingIds } = await book(studio, { shootIds, setChangeMinutes: 30 })
    const [bookingId = 0] = bookingIds
    const times = async () =>
      (await studio.api.bookings.ofJob({ jobId })).map((b) => [
        b.kind,
        b.day,
        b.fromMinute,
        b.toMinute,
        b.sequence,
      ])
    expect(await times()).toEqual([
      ['set change', '2026-03-09', 540, 570, 0],
      ['spins', '2026-03-09', 570, 660, 0],
    ])
    // Moved by ten minutes it would lie over its own old place.
    await studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-09', fromMinute: 550 })
    expect(await times()).toEqual([
      ['set change', '2026-03-09', 550, 580, 1],
      ['spins', '2026-03-09', 580, 670, 1],
    ])
    await studio.api.bookings.cancel({ bookingId })
    expect(await times()).toEqual([])
  })

  it('is proposed only where the rig differs from the one that stands', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    const [vase = 0, jug = 0] = shootIds
    const propose = async (id: number) =>
      (await studio.api.bookings.propose({ benchId: 1, shootIds: [id], fromDay: '2026-03-09' })).blocks[0]
    const first = await propose(vase)
    expect(first?.setChangeMs).toBeGreaterThan(0)
    await book(studio, {
      shootIds: [vase],
      fromMinute: first?.fromMinute ?? 0,
      toMinute: first?.toMinute ?? 0,
      setChangeMinutes: (first?.setChangeMs ?? 0) / 60_000,
    })
    // Left standing, it costs nothing, be it the same day or a week later.
    expect(await propose(jug)).toMatchObject({ setChangeMs: 0, rigBefore: 'Glass, small' })
    const later = await studio.api.bookings.propose({ benchId: 1, shootIds: [jug], fromDay: '2026-03-17' })
    expect(later.blocks[0]).toMatchObject({ day: '2026-03-17', setChangeMs: 0 })
  })

  it('is not proposed a second time where it is booked for the evening before', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    studio.db
      .prepare(
        `INSERT INTO booking (bench_id, kind, job_id, rig_revision_id, starts_at, ends_at, uid, changed_at)
         VALUES (1, 'set change', ?, ?, '2026-03-09T15:00:00.000Z', '2026-03-09T16:00:00.000Z', 'evening', ?)`,
      )
      .run(jobId, rigRevisionId, studio.writing.now)
    const { blocks } = await studio.api.bookings.propose({ benchId: 1, shootIds, fromDay: '2026-03-10' })
    expect(blocks).toMatchObject([{ day: '2026-03-10', setChangeMs: 0, rigBefore: 'Glass, small' }])
  })
})

describe('moving and cancelling', () => {
  it('keeps a block’s identity for calendars and counts its changes', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const [bookingId = 0] = (await book(studio, { shootIds })).bookingIds
    const before = (await studio.api.bookings.ofJob({ jobId }))[0]
    await studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-10', fromMinute: 600 })
    const after = (await studio.api.bookings.ofJob({ jobId }))[0]
    expect([after?.uid, after?.sequence, after?.day, after?.fromMinute, after?.toMinute]).toEqual([
      before?.uid,
      1,
      '2026-03-10',
      600,
      720,
    ])
    await studio.api.bookings.cancel({ bookingId })
    expect(studio.db.prepare('SELECT sequence FROM booking').pluck().get()).toBe(2)
    await expect(studio.api.bookings.cancel({ bookingId })).rejects.toThrow('not booked any more')
  })

  it('is refused for a block that is fixed until it may move again, and for one that has begun', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const [bookingId = 0] = (await book(studio, { shootIds })).bookingIds
    const move = () => studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-10', fromMinute: 600 })
    await studio.api.bookings.fix({ bookingId, isFixed: true })
    await expect(move()).rejects.toThrow(
      'is fixed, so it is not moved from its place. Let it move again first',
    )
    await studio.api.bookings.fix({ bookingId, isFixed: false })
    await move()
    studio.setNow('2026-03-10T09:30:00.000Z')
    await expect(
      studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-11', fromMinute: 600 }),
    ).rejects.toThrow('has begun')
  })

  it('pushes along what lies in its way, and tells it', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    const [vase = 0, jug = 0] = shootIds
    const [first = 0] = (await book(studio, { shootIds: [vase], fromMinute: 540, toMinute: 600 })).bookingIds
    await book(studio, { shootIds: [jug], fromMinute: 600, toMinute: 660 })
    const to = { bookingId: first, benchId: 1, day: '2026-03-09', fromMinute: 555 }
    const { blocks } = await studio.api.bookings.move(to)
    expect(blocks.map(({ booking, after }) => [booking.spins[0]?.name, after.fromMinute])).toEqual([
      ['vase', 555],
      ['jug', 615],
    ])
  })

  it('leaves the block where it was when the new place is refused', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const [bookingId = 0] = (await book(studio, { shootIds, setChangeMinutes: 20 })).bookingIds
    await expect(
      studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-10', fromMinute: 700 }),
    ).rejects.toThrow('End by 12:30')
    expect(
      (await studio.api.bookings.ofJob({ jobId })).map(({ day, fromMinute }) => [day, fromMinute]),
    ).toEqual([
      ['2026-03-09', 540],
      ['2026-03-09', 560],
    ])
  })

  it('refuses a move that would run past midnight instead of cutting the block short', async () => {
    const studio = aStudio()
    const { benchId } = await studio.api.benches.add({
      name: 'Late',
      openings: [{ weekday: 1, fromMinute: 0, toMinute: 1440 }],
    })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const [bookingId = 0] = (await book(studio, { benchId, shootIds })).bookingIds
    await expect(
      studio.api.bookings.move({ bookingId, benchId, day: '2026-03-09', fromMinute: 1380 }),
    ).rejects.toThrow('a turn is not broken over closing time')
  })

  it('writes booking, moving and cancelling to the job’s history', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    const [bookingId = 0] = (await book(studio, { shootIds })).bookingIds
    await studio.api.bookings.move({ bookingId, benchId: 1, day: '2026-03-10', fromMinute: 600 })
    await studio.api.bookings.cancel({ bookingId })
    expect(
      studio.db
        .prepare(`SELECT what FROM event WHERE job_id = ? AND subject = 'booking' ORDER BY id`)
        .pluck()
        .all(jobId),
    ).toEqual(['bench booked', 'booking moved', 'booking cancelled'])
  })
})

describe('a proposal', () => {
  it('fills the free stretches in order, keeps every spin whole and leaves the lunch break free', async () => {
    const studio = aStudio()
    // Five spins of 80 min: two fit before 12:30 from 09:00 (210 min), three after 13:15 (255 min).
    const { shootIds } = await aStoredJob(
      studio,
      [1, 2, 3, 4, 5, 6].map((n) => ({ name: `spin ${n}`, estimateMs: 80 * 60_000 })),
    )
    const { blocks, unplaced } = await studio.api.bookings.propose({
      benchId: 1,
      shootIds,
      fromDay: '2026-03-09',
    })
    expect(blocks.map((b) => [b.day, b.fromMinute, b.toMinute, b.shootIds.length])).toEqual([
      ['2026-03-09', 540, 700, 2],
      ['2026-03-09', 795, 1035, 3],
      ['2026-03-10', 540, 620, 1],
    ])
    expect(unplaced).toEqual([])
    await studio.api.bookings.add({
      blocks: blocks.map(({ day, fromMinute, toMinute, shootIds: ids }) =>
        aBlock({ day, fromMinute, toMinute, shootIds: [...ids] }),
      ),
    })
  })

  it('never begins before now, on a closed day, or where a block or the person is already', async () => {
    const studio = aStudio({ now: '2026-03-09T09:02:00.000Z' })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    const propose = async () =>
      (await studio.api.bookings.propose({ benchId: 1, shootIds: shootIds.slice(1), fromDay: '2026-03-08' }))
        .blocks[0]
    // 10:02 in Berlin; blocks begin on whole five minutes.
    expect(await propose()).toMatchObject({ day: '2026-03-09', fromMinute: 605 })
    const { benchId } = await studio.api.benches.add({
      name: 'Second',
      openings: [{ weekday: 1, fromMinute: 540, toMinute: 1020 }],
    })
    await book(studio, { benchId, shootIds: shootIds.slice(0, 1), fromMinute: 610, toMinute: 1020 })
    expect(await propose()).toMatchObject({ day: '2026-03-10', fromMinute: 540 })
    await studio.api.benches.addClosure({
      benchId: 1,
      fromDay: '2026-03-10',
      toDay: '2026-03-11',
      reason: 'wiring',
    })
    expect(await propose()).toMatchObject({ day: '2026-03-12' })
  })

  it('names a spin that is longer than any opening stretch', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'sofa', estimateMs: 5 * 3_600_000 }])
    expect(await studio.api.bookings.propose({ benchId: 1, shootIds, fromDay: '2026-03-09' })).toMatchObject({
      blocks: [],
      unplaced: shootIds,
    })
  })

  it('says how many hours are at risk before the first spin’s yes', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }, { name: 'bowl' }])
    studio.db.prepare('UPDATE shoot SET is_first = 1 WHERE id = ?').run(shootIds[0])
    const { atRisk } = await studio.api.bookings.propose({ benchId: 1, shootIds, fromDay: '2026-03-09' })
    // The builder gives each spin one hour; the first itself is not at risk.
    expect(atRisk).toEqual({ firstSpin: 'vase', ms: 2 * 3_600_000 })
  })
})

describe('spins that wait for a place', () => {
  it('are grouped by job and rig, and leave the list once booked', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { shootIds } = await aStoredJob(studio, [
      { name: 'vase' },
      { name: 'jug', sample: 'expected' },
      { name: 'bowl' },
    ])
    const [vase = 0, jug = 0] = shootIds
    await studio.api.rigs.plan({ shootIds: [vase, jug], rigRevisionId })
    const groups = async () => (await studio.api.benches.waiting({})).groups
    // Planning a rig estimates the job anew, so the hours are read from the spins themselves.
    const hours = studio.db.prepare('SELECT estimate_ms FROM shoot ORDER BY id').pluck().all() as number[]
    const [vaseMs = 0, jugMs = 0, bowlMs = 0] = hours
    expect((await groups()).map((g) => [g.number, g.rig, g.spins, g.withoutSample, g.estimateMs])).toEqual([
      ['J-2026-001', 'Glass, small', 2, 1, vaseMs + jugMs],
      ['J-2026-001', null, 1, 0, bowlMs],
    ])
    await book(studio, { shootIds: [vase] })
    expect((await groups()).map(({ shootIds: ids }) => ids)).toEqual([[jug], [shootIds[2]]])
  })
})

describe('the day sheet', () => {
  it('lists a day in its order with codes, frames, marks and places, and can be printed', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    await book(studio, { shootIds, setChangeMinutes: 30 })
    await book(studio, { kind: 'other', title: 'strip floor', fromMinute: 800, toMinute: 900, shootIds: [] })
    const sheet = await studio.api.benches.daySheet({ benchId: 1, day: '2026-03-09' })
    expect(sheet.blocks.map(({ kind }) => kind)).toEqual(['set change', 'spins', 'other'])
    // 1,220 mm of rim in 244 frames is 5 mm a step.
    expect(sheet.blocks[1]?.spins[0]).toMatchObject({
      codes: ['J-2026-001-vase'],
      places: ['shelf 1'],
      rows: [{ framesPerTurn: 244, overlapFrames: 3, marks: 'every 5 mm' }],
    })
    const { attachmentId } = await studio.api.benches.printDaySheet({ benchId: 1, day: '2026-03-09' })
    const paper = attachmentById(studio.db, attachmentId)
    const { pages, title } = await readPdf(readFileSync(attachmentPath(studio.folder, paper?.sha256 ?? '')))
    expect(title).toBe('Bench 1, Monday 9 March 2026')
    for (const words of [
      'Set change to Glass, small, revision 1',
      'J-2026-001-vase',
      '244 + 3, every 5 mm',
      'shelf 1',
      '13:20 to 15:00',
    ]) {
      expect(pages.join(' ')).toContain(words)
    }
  })
})
