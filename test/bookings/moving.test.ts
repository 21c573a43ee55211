import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { standingOf } from '../../db/standing.ts'
import type { Asks } from '../../main/api/types.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aPlatter, aRevision, aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

type Block = Asks['bookings']['add']['blocks'][number]
type Ask = Asks['bookings']['tryMove']
type Shown = Awaited<ReturnType<TestStudio['api']['bookings']['tryMove']>>

/** Blocks on the first bench on Monday 2026-03-09, whose hours are 09:00–12:30 and 13:15–17:30. */
const monday = '2026-03-09'
const tuesday = '2026-03-10'

async function booked(studio: TestStudio, of: Partial<Block>): Promise<number> {
  const { bookingIds } = await studio.api.bookings.add({
    blocks: [{ benchId: 1, day: monday, fromMinute: 540, toMinute: 600, ...of }],
  })
  return bookingIds[0] ?? 0
}

/** Three jobs of one spin each, booked from nine o’clock on, an hour each. */
async function threeBlocks(studio: TestStudio) {
  const ids: number[] = []
  for (const [index, name] of ['vase', 'jug', 'bowl'].entries()) {
    const { shootIds } = await aStoredJob(studio, [{ name }], { number: `J-2026-00${index + 1}` })
    ids.push(await booked(studio, { shootIds, fromMinute: 540 + index * 60, toMinute: 600 + index * 60 }))
  }
  return ids as [number, number, number]
}

const to = (bookingId: number, of: Partial<Ask> = {}): Ask => ({
  bookingId,
  benchId: 1,
  day: monday,
  fromMinute: 540,
  ...of,
})

async function carryOut(studio: TestStudio, ask: Ask, overruledReason: string | null = null) {
  const { seen } = await studio.api.bookings.tryMove(ask)
  return studio.api.bookings.makeMove({ ...ask, seen, overruledReason })
}

const rows = (studio: TestStudio) =>
  studio.db
    .prepare(
      'SELECT id, bench_id, kind, starts_at, ends_at, uid, sequence, cancelled_at, overruled_reason FROM booking ORDER BY id',
    )
    .all() as { id: number; starts_at: string; ends_at: string; uid: string; sequence: number }[]

const refusal = async (work: Promise<unknown>) =>
  (await work.then(
    () => undefined,
    (error: { cause: unknown }) => error.cause,
  )) as { code: string; message: string; canOverrule: boolean } | undefined

const places = (effect: Shown) =>
  effect.blocks.map(({ booking, after }) => [booking.id, after.day, after.fromMinute, after.toMinute])

