import { describe, expect, it } from 'vitest'
import { aStudio, type TestStudio } from '../studio.ts'

/** A calendar of whole days, by their names. 2026-05-01 is a Friday, 2026-08-15 a Saturday. */
function aCalendar(
  days: Readonly<Record<string, string>>,
  more: Readonly<Record<string, string>> = {},
): string {
  const events = Object.entries(days).flatMap(([uid, day]) => [
    'BEGIN:VEVENT',
    `UID:${uid}`,
    `SUMMARY:${uid}`,
    `DTSTART;VALUE=DATE:${day.replaceAll('-', '')}`,
    ...(more[uid] ? [more[uid]] : []),
    'END:VEVENT',
  ])
  return ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:x', ...events, 'END:VCALENDAR', ''].join('\r\n')
}

const take = (studio: TestStudio, text: string, ...sourceUids: readonly string[]) =>
  studio.api.holidays.take({ text, fileName: 'holidays.ics', sourceUids: [...sourceUids] })
const closures = async ({ api }: TestStudio) =>
  (await api.benches.closures({ fromDay: '2026-01-01', toDay: '9999-12-31' })).map(
    ({ fromDay, toDay, reason, benchId }) => [fromDay, toDay, reason, benchId],
  )

describe('taking in holidays', () => {
  it('shows what would be closed and writes nothing', async () => {
    const studio = aStudio()
    await studio.api.benches.addClosure({
      benchId: null,
      fromDay: '2026-06-01',
      toDay: '2026-06-05',
      reason: 'stocktaking',
    })
    const text = aCalendar({ Mill: '2026-05-01', Bridge: '2026-06-02', Tower: '2026-08-15' })
    const preview = await studio.api.holidays.preview({ text })
    expect(
      preview.holidays.map(({ name, does, closedBy, isShutAnyway }) => [name, does, closedBy, isShutAnyway]),
    ).toEqual([
      ['Mill', 'closes', null, false],
      ['Bridge', 'closes', 'stocktaking', false],
      ['Tower', 'closes', null, true],
    ])
    expect([preview.fromDay, preview.toDay]).toEqual(['2026-03-02', '2028-12-31'])
    expect(await closures(studio)).toHaveLength(1)
  })

  it('closes the whole studio on the chosen days, and nothing is booked or promised on them', async () => {
    const studio = aStudio()
    const text = aCalendar({ Mill: '2026-05-01', Bridge: '2026-06-02' })
    expect(await take(studio, text, 'Mill')).toEqual({ closed: 1, changed: 0, opened: 0, blocks: 0 })
    expect(await closures(studio)).toEqual([['2026-05-01', '2026-05-01', 'Mill', null]])
    await expect(
      studio.api.bookings.add({
        blocks: [
          { benchId: 1, kind: 'other', title: 'x', day: '2026-05-01', fromMinute: 540, toMinute: 600 },
        ],
      }),
    ).rejects.toThrow('closed on 2026-05-01: Mill')
  })

  it('never doubles a day, however often the file is taken', async () => {
    const studio = aStudio()
    const text = aCalendar({ Mill: '2026-05-01', Fair: '2025-06-01' }, { Fair: 'RRULE:FREQ=YEARLY' })
    const all = (await studio.api.holidays.preview({ text })).holidays.map(({ sourceUid }) => sourceUid)
    await take(studio, text, ...all)
    const first = await closures(studio)
    expect(first).toHaveLength(4)
    expect((await studio.api.holidays.preview({ text })).holidays.map(({ does }) => does)).toEqual([
      'nothing',
      'nothing',
      'nothing',
      'nothing',
    ])
    await expect(take(studio, text, ...all)).rejects.toThrow('in the studio already')
    // A year later the same file reaches a year further.
    studio.setNow('2027-03-02T08:00:00.000Z')
    const later = await studio.api.holidays.preview({ text })
    expect(later.holidays.map(({ fromDay, does }) => [fromDay, does])).toEqual([
      ['2027-06-01', 'nothing'],
      ['2028-06-01', 'nothing'],
      ['2029-06-01', 'closes'],
    ])
    expect(await closures(studio)).toEqual(first)
  })

  it('changes a day that has moved or is called otherwise, and opens one that is called off', async () => {
    const studio = aStudio()
    await take(studio, aCalendar({ Mill: '2026-05-01', Fair: '2026-06-02' }), 'Mill', 'Fair')
    const moved = aCalendar({ Mill: '2026-05-04', Fair: '2026-06-02' }, { Fair: 'STATUS:CANCELLED' })
    const { holidays } = await studio.api.holidays.preview({ text: moved })
    expect(holidays.map(({ name, does, before }) => [name, does, before?.fromDay])).toEqual([
      ['Mill', 'changes', '2026-05-01'],
      ['Fair', 'opens', '2026-06-02'],
    ])
    expect(await take(studio, moved, 'Mill', 'Fair')).toEqual({ closed: 0, changed: 1, opened: 1, blocks: 0 })
    expect(await closures(studio)).toEqual([['2026-05-04', '2026-05-04', 'Mill', null]])
  })

  it('leaves out what was called off and never known', async () => {
    const { api } = aStudio()
    const text = aCalendar({ Mill: '2026-05-01', Fair: '2026-06-02' }, { Fair: 'STATUS:CANCELLED' })
    expect((await api.holidays.preview({ text })).holidays.map(({ name }) => name)).toEqual(['Mill'])
  })

  it('says which booked blocks lie on the days; they stay', async () => {
    const studio = aStudio()
    await studio.api.bookings.add({
      blocks: [
        { benchId: 1, kind: 'other', title: 'wiring', day: '2026-05-01', fromMinute: 540, toMinute: 600 },
      ],
    })
    const text = aCalendar({ Mill: '2026-05-01' })
    const { holidays } = await studio.api.holidays.preview({ text })
    expect(holidays[0]?.blocks).toMatchObject([
      { bench: 'Bench 1', day: '2026-05-01', fromMinute: 540, toMinute: 600, what: 'wiring' },
    ])
    expect(await take(studio, text, 'Mill')).toMatchObject({ closed: 1, blocks: 1 })
    expect(studio.db.prepare('SELECT cancelled_at FROM booking').pluck().all()).toEqual([null])
  })

  // A whole day is that day on the studio's calendar, on the days on which the clocks change too (IANA database).
  it.each([
    ['Europe/Berlin', '2026-03-29'],
    ['Europe/Berlin', '2026-10-25'],
    ['America/New_York', '2026-03-08'],
    ['Australia/Lord_Howe', '2026-10-04'],
  ])('closes in %s on %s exactly that day', async (timeZone, day) => {
    const studio = aStudio({ timeZone })
    const { benchId } = await studio.api.benches.add({
      name: 'Every day',
      openings: [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, fromMinute: 0, toMinute: 1440 })),
    })
    await take(studio, aCalendar({ Mill: day }), 'Mill')
    const before = new Date(Date.parse(day) - 86_400_000).toISOString().slice(0, 10)
    const plan = await studio.api.benches.plan({ firstDay: before, days: 3 })
    const bench = plan.benches.find((one) => one.benchId === benchId)
    expect(bench?.days.map(({ closed }) => closed)).toEqual([null, 'Mill', null])
  })

  it('takes all of them or none, and refuses an empty, a huge and a wrong file', async () => {
    const { api } = aStudio()
    await expect(api.holidays.preview({ text: '' })).rejects.toThrow('This file is empty.')
    await expect(api.holidays.preview({ text: 'x'.repeat(2_000_001) })).rejects.toThrow('over 2 MB')
    await expect(api.holidays.preview({ text: 'name;day\r\nMill;2026-05-01' })).rejects.toThrow(
      'is no calendar',
    )
    await expect(
      api.holidays.take({ text: aCalendar({ Mill: '2026-05-01' }), fileName: 'a.ics', sourceUids: [] }),
    ).rejects.toThrow('No day is chosen')
  })
})
