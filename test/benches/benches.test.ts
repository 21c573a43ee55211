import { describe, expect, it } from 'vitest'
import { checkHours, endMinute, hoursOn, timesOf } from '../../main/trade/bench.ts'
import { minutesBetween } from '../../main/trade/calendar.ts'
import { marksText } from '../../main/trade/daySheet.ts'
import { aStudio } from '../studio.ts'

const zone = 'Europe/Berlin'
const night = [{ weekday: 7, fromMinute: 0, toMinute: 360 }]

describe('opening hours', () => {
  it('joins stretches that touch and keeps the lunch break', () => {
    const openings = [
      { weekday: 1, fromMinute: 600, toMinute: 720 },
      { weekday: 1, fromMinute: 540, toMinute: 600 },
      { weekday: 1, fromMinute: 780, toMinute: 1020 },
      { weekday: 2, fromMinute: 0, toMinute: 1440 },
    ]
    // 2026-03-02 is a Monday (ISO 8601 week 2026-W10).
    expect(hoursOn('2026-03-02', openings)).toEqual([
      { fromMinute: 540, toMinute: 720 },
      { fromMinute: 780, toMinute: 1020 },
    ])
    expect(hoursOn('2026-03-01', openings)).toEqual([])
  })

  it('refuses a block outside them, over closing time, and on a closed day, each with what to do', () => {
    const openings = [{ weekday: 1, fromMinute: 540, toMinute: 750 }]
    const check = (fromMinute: number, toMinute: number, closures = [] as Parameters<typeof checkHours>[4]) =>
      checkHours('Bench 1', '2026-03-02', { fromMinute, toMinute }, openings, closures)
    expect(() => check(480, 600)).toThrow(
      'Bench 1 is open 09:00 to 12:30 on 2026-03-02. Start at 09:00 or choose another day.',
    )
    expect(() => check(700, 800)).toThrow('a turn is not broken over closing time. End by 12:30')
    expect(() => check(540, 750)).not.toThrow()
    expect(() =>
      check(540, 600, [{ fromDay: '2026-03-01', toDay: '2026-03-02', reason: 'floor painted' }]),
    ).toThrow('Bench 1 is closed on 2026-03-02: floor painted.')
  })

  it('refuses an end that is not after the start', () => {
    expect(() => timesOf('2026-03-02', { fromMinute: 600, toMinute: 600 }, zone)).toThrow(
      'From 10:00 to 10:00 on 2026-03-02 is no stretch of time.',
    )
  })
})

describe('days on which the clocks change', () => {
  it('counts two hours from 01:00 to 04:00 when an hour is left out, and four when it comes twice', () => {
    // Europe/Berlin: clocks go from 02:00 to 03:00 on 2026-03-29 and from 03:00 to 02:00 on 2026-10-25 (IANA tzdata).
    const stretch = { fromMinute: 60, toMinute: 240 }
    const spring = timesOf('2026-03-29', stretch, zone)
    expect([spring.startsAt.toISOString(), spring.endsAt.toISOString()]).toEqual([
      '2026-03-29T00:00:00.000Z',
      '2026-03-29T02:00:00.000Z',
    ])
    const autumn = timesOf('2026-10-25', stretch, zone)
    expect(minutesBetween(autumn.startsAt, autumn.endsAt)).toBe(240)
  })

  it('reads a clock time that is left out or comes twice as RFC 5545 does', () => {
    // Temporal's 'compatible': 02:30 on 2026-03-29 is 03:30+02:00 = 01:30Z; on 2026-10-25 it is 02:30+02:00 = 00:30Z.
    expect(timesOf('2026-03-29', { fromMinute: 150, toMinute: 300 }, zone).startsAt.toISOString()).toBe(
      '2026-03-29T01:30:00.000Z',
    )
    expect(timesOf('2026-10-25', { fromMinute: 150, toMinute: 300 }, zone).startsAt.toISOString()).toBe(
      '2026-10-25T00:30:00.000Z',
    )
  })

  it('ends three hours of work an hour later by the clock in spring and an hour earlier in autumn', () => {
    const threeHours = 3 * 3_600_000
    expect(endMinute('2026-03-29', 60, threeHours, zone)).toBe(5 * 60)
    expect(endMinute('2026-10-25', 60, threeHours, zone)).toBe(3 * 60)
    expect(endMinute('2026-03-28', 60, threeHours, zone)).toBe(4 * 60)
  })

  it('counts on past midnight, where no opening hours are', () => {
    expect(endMinute('2026-03-28', 1380, 7_200_000, zone)).toBe(1500)
  })

  it('books a night bench right across the change', async () => {
    const { api, db } = aStudio()
    const { benchId } = await api.benches.add({ name: 'Night bench', openings: night })
    await api.bookings.add({
      blocks: [
        { benchId, kind: 'other', title: 'cleaning', day: '2026-03-29', fromMinute: 60, toMinute: 240 },
        { benchId, kind: 'other', title: 'cleaning', day: '2026-10-25', fromMinute: 60, toMinute: 240 },
      ],
    })
    expect(db.prepare('SELECT starts_at, ends_at FROM booking ORDER BY starts_at').raw().all()).toEqual([
      ['2026-03-29T00:00:00.000Z', '2026-03-29T02:00:00.000Z'],
      ['2026-10-24T23:00:00.000Z', '2026-10-25T03:00:00.000Z'],
    ])
    const { benches } = await api.benches.plan({ firstDay: '2026-10-25', days: 1 })
    const [block] = benches.find((bench) => bench.benchId === benchId)?.days[0]?.bookings ?? []
    expect([block?.day, block?.fromMinute, block?.toMinute]).toEqual(['2026-10-25', 60, 240])
  })
})