describe('trying a move', () => {
  it('says what would lie where, and keeps nothing', async () => {
    const studio = aStudio()
    const [vase, jug, bowl] = await threeBlocks(studio)
    const before = [rows(studio), studio.db.prepare('SELECT count(*) FROM event').pluck().get()]
    const effect = await studio.api.bookings.tryMove(to(bowl, { fromMinute: 545 }))
    // Over the first half of the first block: it takes its place, and both others move along by an hour.
    expect(places(effect)).toEqual([
      [bowl, monday, 540, 600],
      [vase, monday, 600, 660],
      [jug, monday, 660, 720],
    ])
    expect(effect.blocks[1]?.before).toMatchObject({ day: monday, fromMinute: 540, toMinute: 600 })
    expect([rows(studio), studio.db.prepare('SELECT count(*) FROM event').pluck().get()]).toEqual(before)
  })

  it('says which job becomes late and by how many days, and which no longer is', async () => {
    const studio = aStudio()
    const [vase, jug] = await threeBlocks(studio)
    studio.db.prepare(`UPDATE job SET due_day = '2026-03-09'`).run()
    studio.db.prepare(`UPDATE job_standing SET due_day = '2026-03-09'`).run()
    const late = await studio.api.bookings.tryMove(to(vase, { day: '2026-03-12' }))
    expect(late.jobs).toMatchObject([{ number: 'J-2026-001', lateDaysBefore: 0, lateDaysAfter: 3 }])
    await carryOut(studio, to(vase, { day: '2026-03-12' }))
    expect((await studio.api.bookings.tryMove(to(vase, { fromMinute: 540 }))).jobs).toMatchObject([
      { number: 'J-2026-001', lateDaysBefore: 3, lateDaysAfter: 0 },
    ])
    expect((await studio.api.bookings.tryMove(to(jug, { fromMinute: 800 }))).jobs).toEqual([])
  })

  it('works the set changes out anew for where the blocks would stand', async () => {
    const studio = aStudio()
    const [glass, shoes] = [await aRig(studio, 'Glass'), await aRig(studio, 'Shoes')]
    const ids: number[] = []
    const rigs = [glass, shoes, glass]
    for (const [index, rig] of rigs.entries()) {
      const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }], { number: `J-2026-00${index + 1}` })
      await studio.api.rigs.plan({ shootIds, rigRevisionId: rig.rigRevisionId })
      const [block] = (
        await studio.api.bookings.propose({ benchId: 1, shootIds, fromDay: monday, fromMinute: null })
      ).blocks
      ids.push(
        await booked(studio, {
          shootIds,
          day: block?.day ?? monday,
          fromMinute: block?.fromMinute ?? 0,
          toMinute: block?.toMinute ?? 0,
          setChangeMinutes: (block?.setChangeMs ?? 0) / 60_000,
        }),
      )
    }
    const changes = studio.db
      .prepare(
        `SELECT (unixepoch(ends_at) - unixepoch(starts_at)) / 60 FROM booking WHERE kind = 'set change' ORDER BY starts_at`,
      )
      .pluck()
      .all() as number[]
    expect(changes).toHaveLength(3)
    // Moved right behind the first, the third stands on the same rig: its set change is gone.
    const first = await studio.api.bookings.one({ bookingId: ids[0] ?? 0 })
    const ask = to(ids[2] ?? 0, { fromMinute: first.toMinute })
    const effect = await studio.api.bookings.tryMove(ask)
    const [all, kept] = [changes.reduce((a, b) => a + b), (changes[0] ?? 0) + (changes[1] ?? 0)]
    expect(effect.setChangeMinutes).toEqual({ before: all, after: kept })
    expect(effect.blocks[0]?.after.setChangeMinutes).toBe(0)
    await studio.api.bookings.makeMove({ ...ask, seen: effect.seen })
    const left = studio.db
      .prepare(`SELECT count(*) FROM booking WHERE kind = 'set change' AND cancelled_at IS NULL`)
      .pluck()
      .get()
    expect(left).toBe(2)
  })

  it('gives a set change as many minutes on another empty bench as were proposed on this one', async () => {
    const studio = aStudio()
    const { openings } = await studio.api.benches.one({ benchId: 1 })
    await studio.api.benches.add({ name: 'Bench 2', openings: [...openings] })
    const { rigRevisionId } = await aRig(studio, 'Shoes')
    const { shootIds } = await aStoredJob(studio, [{ name: 'boot' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    const { blocks } = await studio.api.bookings.propose({
      benchId: 1,
      shootIds,
      fromDay: monday,
      fromMinute: 540,
    })
    const setChangeMinutes = (blocks[0]?.setChangeMs ?? 0) / 60_000
    const boot = await booked(studio, { shootIds, toMinute: 660, setChangeMinutes })
    const effect = await studio.api.bookings.tryMove(to(boot, { benchId: 2 }))
    expect(effect.setChangeMinutes).toEqual({ before: setChangeMinutes, after: setChangeMinutes })
  })

  it.each([
    ['over noon', { fromMinute: 720 }, 'over-closing-time'],
    ['before opening', { fromMinute: 480 }, 'outside-hours'],
    ['on a Sunday', { day: '2026-03-15' }, 'bench-closed'],
    ['in the past', { day: '2026-03-01' }, 'past'],
  ])('says why a block cannot lie %s', async (_, of, code) => {
    const studio = aStudio()
    const [vase] = await threeBlocks(studio)
    const effect = await studio.api.bookings.tryMove(to(vase, of))
    expect(effect.refused?.code).toBe(code)
    expect(effect.blocks).toEqual([])
    const refused = await refusal(
      studio.api.bookings.makeMove({ ...to(vase, of), seen: effect.seen, overruledReason: 'I say so' }),
    )
    expect(refused).toMatchObject({ code, canOverrule: false })
  })

  it('moves no block that is fixed or has begun, and says so where one is in the way', async () => {
    const studio = aStudio()
    const [vase, jug] = await threeBlocks(studio)
    studio.db.prepare('UPDATE booking SET is_fixed = 1 WHERE id = ?').run(jug)
    expect((await studio.api.bookings.tryMove(to(jug, { day: tuesday }))).refused?.sentence).toContain(
      '1 of the spins of J-2026-002 (Client of J-2026-002) is fixed',
    )
    const inTheWay = await studio.api.bookings.tryMove(to(vase, { fromMinute: 570 }))
    expect(inTheWay.refused).toMatchObject({ code: 'block-in-the-way' })
    expect(inTheWay.refused?.sentence).toContain('is fixed from 10:00 to 11:00')
    studio.setNow('2026-03-09T08:30:00.000Z')
    expect((await studio.api.bookings.tryMove(to(vase, { day: tuesday }))).refused?.sentence).toContain(
      'has begun',
    )
  })

  it('reads no table from end to end', async () => {
    const studio = aStudio()
    const [vase] = await threeBlocks(studio)
    const ask = to(vase, { fromMinute: 610 })
    expect(await scansDuring(studio.db, () => studio.api.bookings.tryMove(ask))).toEqual([])
  })
})

describe('making a move', () => {
  it('does what was shown, all of it, keeps each block’s uid and raises its sequence', async () => {
    const studio = aStudio()
    const [vase, jug, bowl] = await threeBlocks(studio)
    const before = rows(studio)
    const ask = to(bowl, { fromMinute: 545 })
    const shown = await studio.api.bookings.tryMove(ask)
    await studio.api.bookings.makeMove({ ...ask, seen: shown.seen })
    for (const { booking, after } of shown.blocks) {
      expect(await studio.api.bookings.one({ bookingId: booking.id })).toMatchObject({
        day: after.day,
        fromMinute: after.fromMinute,
        toMinute: after.toMinute,
        benchId: after.benchId,
      })
    }
    for (const id of [vase, jug, bowl]) {
      const [was, is] = [before, rows(studio)].map((all) => all.find((row) => row.id === id))
      expect(is?.uid).toBe(was?.uid)
      expect(is?.sequence).toBeGreaterThan(was?.sequence ?? 0)
    }
    const told = studio.db.prepare(`SELECT count(*) FROM event WHERE what = 'booking moved'`).pluck().get()
    expect(told).toBe(3)
    for (const jobId of studio.db.prepare('SELECT id FROM job').pluck().all() as Id<'job'>[]) {
      expect(studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)).toEqual(
        standingOf(studio.db, jobId),
      )
    }
  })

  it('does what was shown wherever a block is let go, move after move', async () => {
    const studio = aStudio()
    const blocks = await threeBlocks(studio)
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(0, 1, 2),
        fc.constantFrom(monday, tuesday),
        fc.integer({ min: 108, max: 210 }),
        fc.boolean(),
        async (which, day, fives, closesUp) => {
          const ask = to(blocks[which] as number, { day, fromMinute: fives * 5, closesUp })
          const shown = await studio.api.bookings.tryMove(ask)
          const before = rows(studio)
          const made = studio.api.bookings.makeMove({ ...ask, seen: shown.seen })
          if (shown.refused) {
            expect((await refusal(made))?.message).toBe(shown.refused.sentence)
            expect(rows(studio)).toEqual(before)
            return
          }
          await made
          const now = await Promise.all(blocks.map((bookingId) => studio.api.bookings.one({ bookingId })))
          for (const one of now) {
            const moved = shown.blocks.find(({ booking }) => booking.id === one.id)
            const was = before.find(({ id }) => id === one.id)
            if (!moved) expect([one.startsAt, one.endsAt]).toEqual([was?.starts_at, was?.ends_at])
            else {
              const { day: then, fromMinute, toMinute } = moved.after
              expect(one).toMatchObject({ day: then, fromMinute, toMinute })
            }
          }
        },
      ),
      { numRuns: 60 },
    )
  })

  it('is refused where the bench has changed since it was shown', async () => {
    const studio = aStudio()
    const [vase, jug] = await threeBlocks(studio)
    const ask = to(vase, { fromMinute: 800 })
    const { seen } = await studio.api.bookings.tryMove(ask)
    await studio.api.bookings.move({ bookingId: jug, benchId: 1, day: monday, fromMinute: 820 })
    const before = rows(studio)
    expect(await refusal(studio.api.bookings.makeMove({ ...ask, seen }))).toMatchObject({
      code: 'changed-meanwhile',
      canOverrule: false,
    })
    expect(rows(studio)).toEqual(before)
  })

  it('closes the place up only where it is asked', async () => {
    const studio = aStudio()
    const [vase, jug, bowl] = await threeBlocks(studio)
    const away = to(vase, { day: tuesday })
    expect(places(await studio.api.bookings.tryMove(away))).toEqual([[vase, tuesday, 540, 600]])
    expect(places(await studio.api.bookings.tryMove({ ...away, closesUp: true }))).toEqual([
      [vase, tuesday, 540, 600],
      [jug, monday, 540, 600],
      [bowl, monday, 600, 660],
    ])
  })

  it('goes on against what the world says only with a reason, which is kept', async () => {
    const studio = aStudio()
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase', sample: 'expected' }])
    studio.db.prepare(`UPDATE sample SET expected_day = '2026-03-10'`).run()
    const day = '2026-03-11'
    const bookingId = await booked(studio, { shootIds, day, overruledReason: 'it comes on Tuesday' })
    // What was accepted when it was booked is not said again.
    expect((await studio.api.bookings.tryMove(to(bookingId, { day: '2026-03-12' }))).objections).toEqual([])
    const ask = to(bookingId, { day: tuesday })
    expect((await studio.api.bookings.tryMove(ask)).objections).toMatchObject([
      {
        code: 'before-goods',
        sentence: expect.stringContaining(
          'J-2026-001-vase is expected on 2026-03-10, so only the day after is sure',
        ),
      },
    ])
    expect(await refusal(carryOut(studio, ask))).toMatchObject({ code: 'before-goods', canOverrule: true })
    await carryOut(studio, ask, 'the carrier comes at eight')
    expect(await studio.api.bookings.one({ bookingId })).toMatchObject({
      day: tuesday,
      overruledReason: 'the carrier comes at eight',
    })
  })

  it('objects where the person is on another bench then, or would turn longer than the day’s cap', async () => {
    const studio = aStudio()
    const [vase] = await threeBlocks(studio)
    const benchId = await anotherBench(studio)
    const objections = async (of: Partial<Ask>) =>
      (await studio.api.bookings.tryMove(to(vase, of))).objections.map(({ code }) => code)
    expect(await objections({ benchId, fromMinute: 600 })).toEqual(['person-booked'])
    expect(await objections({ benchId, fromMinute: 800 })).toEqual([])
    studio.db.prepare('UPDATE pace SET turning_cap_minutes = 90').run()
    // The two hours on Monday are there already: what is no more than before is not said.
    expect(await objections({ fromMinute: 800 })).toEqual([])
    expect(await objections({ day: tuesday })).toEqual([])
    await booked(studio, { kind: 'spins', day: tuesday, ...(await anotherSpin(studio)) })
    expect(await objections({ day: tuesday, fromMinute: 660 })).toEqual(['over-turning-cap'])
  })

  it('objects where a part of the rig is away that day', async () => {
    const studio = aStudio()
    const { equipmentId } = await studio.api.equipment.add({ name: '100 mm macro', kind: 'lens', count: 1 })
    const { platterId } = await studio.api.platters.add(aPlatter())
    const { rigRevisionId } = await studio.api.rigs.add({
      rig: { name: 'Glass', sizeClass: 'small', note: null },
      revision: aRevision(platterId, { lensEquipmentId: equipmentId }),
    })
    const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    const bookingId = await booked(studio, { shootIds })
    await studio.api.equipment.addOutage({
      equipmentId,
      kind: 'repair',
      fromDay: tuesday,
      toDay: tuesday,
      reason: 'fan',
    })
    expect((await studio.api.bookings.tryMove(to(bookingId, { day: tuesday }))).objections).toMatchObject([
      { code: 'equipment-away' },
    ])
    expect((await studio.api.bookings.tryMove(to(bookingId, { day: '2026-03-11' }))).objections).toEqual([])
  })
})

