import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { refreshStanding } from '../../db/standing.ts'
import { mostTakenAtOnce, piecesOut } from '../../main/trade/outage.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aLight, aPlatter, aRevision, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

/** A rig whose lights and lens may be named pieces of equipment. */
async function aRigOf(
  { api }: TestStudio,
  name: string,
  of: { lamps?: readonly number[]; platterId?: number; platter?: Parameters<typeof aPlatter>[0] } = {},
) {
  const platterId =
    of.platterId ?? (await api.platters.add(aPlatter({ name: `${name} platter`, ...of.platter }))).platterId
  const lights = (of.lamps ?? []).map((equipmentId, index) =>
    aLight(45 + 90 * index, { equipmentId: equipmentId as never }),
  )
  const made = await api.rigs.add({
    rig: { name, sizeClass: 'small', note: null },
    revision: aRevision(platterId, { lights: [...lights, aLight(315)] }),
  })
  return { platterId, ...made }
}

async function aLamp({ api }: TestStudio, count = 1, name = 'Lamp 2') {
  return (await api.equipment.add({ name, kind: 'light', count })).equipmentId
}

let jobs = 0
async function aJobOn(studio: TestStudio, rigRevisionId: number, spins: number, dueDay = '2026-03-06') {
  jobs += 1
  const job = await aStoredJob(
    studio,
    Array.from({ length: spins }, (_, index) => ({ name: `piece ${index + 1}`, estimateMs: 3_600_000 })),
    { number: `J-2026-${100 + jobs}` },
  )
  studio.db.prepare('UPDATE job SET due_day = ? WHERE id = ?').run(dueDay, job.jobId)
  await studio.api.rigs.plan({ shootIds: job.shootIds, rigRevisionId })
  refreshStanding(studio.writing, job.jobId)
  return job
}

const tuesday = '2026-03-03'

function book(studio: TestStudio, shootIds: readonly number[], of: Record<string, unknown> = {}) {
  return studio.api.bookings.add({
    blocks: [
      { benchId: 1, day: tuesday, fromMinute: 540, toMinute: 660, shootIds: [...shootIds] as never, ...of },
    ],
  })
}

/** Out from today, a Monday, to Friday. */
function effects({ api }: TestStudio, equipmentId: number, of: Record<string, unknown> = {}) {
  return api.outages.effects({
    thing: { kind: 'equipment', id: equipmentId },
    fromDay: '2026-03-02',
    toDay: '2026-03-06',
    ...of,
  } as never)
}

async function aSecondBench({ api }: TestStudio) {
  const [bench] = await api.benches.list()
  if (!bench) throw new Error('The studio has no bench.')
  const { benchId } = await api.benches.add({ name: 'Bench 2', openings: [...bench.openings] })
  const { personId } = await api.studio.addPerson({ name: 'Jo Tern', role: null, hourMinor: 0, turns: true })
  return { benchId, personId }
}