describe('benches', () => {
  it('starts a new studio with a bench that has hours', async () => {
    const { api } = aStudio()
    const [bench] = await api.benches.list()
    expect(bench?.openings.length).toBeGreaterThan(0)
  })

  it('refuses opening hours of one day that overlap, and a closing time before the opening', async () => {
    const { api } = aStudio()
    const bench = (openings: { weekday: number; fromMinute: number; toMinute: number }[]) =>
      api.benches.add({ name: 'Second', openings })
    await expect(
      bench([
        { weekday: 1, fromMinute: 540, toMinute: 720 },
        { weekday: 1, fromMinute: 700, toMinute: 900 },
      ]),
    ).rejects.toThrow('Two opening hours of one day overlap')
    await expect(bench([{ weekday: 1, fromMinute: 720, toMinute: 540 }])).rejects.toThrow(
      'closes before it opens',
    )
  })

  it('closes the whole studio or one bench, and shows why on the plan', async () => {
    const { api } = aStudio()
    const [first] = await api.benches.list()
    const { benchId } = await api.benches.add({
      name: 'Second',
      openings: [{ weekday: 1, fromMinute: 540, toMinute: 720 }],
    })
    await api.benches.addClosure({ benchId, fromDay: '2026-03-09', toDay: '2026-03-09', reason: 'wiring' })
    const { closureId } = await api.benches.addClosure({
      benchId: null,
      fromDay: '2026-03-10',
      toDay: '2026-03-11',
      reason: 'stocktaking',
    })
    const closedOf = async () =>
      Object.fromEntries(
        (await api.benches.plan({ firstDay: '2026-03-09', days: 3 })).benches.map((bench) => [
          bench.benchId,
          bench.days.map(({ closed }) => closed),
        ]),
      )
    expect(await closedOf()).toEqual({
      [first?.id ?? 0]: [null, 'stocktaking', 'stocktaking'],
      [benchId]: ['wiring', 'stocktaking', 'stocktaking'],
    })
    await api.benches.removeClosure({ closureId })
    expect((await closedOf())[benchId]).toEqual(['wiring', null, null])
  })
})

describe('the marks on a day sheet', () => {
  it('says the step where a turn closes in equal steps, and both steps where it does not', () => {
    // 1,220 mm ÷ 244 frames = 5 mm; 1,220 ÷ 240 = 5.083 mm, read to whole millimetres as 5s and some 6s.
    expect(marksText(12_200_000, 244, 10_000)).toBe('every 5 mm')
    expect(marksText(12_200_000, 240, 10_000)).toBe('steps of 5 and 6 mm')
  })

  it('says why where no marks can be made', () => {
    expect(marksText(12_200_000, 1440, 10_000)).toContain('a step finer than the tape')
  })
})
