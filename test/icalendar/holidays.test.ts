import { describe, expect, it } from 'vitest'
import { readHolidays } from '../../main/trade/icalendar/holidays.ts'

const span = { fromDay: '2026-03-02', toDay: '2028-12-31' }

/** A calendar of events, each as its own lines. */
function aCalendar(...events: readonly (readonly string[])[]): string {
  const lines = events.flatMap((event) => [
    'BEGIN:VEVENT',
    'DTSTAMP:20260101T000000Z',
    ...event,
    'END:VEVENT',
  ])
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Town//Holidays//EN',
    ...lines,
    'END:VCALENDAR',
    '',
  ].join('\r\n')
}

const read = (text: string, zone = 'Europe/Berlin') => readHolidays(text, zone, span)
const days = (text: string, zone = 'Europe/Berlin') =>
  read(text, zone).holidays.map(({ fromDay, toDay, partOfDay }) => [fromDay, toDay, partOfDay])

describe('all-day events', () => {
  it('end on the day before their end, and without one are one day', () => {
    // RFC 5545, 3.6.1: DTEND is not part of it; a DATE without an end is that day.
    const text = aCalendar(
      ['UID:a', 'SUMMARY:Lantern Week', 'DTSTART;VALUE=DATE:20260330', 'DTEND;VALUE=DATE:20260403'],
      ['UID:b', 'SUMMARY:Mill Day', 'DTSTART;VALUE=DATE:20260501'],
      ['UID:c', 'SUMMARY:Fair', 'DTSTART;VALUE=DATE:20260601', 'DURATION:P2D'],
    )
    expect(days(text)).toEqual([
      ['2026-03-30', '2026-04-02', null],
      ['2026-05-01', '2026-05-01', null],
      ['2026-06-01', '2026-06-02', null],
    ])
  })

  it('are the same days in every zone', () => {
    const text = aCalendar(['UID:a', 'SUMMARY:Mill Day', 'DTSTART;VALUE=DATE:20260329'])
    for (const zone of ['Pacific/Kiritimati', 'Pacific/Pago_Pago', 'Australia/Lord_Howe']) {
      expect(days(text, zone)).toEqual([['2026-03-29', '2026-03-29', null]])
    }
  })

  it('keep their names: escaped, folded, of many octets', () => {
    const text = aCalendar([
      'UID:a',
      'SUMMARY:Tag der Mühlen\\, Brücken ',
      ' und Türme\\; 🎉',
      'DTSTART;VALUE=DATE:20260501',
    ])
    expect(read(text).holidays[0]?.name).toBe('Tag der Mühlen, Brücken und Türme; 🎉')
  })
})

describe('events that come again', () => {
  it('come as often as they do from today to the end of the days asked for, however long ago they began', () => {
    const text = aCalendar(['UID:a', 'SUMMARY:Mill Day', 'DTSTART;VALUE=DATE:19700501', 'RRULE:FREQ=YEARLY'])
    expect(days(text).map(([day]) => day)).toEqual(['2026-05-01', '2027-05-01', '2028-05-01'])
    expect(read(text).holidays.map(({ sourceUid }) => sourceUid)).toEqual([
      'a/2026-05-01',
      'a/2027-05-01',
      'a/2028-05-01',
    ])
  })

  it('leave out what is excepted, and stand where one of them was moved', () => {
    const text = aCalendar(
      [
        'UID:a',
        'SUMMARY:Fair',
        'DTSTART;VALUE=DATE:20250601',
        'RRULE:FREQ=YEARLY',
        'EXDATE;VALUE=DATE:20260601',
        'RDATE;VALUE=DATE:20260901',
      ],
      [
        'UID:a',
        'RECURRENCE-ID;VALUE=DATE:20270601',
        'SUMMARY:Fair, a day later',
        'DTSTART;VALUE=DATE:20270602',
      ],
    )
    expect(read(text).holidays.map(({ sourceUid, fromDay, name }) => [sourceUid, fromDay, name])).toEqual([
      ['a/2026-09-01', '2026-09-01', 'Fair'],
      ['a/2027-06-01', '2027-06-02', 'Fair, a day later'],
      ['a/2028-06-01', '2028-06-01', 'Fair'],
    ])
  })

  it('say so where their rule is not read, and where it never falls on a day come not at all', () => {
    const text = aCalendar(
      ['UID:a', 'SUMMARY:Every hour', 'DTSTART:20260501T090000', 'RRULE:FREQ=HOURLY'],
      ['UID:b', 'SUMMARY:Week 20', 'DTSTART;VALUE=DATE:20260511', 'RRULE:FREQ=YEARLY;BYWEEKNO=20'],
      ['UID:c', 'SUMMARY:Never', 'DTSTART;VALUE=DATE:20260511', 'RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30'],
    )
    const { holidays, unread } = read(text)
    expect(holidays).toEqual([])
    expect(unread.map(({ name, why }) => [name, why])).toEqual([
      ['Every hour', 'it comes again by a rule that is not read here'],
      ['Week 20', 'it comes again by a rule that is not read here'],
    ])
  })
})