describe('a lamp that is out until Friday', () => {
  it('lists the forty blocks due first and counts the rest, so that a long outage is answered at once too', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const { rigRevisionId } = await aRigOf(studio, 'One lamp', { lamps: [lamp] })
    const { shootIds } = await aJobOn(studio, rigRevisionId, 42)
    await studio.api.bookings.add({
      blocks: shootIds.map((shootId, index) => ({
        benchId: 1 as never,
        day: tuesday,
        fromMinute: 540 + 5 * index,
        toMinute: 545 + 5 * index,
        shootIds: [shootId] as never,
      })),
    })
    const answer = await effects(studio, lamp)
    expect(answer.blocks).toHaveLength(40)
    expect(answer).toMatchObject({ blocksTouched: 42, spinsTouched: 42 })
  })

  it('lists the booked spins that fall into it, where they find room afterwards, and how late that is', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    const job = await aJobOn(studio, rig.rigRevisionId, 2)
    await book(studio, job.shootIds)
    const out = await effects(studio, lamp)
    expect(out).toMatchObject({ name: 'Lamp 2', count: 1, isNoted: false, firstDayBack: '2026-03-09' })
    expect(out.blocks).toMatchObject([
      {
        bench: 'Bench 1',
        day: tuesday,
        names: ['piece 1', 'piece 2'],
        dueDay: '2026-03-06',
        // Back on Saturday; the bench opens on Monday at nine, three days after Friday.
        room: { day: '2026-03-09', fromMinute: 540, toMinute: 660 },
        daysLate: 3,
      },
    ])
    expect(studio.db.prepare('SELECT count(*) FROM equipment_outage').pluck().get()).toBe(0)
  })

  it('gives every block a room of its own, the earliest due first, and none where nobody knows the day', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    const calm = await aJobOn(studio, rig.rigRevisionId, 2, '2026-03-20')
    const rush = await aJobOn(studio, rig.rigRevisionId, 2, '2026-03-04')
    await book(studio, calm.shootIds)
    await book(studio, rush.shootIds, { fromMinute: 660, toMinute: 745 })
    const { blocks } = await effects(studio, lamp)
    expect(blocks.map(({ jobId, room, daysLate }) => [jobId, room?.fromMinute, daysLate])).toEqual([
      [rush.jobId, 540, 5],
      [calm.jobId, 625, 0],
    ])
    const open = await effects(studio, lamp, { toDay: null })
    expect(open.blocks.map(({ room, daysLate }) => [room, daysLate])).toEqual([
      [null, 0],
      [null, 0],
    ])
    expect(open.firstDayBack).toBeNull()
  })

  it('lists the spins that wait for a place on a rig with it, with the days late at least', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    const other = await aRigOf(studio, 'Two')
    const job = await aJobOn(studio, rig.rigRevisionId, 3)
    await aJobOn(studio, other.rigRevisionId, 1)
    const { waiting, blocks } = await effects(studio, lamp)
    expect(blocks).toEqual([])
    expect(waiting).toMatchObject([{ jobId: job.jobId, spins: 3, rig: 'One', daysLate: 3 }])
  })

  it('is known as noted once it is, and touches the same', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    await book(studio, (await aJobOn(studio, rig.rigRevisionId, 1)).shootIds)
    const asked = await effects(studio, lamp)
    await studio.api.equipment.addOutage({
      equipmentId: lamp,
      kind: 'repair',
      fromDay: '2026-03-02',
      toDay: '2026-03-06',
      reason: null,
    })
    const noted = await effects(studio, lamp)
    expect(noted).toEqual({ ...asked, isNoted: true })
  })

  it('leaves blocks after it, before it and on other rigs alone', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    const other = await aRigOf(studio, 'Two')
    await book(studio, (await aJobOn(studio, rig.rigRevisionId, 1)).shootIds, { day: '2026-03-09' })
    await book(studio, (await aJobOn(studio, other.rigRevisionId, 1)).shootIds)
    expect((await effects(studio, lamp)).blocks).toEqual([])
    expect((await effects(studio, lamp, { toDay: '2026-03-09' })).blocks).toHaveLength(1)
  })

  it('refuses days the wrong way round and what is not in the studio', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    await expect(effects(studio, lamp, { toDay: '2026-03-01' })).rejects.toThrow('before the first')
    await expect(effects(studio, 99)).rejects.toMatchObject({ cause: { code: 'not-in-studio' } })
  })
})

