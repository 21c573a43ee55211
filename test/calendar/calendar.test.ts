import fc from 'fast-check'
import { DateTime } from 'luxon'
import { describe, expect, it } from 'vitest'
import {
  addDays,
  addWorkingDays,
  checkedDay,
  checkedInstant,
  checkedZone,
  dayOf,
  daysBetween,
  instantAt,
  isWorkingDay,
  minutesBetween,
  minutesOfDay,
  mondayToFriday,
  weekdayOf,
  weekLabel,
} from '../../main/trade/calendar.ts'
import { openStretches } from '../../main/trade/opening.ts'

const anyDay = fc
  .date({ min: new Date('1970-01-01'), max: new Date('2100-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10))

describe('weeks', () => {
  it('are labelled as ISO 8601 labels them', () => {
    // ISO 8601 week dates; 2006-W52-7 and the years of 53 weeks: liquisearch.com iso_week_date, 2019-12-30:
    // wikisum.wiki; the rest agrees with luxon, date-fns and the Temporal polyfill.
    const rows: [string, string, number][] = [
      ['2004-12-31', '2004-W53', 5],
      ['2005-01-01', '2004-W53', 6],
      ['2005-01-03', '2005-W01', 1],
      ['2006-12-31', '2006-W52', 7],
      ['2008-12-29', '2009-W01', 1],
      ['2010-01-03', '2009-W53', 7],
      ['2016-01-01', '2015-W53', 5],
      ['2019-12-30', '2020-W01', 1],
      ['2020-12-31', '2020-W53', 4],
      ['2025-12-29', '2026-W01', 1],
      ['2026-12-31', '2026-W53', 4],
      ['2027-01-03', '2026-W53', 7],
      ['2027-01-04', '2027-W01', 1],
    ]
    for (const [day, week, weekday] of rows)
      expect([day, weekLabel(day), weekdayOf(day)]).toEqual([day, week, weekday])
  })

  it('agree with luxon on any day', () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const there = DateTime.fromISO(day, { zone: 'utc' })
        expect(weekLabel(day)).toBe(there.toFormat("kkkk-'W'WW"))
        expect(weekdayOf(day)).toBe(there.weekday)
      }),
    )
  })
})

describe('days', () => {
  it('are counted as luxon counts them', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -20_000, max: 20_000 }), (day, count) => {
        const later = addDays(day, count)
        expect(later).toBe(DateTime.fromISO(day, { zone: 'utc' }).plus({ days: count }).toISODate())
        expect(daysBetween(day, later)).toBe(count)
      }),
    )
  })

  it('that are not in the calendar are refused', () => {
    // Gregorian calendar: 2100 is no leap year, 2000 was.
    for (const text of [
      '2026-02-30',
      '2100-02-29',
      '2026-13-01',
      '2026-1-1',
      '',
      'today',
      '2026-03-01T00:00',
    ]) {
      expect(() => checkedDay(text), text).toThrow('no day of the calendar')
    }
    expect(checkedDay('2000-02-29')).toBe('2000-02-29')
    expect(() => addDays('2026-03-01', 1.5)).toThrow('whole number of days')
  })
})

describe('working days', () => {
  it('skip week ends', () => {
    // Gregorian calendar, Monday to Friday; checked against luxon, date-fns and the Temporal polyfill.
    const week = mondayToFriday()
    expect(addWorkingDays('2026-03-06', 1, week)).toBe('2026-03-09')
    expect(addWorkingDays('2026-03-07', 1, week)).toBe('2026-03-09')
    expect(addWorkingDays('2026-03-09', -1, week)).toBe('2026-03-06')
    expect(addWorkingDays('2026-03-02', 30, week)).toBe('2026-04-13')
    expect(addWorkingDays('2026-03-07', 0, week)).toBe('2026-03-07')
  })

  it('skip the studio’s closed days', () => {
    // Bavarian public holidays of the package date-holidays 3.37.0 (Good Friday and Easter Monday 2026, Labour
    // Day, Christmas, New Year, Epiphany).
    const week = mondayToFriday([
      '2026-01-01',
      '2026-01-06',
      '2026-04-03',
      '2026-04-06',
      '2026-05-01',
      '2026-12-25',
      '2026-12-26',
    ])
    expect(addWorkingDays('2026-04-02', 1, week)).toBe('2026-04-07')
    expect(addWorkingDays('2026-04-30', 1, week)).toBe('2026-05-04')
    expect(addWorkingDays('2026-12-24', 1, week)).toBe('2026-12-28')
    expect(addWorkingDays('2026-01-05', 1, week)).toBe('2026-01-07')
    expect(addWorkingDays('2026-03-02', 30, week)).toBe('2026-04-15')
  })

  it('lie between the two days in the number asked for', () => {
    fc.assert(
      fc.property(
        anyDay,
        fc.integer({ min: 1, max: 60 }),
        fc.array(fc.nat(80), { maxLength: 10 }),
        (day, count, offs) => {
          const week = mondayToFriday(offs.map((off) => addDays(day, off)))
          const end = addWorkingDays(day, count, week)
          const worked = Array.from({ length: daysBetween(day, end) }, (_, i) => addDays(day, i + 1)).filter(
            (d) => isWorkingDay(d, week),
          )
          expect(worked).toHaveLength(count)
          expect(worked.at(-1)).toBe(end)
        },
      ),
    )
  })

  it('are refused where the week has none', () => {
    expect(() => addWorkingDays('2026-03-06', 1, { weekdays: new Set(), closed: new Set() })).toThrow(
      'closed days',
    )
  })
})