describe('events with a time', () => {
  // Offsets by the IANA time-zone database: Berlin +01:00 until 2026-03-29 01:00Z, +02:00 after; New York −05:00 until
  // 2026-03-08 07:00Z, −04:00 after; Lord Howe +10:30 from 2026-04-05.
  it.each([
    [
      'in the studio’s zone',
      'Europe/Berlin',
      'DTSTART;TZID=Europe/Berlin:20260501T140000',
      'DTEND;TZID=Europe/Berlin:20260501T180000',
      ['2026-05-01', '2026-05-01', '14:00 to 18:00'],
    ],
    [
      'in a zone to the west, on the next day here',
      'Europe/Berlin',
      'DTSTART;TZID=America/New_York:20260501T200000',
      'DTEND;TZID=America/New_York:20260501T220000',
      ['2026-05-02', '2026-05-02', '02:00 to 04:00'],
    ],
    [
      'in UTC, on the day before there',
      'America/New_York',
      'DTSTART:20260501T020000Z',
      'DTEND:20260501T030000Z',
      ['2026-04-30', '2026-04-30', '22:00 to 23:00'],
    ],
    [
      'without a zone, by the studio’s clock',
      'Australia/Lord_Howe',
      'DTSTART:20260501T090000',
      'DTEND:20260501T100000',
      ['2026-05-01', '2026-05-01', '09:00 to 10:00'],
    ],
    [
      'from midnight to midnight, which are whole days',
      'Europe/Berlin',
      'DTSTART;TZID=Europe/Berlin:20260329T000000',
      'DTEND;TZID=Europe/Berlin:20260330T000000',
      ['2026-03-29', '2026-03-29', null],
    ],
    [
      'over the day that has 25 hours',
      'Europe/Berlin',
      'DTSTART;TZID=Europe/Berlin:20261025T000000',
      'DTEND;TZID=Europe/Berlin:20261026T000000',
      ['2026-10-25', '2026-10-25', null],
    ],
    [
      'a whole day there, which is parts of two here',
      'Europe/Berlin',
      'DTSTART;TZID=America/New_York:20260308T000000',
      'DTEND;TZID=America/New_York:20260309T000000',
      ['2026-03-08', '2026-03-09', '06:00 to 05:00'],
    ],
  ])('%s', (_, zone, start, end, expected) => {
    expect(days(aCalendar(['UID:a', 'SUMMARY:x', start, end]), zone)).toEqual([expected])
  })

  it('are read by the zone that the file describes itself, where its name is nobody else’s', () => {
    // Central European time in the words of RFC 5545, 3.6.5: summer time from the last Sunday of March to that of October.
    const zone = [
      'BEGIN:VTIMEZONE',
      'TZID:Our town',
      'BEGIN:STANDARD',
      'DTSTART:19961027T030000',
      'RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10',
      'TZOFFSETFROM:+0200',
      'TZOFFSETTO:+0100',
      'END:STANDARD',
      'BEGIN:DAYLIGHT',
      'DTSTART:19810329T020000',
      'RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3',
      'TZOFFSETFROM:+0100',
      'TZOFFSETTO:+0200',
      'END:DAYLIGHT',
      'END:VTIMEZONE',
    ]
    const event = [
      'UID:a',
      'SUMMARY:x',
      'DTSTART;TZID=Our town:20260501T000000',
      'DTEND;TZID=Our town:20260501T020000',
    ]
    const text = aCalendar(event).replace('BEGIN:VEVENT', `${zone.join('\r\n')}\r\nBEGIN:VEVENT`)
    // 00:00 at +02:00 is 22:00Z, 18:00 the day before in New York at −04:00.
    expect(days(text, 'America/New_York')).toEqual([['2026-04-30', '2026-04-30', '18:00 to 20:00']])
    expect(days(text, 'Europe/Berlin')).toEqual([['2026-05-01', '2026-05-01', '00:00 to 02:00']])
    expect(read(aCalendar(event)).unread).toEqual([
      { name: 'x', why: "its time zone, 'Our town', is not known" },
    ])
    const endless = text.replaceAll('BYDAY=-1SU', 'BYDAY=53SU;BYMONTHDAY=31;BYSETPOS=9')
    expect(read(endless).unread).toHaveLength(1)
  })
})

