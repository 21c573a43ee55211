import fc from 'fast-check'
import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import { dayRuleOf } from '../../main/trade/icalendar/dayRule.ts'
import { repeatedDays } from '../../main/trade/icalendar/repeating.ts'

/** The days of a rule as it is written, from its first day to another. */
function days(rule: string, start: string, to: string, from = start): readonly string[] {
  const read = dayRuleOf(ICAL.Recur.fromString(rule).toJSON() as Readonly<Record<string, unknown>>, 'UTC')
  if (!read) throw new Error(`The rule ${rule} is not read.`)
  return repeatedDays(read, start, from, to)
}

describe('days that come again', () => {
  // RFC 5545, 3.8.5.3, the examples with their dates (from memory), each checked against a calendar.
  it.each([
    ['FREQ=YEARLY;COUNT=3', '1997-09-02', ['1997-09-02', '1998-09-02', '1999-09-02']],
    ['FREQ=MONTHLY;COUNT=3;BYDAY=1FR', '1997-09-05', ['1997-09-05', '1997-10-03', '1997-11-07']],
    [
      'FREQ=MONTHLY;COUNT=6;BYDAY=-2MO',
      '1997-09-22',
      ['1997-09-22', '1997-10-20', '1997-11-17', '1997-12-22', '1998-01-19', '1998-02-16'],
    ],
    [
      'FREQ=MONTHLY;BYMONTHDAY=-3;COUNT=6',
      '1997-09-28',
      ['1997-09-28', '1997-10-29', '1997-11-28', '1997-12-29', '1998-01-29', '1998-02-26'],
    ],
    ['FREQ=YEARLY;BYDAY=20MO;COUNT=3', '1997-05-19', ['1997-05-19', '1998-05-18', '1999-05-17']],
    [
      'FREQ=YEARLY;BYMONTH=3;BYDAY=TH;COUNT=4',
      '1997-03-13',
      ['1997-03-13', '1997-03-20', '1997-03-27', '1998-03-05'],
    ],
    [
      'FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13;COUNT=5',
      '1997-09-02',
      ['1998-02-13', '1998-03-13', '1998-11-13', '1999-08-13', '2000-10-13'],
    ],
    [
      'FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8',
      '1996-11-05',
      ['1996-11-05', '2000-11-07', '2004-11-02'],
    ],
    [
      'FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3',
      '1997-09-04',
      ['1997-09-04', '1997-10-07', '1997-11-06'],
    ],
    [
      'FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2;COUNT=3',
      '1997-09-29',
      ['1997-09-29', '1997-10-30', '1997-11-27'],
    ],
    [
      'FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO',
      '1997-08-05',
      ['1997-08-05', '1997-08-10', '1997-08-19', '1997-08-24'],
    ],
    [
      'FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU',
      '1997-08-05',
      ['1997-08-05', '1997-08-17', '1997-08-19', '1997-08-31'],
    ],
    [
      'FREQ=DAILY;INTERVAL=10;COUNT=5',
      '1997-09-02',
      ['1997-09-02', '1997-09-12', '1997-09-22', '1997-10-02', '1997-10-12'],
    ],
  ] as const)('%s from %s', (rule, start, expected) => {
    expect(days(rule, start, '2004-12-31')).toEqual(expected)
  })

  it('leaves out days that a year does not have', () => {
    // Leap years by the Gregorian rule: 1900 and 2100 are none, 2000 is one.
    expect(days('FREQ=YEARLY', '2020-02-29', '2030-12-31')).toEqual([
      '2020-02-29',
      '2024-02-29',
      '2028-02-29',
    ])
    expect(days('FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30', '2020-01-01', '2030-12-31')).toEqual([])
    expect(days('FREQ=MONTHLY', '2026-01-31', '2026-06-30')).toEqual([
      '2026-01-31',
      '2026-03-31',
      '2026-05-31',
    ])
  })

  it('ends at its last day, that day counted', () => {
    expect(days('FREQ=YEARLY;UNTIL=20280501', '2026-05-01', '2040-01-01')).toEqual([
      '2026-05-01',
      '2027-05-01',
      '2028-05-01',
    ])
  })

  it('counts from the first day, also where only later ones are asked for', () => {
    expect(days('FREQ=YEARLY;COUNT=3', '2024-05-01', '2030-12-31', '2026-01-01')).toEqual(['2026-05-01'])
  })

  it('gives in a later stretch exactly what of it lies there', () => {
    fc.assert(
      fc.property(aRule, fc.integer({ min: 0, max: 900 }), ({ rule, start }, ahead) => {
        const from = new Date(Date.parse(start) + ahead * 86_400_000).toISOString().slice(0, 10)
        const all = days(rule, start, '2029-12-31')
        expect(days(rule, start, '2029-12-31', from)).toEqual(all.filter((day) => day >= from))
      }),
      { numRuns: 150 },
    )
  })

  it('agrees with ical.js wherever every month has the day', () => {
    fc.assert(
      fc.property(aRule, ({ rule, start }) => {
        const first = ICAL.Time.fromDateString(start)
        const theirs = ICAL.Recur.fromString(rule).iterator(first)
        const expected: string[] = []
        for (let day = theirs.next(); day && expected.length < 12; day = theirs.next()) {
          if (String(day) <= '2029-12-31') expected.push(String(day))
          else break
        }
        // A first day that the rule itself does not fall on is undefined in the standard.
        const ours = days(rule, start, '2029-12-31')
        expect(ours.slice(0, expected.length - 1)).toEqual(expected.slice(0, -1))
      }),
      { numRuns: 150 },
    )
  })
})

/** Rules that ical.js reads well: no day past the 28th, no fifth weekday, no empty year. */
const aRule = fc
  .record({
    every: fc.constantFrom('DAILY', 'WEEKLY', 'MONTHLY', 'YEARLY'),
    interval: fc.integer({ min: 1, max: 3 }),
    month: fc.option(fc.integer({ min: 1, max: 12 })),
    by: fc.oneof(
      fc.constant(''),
      fc.integer({ min: 1, max: 28 }).map((day) => `;BYMONTHDAY=${day}`),
      fc
        .tuple(fc.constantFrom(1, 2, 3, 4, -1, -2), fc.constantFrom('MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU'))
        .map(([nth, weekday]) => `;BYDAY=${nth}${weekday}`),
    ),
    startDay: fc.integer({ min: 1, max: 28 }),
    startMonth: fc.integer({ min: 1, max: 12 }),
  })
  // A day of the month without its month is one of every month, as the standard's table says; ical.js takes it of one.
  .filter(({ every, by, month }) => every !== 'YEARLY' || month !== null || !by.startsWith(';BYMONTHDAY'))
  .filter(
    ({ every, by, month }) => every === 'MONTHLY' || every === 'YEARLY' || (by === '' && month === null),
  )
  .map(({ every, interval, month, by, startDay, startMonth }) => ({
    rule: `FREQ=${every};INTERVAL=${interval}${month === null || every === 'MONTHLY' ? '' : `;BYMONTH=${month}`}${by}`,
    start: `2024-${String(startMonth).padStart(2, '0')}-${String(startDay).padStart(2, '0')}`,
  }))