describe('one of two lamps alike that is out', () => {
  it('touches nobody while one is enough, and both benches where both want one at the same time', async () => {
    const studio = aStudio()
    const { benchId, personId } = await aSecondBench(studio)
    const lamp = await aLamp(studio, 2)
    const one = await aRigOf(studio, 'One', { lamps: [lamp] })
    const two = await aRigOf(studio, 'Two', { lamps: [lamp] })
    await book(studio, (await aJobOn(studio, one.rigRevisionId, 1)).shootIds)
    expect((await effects(studio, lamp)).blocks).toEqual([])
    const other = await aJobOn(studio, two.rigRevisionId, 1)
    await book(studio, other.shootIds, {
      benchId,
      personIds: [personId],
      fromMinute: 660,
      toMinute: 720,
    })
    // The one block ends as the other begins.
    expect((await effects(studio, lamp)).blocks).toEqual([])
    const third = await aJobOn(studio, two.rigRevisionId, 1)
    await book(studio, third.shootIds, { benchId, personIds: [personId], fromMinute: 600, toMinute: 660 })
    const { blocks } = await effects(studio, lamp)
    expect(blocks.map(({ bench, fromMinute }) => [bench, fromMinute])).toEqual([
      ['Bench 1', 540],
      ['Bench 2', 600],
    ])
  })

  it('touches a rig that takes both', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio, 2)
    const both = await aRigOf(studio, 'Both', { lamps: [lamp, lamp] })
    await book(studio, (await aJobOn(studio, both.rigRevisionId, 1)).shootIds)
    expect((await effects(studio, lamp)).blocks).toHaveLength(1)
  })

  it('lets a block be booked while enough are left, and refuses it where they are not', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio, 2)
    const one = await aRigOf(studio, 'One', { lamps: [lamp] })
    const both = await aRigOf(studio, 'Both', { lamps: [lamp, lamp] })
    await studio.api.equipment.addOutage({
      equipmentId: lamp,
      kind: 'away',
      fromDay: '2026-03-02',
      toDay: '2026-03-06',
      reason: null,
    })
    await book(studio, (await aJobOn(studio, one.rigRevisionId, 1)).shootIds)
    const job = await aJobOn(studio, both.rigRevisionId, 1)
    await expect(book(studio, job.shootIds, { fromMinute: 660, toMinute: 720 })).rejects.toMatchObject({
      cause: { code: 'equipment-away', canOverrule: true },
    })
  })
})