describe('a file that is none', () => {
  it.each([
    ['nothing but words', 'hello'],
    ['a contact', 'BEGIN:VCARD\r\nFN:Ada\r\nEND:VCARD\r\n'],
    ['a picture', '\u0089PNG\r\n\u001a\n'],
    ['a page', '<!doctype html><title>Holidays</title>'],
    ['one that was cut off', aCalendar(['UID:a', 'DTSTART;VALUE=DATE:20260501']).slice(0, -30)],
    ['white space', ' \r\n'],
  ])('is refused with what to do: %s', (_, text) => {
    expect(() => read(text)).toThrow(
      'This file is no calendar, or was cut off on its way. Pick a file whose name ends in .ics',
    )
  })

  it('is told from a calendar without events, and from one with too many', () => {
    expect(() => read(aCalendar())).toThrow('holds no event')
    const many = Array.from({ length: 5001 }, (_, index) => [`UID:${index}`, 'DTSTART;VALUE=DATE:20260501'])
    expect(() => read(aCalendar(...many))).toThrow('holds 5001 events')
    const daily = ['UID:a', 'SUMMARY:x', 'DTSTART;VALUE=DATE:19000101', 'RRULE:FREQ=DAILY']
    expect(() => read(aCalendar(daily))).toThrow('more than holidays are')
  })

  it('names what of it cannot be read and takes the rest', () => {
    const text = aCalendar(
      ['UID:a', 'SUMMARY:No day'],
      ['UID:b', 'SUMMARY:Bad day', 'DTSTART;VALUE=DATE:20261345'],
      ['UID:c', 'SUMMARY:Backwards', 'DTSTART;VALUE=DATE:20260505', 'DTEND;VALUE=DATE:20260501'],
      ['UID:d', 'SUMMARY:A year', 'DTSTART;VALUE=DATE:20260101', 'DTEND;VALUE=DATE:20270101'],
      ['UID:e', 'SUMMARY:Mill Day', 'DTSTART;VALUE=DATE:20260501'],
      ['UID:f', 'SUMMARY:Long gone', 'DTSTART;VALUE=DATE:20250501'],
    )
    const { holidays, unread, outside } = read(text)
    expect(holidays.map(({ name }) => name)).toEqual(['Mill Day'])
    expect(unread.map(({ name }) => name)).toEqual(['No day', 'Bad day', 'Backwards', 'A year'])
    expect(outside).toBe(1)
  })

  it('tells events apart by their days where they all have one name for themselves', () => {
    const text = aCalendar(
      ['UID:same', 'SUMMARY:Mill Day', 'DTSTART;VALUE=DATE:20260501'],
      ['UID:same', 'SUMMARY:Fair', 'DTSTART;VALUE=DATE:20260601'],
    )
    expect(read(text).holidays.map(({ sourceUid }) => sourceUid)).toEqual([
      'same/2026-05-01',
      'same/2026-06-01',
    ])
  })
})
