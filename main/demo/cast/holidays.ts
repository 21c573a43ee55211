import { addDays } from '../../trade/calendar.ts'

/** An invented town's holidays as it gives them out: one that comes every year, and some of this year. */
export function townHolidays(today: string): string {
  const day = (ahead: number) => addDays(today, ahead).replaceAll('-', '')
  const event = (uid: string, name: string, ...lines: readonly string[]) => [
    'BEGIN:VEVENT',
    `UID:${uid}@town.example`,
    'DTSTAMP:20240101T000000Z',
    `SUMMARY:${name}`,
    ...lines,
    'END:VEVENT',
  ]
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Town//Holidays//EN',
    ...event('mill', 'Mill Day', 'DTSTART;VALUE=DATE:20200914', 'RRULE:FREQ=YEARLY'),
    ...event('bridge', 'Bridge Day', `DTSTART;VALUE=DATE:${day(47)}`),
    ...event('lantern', 'Lantern Fair', `DTSTART;VALUE=DATE:${day(61)}`, `DTEND;VALUE=DATE:${day(63)}`),
    'END:VCALENDAR',
    '',
  ].join('\r\n')
}