describe('local times', () => {
  it('are read as RFC 5545 reads them when the clocks change', () => {
    // Temporal's 'compatible' disambiguation (docs.deno.com Temporal; same as RFC 5545 by whenever.readthedocs.io).
    const rows: [string, string, number, string][] = [
      ['Europe/Berlin', '2026-03-29', 150, '2026-03-29T01:30:00.000Z'],
      ['Europe/Berlin', '2026-10-25', 150, '2026-10-25T00:30:00.000Z'],
      ['Europe/Dublin', '2026-03-29', 90, '2026-03-29T01:30:00.000Z'],
      ['America/New_York', '2026-03-08', 150, '2026-03-08T07:30:00.000Z'],
      ['America/New_York', '2026-11-01', 90, '2026-11-01T05:30:00.000Z'],
      ['Australia/Lord_Howe', '2026-10-04', 135, '2026-10-03T15:45:00.000Z'],
    ]
    for (const [zone, day, minute, utc] of rows)
      expect(instantAt(day, minute, zone).toISOString(), zone).toBe(utc)
  })

  it('come back from their instant, and the instant agrees with luxon', () => {
    const zone = fc.constantFrom(
      'Europe/Berlin',
      'America/New_York',
      'Asia/Kolkata',
      'Pacific/Auckland',
      'America/St_Johns',
      'UTC',
    )
    fc.assert(
      fc.property(anyDay, fc.nat(1439), zone, (day, minute, name) => {
        const instant = instantAt(day, minute, name)
        const there = DateTime.fromJSDate(instant, { zone: name })
        expect(dayOf(instant, name)).toBe(there.toISODate())
        expect(minutesOfDay(instant, name)).toBe(there.hour * 60 + there.minute)
        const again = minutesOfDay(instant, name) + 1440 * daysBetween(day, dayOf(instant, name))
        // Only a time that the clocks leave out comes back changed, by at most the stretch left out.
        const exists = DateTime.fromISO(`${day}T00:00`, { zone: name }).set({
          hour: Math.floor(minute / 60),
          minute: minute % 60,
        })
        const skipped = exists.hour * 60 + exists.minute !== minute
        expect(again - minute).toBe(skipped ? 60 : 0)
      }),
      { numRuns: 500 },
    )
  })

  it('gives the hours that really pass while a bench stands open overnight', () => {
    // Europe/Berlin, 2026: the clocks go forward on 29 March and back on 25 October.
    const zone = 'Europe/Berlin'
    const open = (from: string, to: string) =>
      minutesBetween(instantAt(from, 22 * 60, zone), instantAt(to, 6 * 60, zone))
    expect(open('2026-03-28', '2026-03-29')).toBe(7 * 60)
    expect(open('2026-10-24', '2026-10-25')).toBe(9 * 60)
    expect(open('2026-06-01', '2026-06-02')).toBe(8 * 60)
    const hours = [{ weekday: 7, opensMinute: 0, closesMinute: 1440 }]
    const lengths = ['2026-03-29', '2026-10-25'].map((day) => {
      const [stretch] = openStretches(day, hours, new Set(), zone)
      return stretch && minutesBetween(stretch.startsAt, stretch.endsAt)
    })
    expect(lengths).toEqual([23 * 60, 25 * 60])
  })

  it('gives the open stretches of a day in order, none on closed days', () => {
    // Europe/Berlin is at UTC+1 in winter.
    const hours = [
      { weekday: 1, opensMinute: 13 * 60, closesMinute: 17 * 60 },
      { weekday: 1, opensMinute: 9 * 60, closesMinute: 12 * 60 },
      { weekday: 2, opensMinute: 9 * 60, closesMinute: 17 * 60 },
    ]
    const starts = (day: string, closed: string[] = []) =>
      openStretches(day, hours, new Set(closed), 'Europe/Berlin').map(({ startsAt }) =>
        startsAt.toISOString(),
      )
    expect(starts('2026-01-12')).toEqual(['2026-01-12T08:00:00.000Z', '2026-01-12T12:00:00.000Z'])
    expect(starts('2026-01-12', ['2026-01-12'])).toEqual([])
    expect(starts('2026-01-14')).toEqual([])
  })

  it('refuses invalid dates, text without an offset, and zones that are none', () => {
    expect(() => dayOf(new Date(Number.NaN), 'UTC')).toThrow('no point in time')
    expect(() => checkedInstant('2026-03-01T10:00')).toThrow('no point in time')
    expect(() => checkedInstant('tomorrow Z')).toThrow('no point in time')
    expect(checkedInstant('2026-03-01T10:00:00+01:00').toISOString()).toBe('2026-03-01T09:00:00.000Z')
    for (const zone of ['Europe/Nowhere', '+02:00', '', 'CET-1']) {
      expect(() => checkedZone(zone), zone).toThrow('is no time zone')
    }
    expect(() => instantAt('2026-03-01', 600, 'Europe/Nowhere')).toThrow('is no time zone')
    expect(() => instantAt('2026-03-01', 1441, 'UTC')).toThrow('00:00 to 24:00')
    expect(() => instantAt('2026-02-30', 0, 'UTC')).toThrow('no day of the calendar')
  })
})