describe('other rigs for spins whose lamp is out', () => {
  it('are those whose parts are here, with what differs, and without those that cannot hold the spins', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const planned = await aRigOf(studio, 'Planned', { lamps: [lamp] })
    await aRigOf(studio, 'Same lamp', { lamps: [lamp] })
    await aRigOf(studio, 'Good')
    await aRigOf(studio, 'Weak', { platter: { loadLimitG: 100 } })
    await aRigOf(studio, 'Narrow', { platter: { rimMm: 400 } })
    const job = await aJobOn(studio, planned.rigRevisionId, 1)
    studio.db.prepare(`UPDATE product SET width_um = 120000, depth_um = 90000, height_um = 100000`).run()
    await book(studio, job.shootIds)
    const [block] = (await effects(studio, lamp)).blocks
    expect(block?.others?.offered.map(({ name, differs }) => [name, differs])).toEqual([
      ['Good', 'platter, 1\u00a0light'],
    ])
    // Its rim of 400 mm is 127 mm across; a box of 120 by 90 mm sweeps its diagonal, 150 mm.
    expect(block?.others?.leftOut).toEqual([
      "Same lamp: 'Lamp 2' is not here or on another bench then.",
      'Narrow: its platter is 127\u00a0mm across, and the widest of them sweeps 150\u00a0mm.',
      'Weak: its platter, Weak platter, does not carry them.',
    ])
    expect(block?.others?.hasYes).toBe(false)
  })

  it('are ranked by what clients approved on them, and a family with a yes on the planned rig should wait', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const planned = await aRigOf(studio, 'Planned', { lamps: [lamp] })
    await aRigOf(studio, 'Never used')
    const proven = await aRigOf(studio, 'Proven')
    const { db, writing } = studio
    const job = await aJobOn(studio, planned.rigRevisionId, 2)
    const { familyId } = await studio.api.families.add({
      clientId: job.clientId,
      family: { name: 'Tall vases' },
    } as never)
    db.prepare('UPDATE product SET family_id = ?').run(familyId)
    const settings = db
      .prepare('INSERT INTO settings (created_at) VALUES (?)')
      .run(writing.now).lastInsertRowid
    const answered = (shootId: number, rig: typeof planned, number: number) => {
      const take = db
        .prepare(
          `INSERT INTO take (shoot_id, row, number, rig_revision_id, settings_id, bench_id, person_id, device_id,
             frames_per_turn, overlap_frames, started_at, ended_at, frames_shot, verdict)
           VALUES (?, 1, ?, ?, ?, 1, ?, ?, 24, 0, ?, ?, 24, 'keep')`,
        )
        .run(
          shootId,
          number,
          rig.rigRevisionId,
          settings,
          writing.who.personId,
          writing.who.deviceId,
          writing.now,
          writing.now,
        ).lastInsertRowid
      db.prepare(`INSERT INTO rig_answer VALUES (?, ?, ?, 1, ?, 'matt', -1)`).run(
        rig.rigId,
        shootId,
        take,
        writing.now,
      )
    }
    answered(Number(job.shootIds[0]), proven, 1)
    await book(studio, job.shootIds.slice(1))
    const before = (await effects(studio, lamp)).blocks[0]?.others
    expect(before?.offered.map(({ name }) => name)).toEqual(['Proven', 'Never used'])
    expect(before?.hasYes).toBe(false)
    answered(Number(job.shootIds[0]), planned, 2)
    const after = (await effects(studio, lamp)).blocks[0]?.others
    expect(after).toMatchObject({
      hasYes: true,
      caution:
        'The client said yes to the family Tall vases on Planned, and another rig may look different. Let them wait, unless the client agrees.',
    })
  })

  it('leave the list of what waits once the spins are planned on one of them, booked or not', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const planned = await aRigOf(studio, 'Planned', { lamps: [lamp] })
    await aRigOf(studio, 'Good')
    const job = await aJobOn(studio, planned.rigRevisionId, 40)
    await book(studio, job.shootIds.slice(0, 2))
    const { blocks, waiting } = await effects(studio, lamp)
    const [block] = blocks
    const [group] = waiting
    expect(group?.spins).toBe(38)
    for (const work of [block, group]) {
      await studio.api.rigs.plan({
        shootIds: [...(work?.shootIds ?? [])],
        rigRevisionId: Number(work?.others?.offered[0]?.rigRevisionId),
      })
    }
    expect(await effects(studio, lamp)).toMatchObject({ blocks: [], waiting: [] })
    expect((await studio.api.bookings.ofJob({ jobId: job.jobId })).map(({ rig }) => rig)).toEqual(['Good'])
  })
})

describe('waiting until it is back', () => {
  it('moves blocks with their set changes to the rooms that were found, all of them or none', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    const first = await aJobOn(studio, rig.rigRevisionId, 1)
    const second = await aJobOn(studio, rig.rigRevisionId, 1)
    await book(studio, first.shootIds, { setChangeMinutes: 30 })
    await book(studio, second.shootIds, { fromMinute: 660, toMinute: 745 })
    const { blocks } = await effects(studio, lamp)
    const moves = blocks.flatMap(({ bookingId, benchId, room }) =>
      room ? [{ bookingId, benchId, day: room.day, fromMinute: room.fromMinute }] : [],
    )
    expect(moves).toHaveLength(2)
    await expect(
      studio.api.outages.wait({ moves: [...moves, { ...moves[0], day: '2026-03-08' } as never] }),
    ).rejects.toThrow('no opening hours')
    expect((await effects(studio, lamp)).blocks).toEqual(blocks)
    await studio.api.outages.wait({ moves })
    expect((await effects(studio, lamp)).blocks).toEqual([])
    const booked = await studio.api.bookings.ofJob({ jobId: first.jobId })
    expect(booked.map(({ kind, day, fromMinute, toMinute }) => [kind, day, fromMinute, toMinute])).toEqual([
      ['set change', '2026-03-09', 540, 570],
      ['spins', '2026-03-09', 570, 660],
    ])
  })
})

