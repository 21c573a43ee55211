import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { clockChange } from '../../main/trade/daySheet.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aLight, aPlatter, aRevision, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

/**
 * Two rigs: on the second the platter is larger, the camera nearer and looks down, light A has moved, light B is taken
 * away, backdrop and lens stay.
 */
async function twoRigs({ api }: TestStudio) {
  const [small, large] = [
    await api.platters.add(aPlatter({ name: 'Small platter' })),
    await api.platters.add(aPlatter({ name: 'Large platter', rimMm: 2_440 })),
  ]
  const first = await api.rigs.add({
    rig: { name: 'Glass', sizeClass: 'small', note: null },
    revision: aRevision(small.platterId, { lights: [aLight(45), aLight(315, { kind: 'flat panel' })] }),
  })
  const second = await api.rigs.add({
    rig: { name: 'Steel', sizeClass: 'medium', note: null },
    revision: aRevision(large.platterId, {
      cameraDistanceMm: 1_500,
      cameraTiltDeg: 5,
      lights: [aLight(60, { distanceMm: 800 })],
    }),
  })
  return [first.rigRevisionId, second.rigRevisionId] as const
}

/** A spin on each of two rigs: the first on Friday evening, the second on Monday morning after a set change of half an hour. */
async function overTheWeekend(of: Parameters<typeof aStudio>[0] = {}) {
  const studio = aStudio(of)
  const [glass, steel] = await twoRigs(studio)
  const { shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'pot', massG: 6_400 }])
  const [vase = 0, pot = 0] = shootIds
  const { api, db } = studio
  await api.rigs.plan({ shootIds: [vase], rigRevisionId: glass })
  await api.rigs.plan({ shootIds: [pot], rigRevisionId: steel })
  db.prepare("UPDATE product SET handling_note = 'glass lid, both hands' WHERE name = 'pot'").run()
  db.prepare("UPDATE shoot SET start_pose = 'handle to the right' WHERE id = ?").run(pot)
  await api.bookings.add({
    blocks: [{ benchId: 1, day: '2026-03-06', fromMinute: 795, toMinute: 900, shootIds: [vase] }],
  })
  await api.bookings.add({
    blocks: [
      {
        benchId: 1,
        day: '2026-03-09',
        fromMinute: 540,
        toMinute: 690,
        shootIds: [pot],
        setChangeMinutes: 30,
      },
    ],
  })
  return { studio, api, vase, pot, glass, steel }
}

const sheetOf = ({ api }: TestStudio, day: string) => api.benches.daySheet({ benchId: 1, day })

async function pdfOf(studio: TestStudio, day: string) {
  const { attachmentId } = await studio.api.benches.printDaySheet({ benchId: 1, day })
  const paper = attachmentById(studio.db, attachmentId)
  const { pages } = await readPdf(readFileSync(attachmentPath(studio.folder, paper?.sha256 ?? '')))
  return pages.join(' ').replaceAll(/\s+/gu, ' ')
}