async function anotherBench(studio: TestStudio): Promise<number> {
  const { openings } = await studio.api.benches.one({ benchId: 1 })
  return (await studio.api.benches.add({ name: 'Bench 2', openings: [...openings] })).benchId
}

async function anotherSpin(studio: TestStudio) {
  const { shootIds } = await aStoredJob(studio, [{ name: 'pot' }], { number: 'J-2026-009' })
  return { shootIds }
}

describe('a move on a day on which the clocks change', () => {
  /** A bench that is open from 01:00 to 06:00 on Sundays, with two blocks of an hour and a half a week before. */
  async function nightBench(timeZone: string, now: string, day: string) {
    const studio = aStudio({ timeZone, now })
    await studio.api.benches.change({
      benchId: 1,
      bench: { name: 'Bench 1', openings: [{ weekday: 7, fromMinute: 60, toMinute: 360 }] },
    })
    const ids: number[] = []
    for (const [index, name] of ['vase', 'jug'].entries()) {
      const { shootIds } = await aStoredJob(studio, [{ name }], { number: `J-2026-00${index + 1}` })
      ids.push(
        await booked(studio, { shootIds, day, fromMinute: 60 + index * 90, toMinute: 150 + index * 90 }),
      )
    }
    return { studio, ids: ids as [number, number] }
  }

  const instants = (studio: TestStudio, ids: readonly number[]) =>
    ids.map((id) => {
      const row = rows(studio).find((one) => one.id === id)
      return [row?.starts_at, row?.ends_at]
    })

  // The clocks: Directive 2000/84/EC for Berlin; for Lord Howe half an hour, as Temporal gives it (2:00 becomes 2:30).
  it.each([
    [
      'Europe/Berlin loses an hour',
      'Europe/Berlin',
      '2026-03-20T08:00:00.000Z',
      '2026-03-22',
      '2026-03-29',
      // 01:00 is 00:00 UTC; an hour and a half later the clock reads 03:30.
      [
        ['2026-03-29T00:00:00.000Z', '2026-03-29T01:30:00.000Z'],
        ['2026-03-29T01:30:00.000Z', '2026-03-29T03:00:00.000Z'],
      ],
    ],
    [
      'Europe/Berlin has an hour twice',
      'Europe/Berlin',
      '2026-10-16T08:00:00.000Z',
      '2026-10-18',
      '2026-10-25',
      // 01:00 is 23:00 UTC of the day before; the second block begins at the first of the two 02:30, at 00:30 UTC.
      [
        ['2026-10-24T23:00:00.000Z', '2026-10-25T00:30:00.000Z'],
        ['2026-10-25T00:30:00.000Z', '2026-10-25T02:00:00.000Z'],
      ],
    ],
    [
      'Lord Howe loses half an hour',
      'Australia/Lord_Howe',
      '2026-09-20T08:00:00.000Z',
      '2026-09-27',
      '2026-10-04',
      // 01:00 at +10:30 is 14:30 UTC of the day before.
      [
        ['2026-10-03T14:30:00.000Z', '2026-10-03T16:00:00.000Z'],
        ['2026-10-03T16:00:00.000Z', '2026-10-03T17:30:00.000Z'],
      ],
    ],
  ])('keeps true lengths where %s', async (_, zone, now, from, day, expected) => {
    const { studio, ids } = await nightBench(zone, now, from)
    const [vase, jug] = ids
    await carryOut(studio, to(jug, { day, fromMinute: 60 }))
    // Let go over the first half of the other, it takes its place, and the other moves along.
    await carryOut(studio, to(vase, { day, fromMinute: 65 }))
    expect(instants(studio, ids)).toEqual(expected)
  })

  it('lays a block that moves along into the second of two equal hours', async () => {
    const { studio, ids } = await nightBench('Europe/Berlin', '2026-10-16T08:00:00.000Z', '2026-10-18')
    const [vase, jug] = ids
    await carryOut(studio, to(jug, { day: '2026-10-25', fromMinute: 60 }))
    await carryOut(studio, to(vase, { day: '2026-10-25', fromMinute: 120 }))
    // 02:00 comes first at 00:00 UTC, where the other block still lies: over its second half, so behind it at 00:30 UTC.
    expect(instants(studio, ids)).toEqual([
      ['2026-10-25T00:30:00.000Z', '2026-10-25T02:00:00.000Z'],
      ['2026-10-24T23:00:00.000Z', '2026-10-25T00:30:00.000Z'],
    ])
  })
})