describe('a platter or a person that is out', () => {
  it('touches the blocks on that platter, and no rig on it is offered', async () => {
    const studio = aStudio()
    const one = await aRigOf(studio, 'One')
    await aRigOf(studio, 'Sister', { platterId: one.platterId })
    await aRigOf(studio, 'Other')
    await book(studio, (await aJobOn(studio, one.rigRevisionId, 1)).shootIds)
    const out = await studio.api.outages.effects({
      thing: { kind: 'platter', id: one.platterId },
      fromDay: '2026-03-02',
      toDay: '2026-03-06',
    })
    expect(out.blocks[0]?.others?.offered.map(({ name }) => name)).toEqual(['Other'])
    expect(out.blocks[0]?.others?.leftOut).toEqual(['Sister: it stands on the same platter.'])
  })

  it('touches the blocks of whoever is away', async () => {
    const studio = aStudio()
    const one = await aRigOf(studio, 'One')
    await book(studio, (await aJobOn(studio, one.rigRevisionId, 1)).shootIds)
    const out = await studio.api.outages.effects({
      thing: { kind: 'person', id: 1 as never },
      fromDay: '2026-03-02',
      toDay: '2026-03-06',
    })
    expect(out.blocks).toMatchObject([{ day: tuesday, room: { day: '2026-03-09' } }])
    expect(out.waiting).toEqual([])
  })
})

describe('how many pieces are taken', () => {
  const minute = (at: number) => new Date(Date.UTC(2026, 2, 3, 8, at)).toISOString()
  const taking = fc
    .record({
      from: fc.nat(60),
      length: fc.integer({ min: 1, max: 30 }),
      needed: fc.integer({ min: 1, max: 3 }),
    })
    .map(({ from, length, needed }) => ({ startsAt: minute(from), endsAt: minute(from + length), needed }))

  it('is at most at once what the fullest minute holds', () => {
    fc.assert(
      fc.property(taking, fc.array(taking, { maxLength: 8 }), (stretch, others) => {
        const at = (index: number) => new Date(Date.parse(stretch.startsAt) + index * 60_000).toISOString()
        const minutes = (Date.parse(stretch.endsAt) - Date.parse(stretch.startsAt)) / 60_000
        const counts = Array.from({ length: minutes }, (_, index) =>
          others
            .filter(({ startsAt, endsAt }) => startsAt <= at(index) && endsAt > at(index))
            .reduce((sum, { needed }) => sum + needed, 0),
        )
        expect(mostTakenAtOnce(stretch, others)).toBe(Math.max(...counts))
      }),
    )
  })

  it('counts both ends of an outage, and one without an end for ever', () => {
    const outages = [
      { fromDay: '2026-03-02', toDay: '2026-03-04' },
      { fromDay: '2026-03-04', toDay: null },
    ]
    expect(
      ['2026-03-01', '2026-03-02', '2026-03-04', '2026-03-05', '2030-01-01'].map((day) =>
        piecesOut(outages, day),
      ),
    ).toEqual([0, 1, 2, 1, 1])
  })
})

describe('the queries of what is out', () => {
  it('read no large table from end to end', async () => {
    const studio = aStudio()
    const lamp = await aLamp(studio)
    const rig = await aRigOf(studio, 'One', { lamps: [lamp] })
    await aRigOf(studio, 'Two')
    const job = await aJobOn(studio, rig.rigRevisionId, 3)
    await book(studio, job.shootIds.slice(0, 1))
    // Rigs and equipment are read whole, once: they grow with the shelf, not with the years.
    const small =
      /^SCAN (rig|rig_light|rig_equipment|rig_evidence|equipment|equipment_outage|\(subquery-\d\)):/u
    const scans = await scansDuring(studio.db, () => effects(studio, lamp))
    expect(scans.filter((scan) => !small.test(scan))).toEqual([])
  })
})