describe('a set change on the day sheet', () => {
  it('goes from what was left standing before the weekend to what comes, part by part', async () => {
    const { studio } = await overTheWeekend()
    const sheet = await sheetOf(studio, '2026-03-09')
    expect(sheet.standingBefore).toEqual({ rig: 'Glass', revision: 1, since: '2026-03-06' })
    const [change, spins] = sheet.blocks
    expect(spins?.steps).toEqual([])
    // Read off the two rigs above; minutes are the studio's own at its start.
    expect(
      change?.steps.map(({ what, from, to }) =>
        [what, from, to].map((text) => text?.replaceAll('\u00a0', ' ')),
      ),
    ).toEqual([
      ['Platter', 'Small platter, rim 1,220 mm, division 1 mm', 'Large platter, rim 2,440 mm, division 1 mm'],
      [
        'Camera',
        'house camera, 1,850 mm from the axis, 220 mm high, level',
        'house camera, 1,500 mm from the axis, 220 mm high, 5° down',
      ],
      [
        'Light A, strip softbox',
        '45° at 900 mm, 400 mm high, falling level',
        '60° at 800 mm, 400 mm high, falling level',
      ],
      ['Light B of before, flat panel', '315° at 900 mm, 400 mm high, falling level', undefined],
    ])
  })

  it('takes as long by its steps as the plan reckons for it', async () => {
    const { studio, api, pot } = await overTheWeekend()
    const [change] = (await sheetOf(studio, '2026-03-09')).blocks
    await api.bookings.cancel({ bookingId: (await sheetOf(studio, '2026-03-09')).blocks[1]?.id ?? 0 })
    const { blocks } = await api.bookings.propose({ benchId: 1, shootIds: [pot], fromDay: '2026-03-09' })
    const minutes = change?.steps.reduce((sum, step) => sum + step.minutes, 0) ?? 0
    expect(minutes).toBeGreaterThan(0)
    expect(Math.ceil(minutes) * 60_000).toBe(blocks[0]?.setChangeMs)
    // Half an hour is booked for it.
    expect(change?.missingMinutes).toBe(Math.max(0, Math.ceil(minutes) - 30))
  })

  it('names what can burn, fall or be stumbled over in just these steps', async () => {
    const { studio } = await overTheWeekend()
    const [change, spins] = (await sheetOf(studio, '2026-03-09')).blocks
    expect(change?.cautions.map(({ about }) => about)).toEqual([
      'lamps',
      'cables',
      'stands',
      'lens',
      'load',
      'lifting',
    ])
    expect(spins?.cautions).toEqual([])
  })

  it('sets everything up on a bench on which nothing stood', async () => {
    const { studio } = await overTheWeekend()
    const sheet = await sheetOf(studio, '2026-03-06')
    expect(sheet.standingBefore).toBeNull()
    const [spins] = sheet.blocks
    expect(spins?.steps.map(({ part, from }) => [part, from])).toEqual([
      ['platter', null],
      ['backdrop', null],
      ['camera', null],
      ['lens', null],
      ['light', null],
      ['light', null],
    ])
  })

  it('is nothing where the rig stands from the evening before, also where it was only built then', async () => {
    const { studio, steel } = await overTheWeekend()
    // The change is made on Friday evening, its spins stay on Monday.
    studio.db
      .prepare(
        `UPDATE booking SET starts_at = '2026-03-06T14:00:00.000Z', ends_at = '2026-03-06T14:30:00.000Z' WHERE kind = 'set change'`,
      )
      .run()
    const friday = await sheetOf(studio, '2026-03-06')
    expect(friday.blocks.at(-1)?.kind).toBe('set change')
    expect(friday.blocks.at(-1)?.steps).toHaveLength(4)
    const monday = await sheetOf(studio, '2026-03-09')
    expect(monday.standingBefore).toMatchObject({ rig: 'Steel', since: '2026-03-06' })
    expect(monday.blocks.map(({ steps }) => steps)).toEqual([[]])
    expect(monday.blocks[0]?.rigRevisionId).toBe(steel)
  })

  it('dials what the next spin wants and the last did not', async () => {
    const { studio, api, vase, pot, glass } = await overTheWeekend()
    const { settingsId } = await api.settings.add({
      focusMm: null,
      apertureCenti: 1100,
      apertureHeld: 'held',
      shutterNum: null,
      shutterDen: null,
      iso: 100,
      whiteBalanceK: null,
      rows: [{ viewAngleDeg: 0, framesPerTurn: 240, overlapFrames: 3 }],
    })
    await api.rigs.plan({ shootIds: [vase], rigRevisionId: glass, settingsId })
    studio.db.prepare('UPDATE shoot SET settings_id = ? WHERE id = ?').run(settingsId, pot)
    const [friday] = (await sheetOf(studio, '2026-03-06')).blocks
    expect(friday?.steps.at(-1)).toMatchObject({ part: 'settings', what: 'Settings', from: null })
    expect(friday?.steps.at(-1)?.to).toMatch(/^240 \+ 3 frames, f\/11/)
    const [monday] = (await sheetOf(studio, '2026-03-09')).blocks
    expect(monday?.steps.map(({ part }) => part)).not.toContain('settings')
  })
})

describe('the paper', () => {
  it.each(['A4', 'Letter'] as const)('says all of it on %s', async (paper) => {
    const { studio } = await overTheWeekend()
    studio.db.prepare('UPDATE studio SET paper = ?').run(paper)
    const words = await pdfOf(studio, '2026-03-09')
    for (const said of [
      'Bench 1, Monday 9 March 2026',
      'Glass, revision 1, since 6 March 2026',
      '09:00 to 09:30 Set change to Steel, revision 1',
      '1. Platter',
      'Small platter, rim 1,220 mm, division 1 mm',
      '3. Light A, strip softbox',
      '45° at 900 mm, 400 mm high',
      'taken away',
      'At this change',
      'stay hot after they are off',
      '09:30 to 11:30',
      '1. J-2026-001-pot',
      'pot; start: handle to the right; glass lid, both hands',
      // 2,440 mm of rim in 244 frames are 10 mm a step.
      '244 + 3, every 10 mm',
      'shelf 2, 6.4 kg',
      'Lift heavy or fragile goods',
    ]) {
      // A cell breaks its lines where its column ends, so words are looked for without their spaces.
      expect(words.replaceAll(/\s/gu, '')).toContain(said.replaceAll(/\s/gu, ''))
    }
  })

  it('says that nothing is booked, why the bench is closed, and that the clocks change', async () => {
    const studio = aStudio()
    await studio.api.benches.addClosure({
      benchId: null,
      fromDay: '2026-03-29',
      toDay: '2026-03-29',
      reason: 'Mill Day',
    })
    const words = await pdfOf(studio, '2026-03-29')
    expect(words).toContain('The bench is closed: Mill Day.')
    expect(words).toContain('The clocks go forward by 60 minutes on this day.')
    expect(words).toContain('Nothing is booked on this day.')
  })
})

describe('a day on which the clocks change', () => {
  // By the IANA time-zone database; Lord Howe moves by half an hour.
  it.each([
    ['Europe/Berlin', '2026-03-29', 'forward by 60'],
    ['Europe/Berlin', '2026-10-25', 'back by 60'],
    ['America/New_York', '2026-03-08', 'forward by 60'],
    ['America/New_York', '2026-11-01', 'back by 60'],
    ['Australia/Lord_Howe', '2026-10-04', 'forward by 30'],
    ['Australia/Lord_Howe', '2026-04-05', 'back by 30'],
  ])('is said in %s on %s', (zone, day, said) => {
    expect(clockChange(day, zone)?.replaceAll('\u00a0', ' ')).toContain(
      `The clocks go ${said} minutes on this day`,
    )
    expect(clockChange('2026-06-15', zone)).toBeNull()
  })

  it.each([
    ['Europe/Berlin', '2026-03-29', 120],
    ['Europe/Berlin', '2026-10-25', 240],
    ['America/New_York', '2026-03-08', 120],
    ['America/New_York', '2026-11-01', 240],
    ['Australia/Lord_Howe', '2026-10-04', 150],
  ])(
    'lists in %s on %s what is booked by the clock, with the minutes that really pass',
    async (timeZone, day, minutes) => {
      const studio = aStudio({ timeZone })
      const { benchId } = await studio.api.benches.add({
        name: 'Night bench',
        openings: [{ weekday: 7, fromMinute: 0, toMinute: 1440 }],
      })
      await studio.api.bookings.add({
        blocks: [
          { benchId, kind: 'other', title: 'cleaning', day, fromMinute: 60, toMinute: 240 },
          { benchId, kind: 'other', title: 'late', day, fromMinute: 1410, toMinute: 1440 },
        ],
      })
      const { blocks } = await studio.api.benches.daySheet({ benchId, day })
      expect(blocks.map((block) => [block.title, block.fromMinute, block.toMinute, block.minutes])).toEqual([
        ['cleaning', 60, 240, minutes],
        ['late', 1410, 1440, 30],
      ])
      const dayAfter = new Date(Date.parse(day) + 86_400_000).toISOString().slice(0, 10)
      expect((await studio.api.benches.daySheet({ benchId, day: dayAfter })).blocks).toEqual([])
    },
  )
})
