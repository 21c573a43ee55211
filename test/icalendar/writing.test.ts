import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CalendarEntry, calendarText, escaped, folded } from '../../main/trade/icalendar/writing.ts'
import { readBack } from './readBack.ts'

const octets = (text: string) => new TextEncoder().encode(text).length

function anEntry(of: Partial<CalendarEntry> = {}): CalendarEntry {
  return {
    uid: 'b4a1',
    sequence: 0,
    changedAt: '2026-03-02T08:00:00.000Z',
    startsAt: '2026-03-09T08:00:00.000Z',
    endsAt: '2026-03-09T10:30:00.000Z',
    summary: 'six spins',
    description: null,
    location: null,
    isCancelled: false,
    ...of,
  }
}

describe('folding a line', () => {
  // RFC 5545, 3.1: 75 octets a line without its break; the octets were counted by hand.
  it.each([
    ['67 letters fit', 'a'.repeat(67), [75]],
    ['68 do not', 'a'.repeat(68), [75, 2]],
    ['141 take two whole lines', 'a'.repeat(141), [75, 75]],
    ['two octets are not parted', 'é'.repeat(34), [74, 3]],
    ['nor at the very end', `${'a'.repeat(66)}é`, [74, 3]],
    ['nor are four', '😀'.repeat(20), [72, 17]],
  ])('%s', (_, text, lengths) => {
    const lines = folded(`SUMMARY:${text}`).split('\r\n')
    expect(lines.map(octets)).toEqual(lengths)
    expect(lines.slice(1).every((line) => line.startsWith(' '))).toBe(true)
  })
})

describe('escaping text', () => {
  it('escapes backslash, semicolon, comma and the end of a line', () => {
    // RFC 5545, 3.3.11 (from memory).
    expect(escaped('a;b,c\\d\ne')).toBe('a\\;b\\,c\\\\d\\ne')
    expect(escaped('a\r\nb\rc')).toBe('a\\nb\\nc')
  })

  it('leaves out control characters, which the standard does not let in, but for the tab', () => {
    expect(escaped('a\u0000\u0007\tb\u007f\u000b')).toBe('a\tb')
  })

  it('writes half a character as the sign for what cannot be read', () => {
    expect(escaped('a\ud83d')).toBe('a\ufffd')
  })
})

describe('a calendar', () => {
  it('names what a calendar must name, and no method, which belongs to invitations', () => {
    // RFC 5545, 3.6 and 3.6.1 (from memory): PRODID and VERSION once; UID and DTSTAMP in every event.
    const lines = calendarText('Studio', [anEntry({ isCancelled: true, sequence: 3 })], 15).split('\r\n')
    expect(lines).toEqual([
      'BEGIN:VCALENDAR',
      'PRODID:-//Turnsheet//Bench calendar//EN',
      'VERSION:2.0',
      'NAME:Studio',
      'REFRESH-INTERVAL;VALUE=DURATION:PT15M',
      'BEGIN:VEVENT',
      'UID:b4a1',
      'DTSTAMP:20260302T080000Z',
      'LAST-MODIFIED:20260302T080000Z',
      'SEQUENCE:3',
      'DTSTART:20260309T080000Z',
      'DTEND:20260309T103000Z',
      'SUMMARY:six spins',
      'STATUS:CANCELLED',
      'END:VEVENT',
      'END:VCALENDAR',
      '',
    ])
  })

  it('is read back with exactly the same text, whatever is written in it, in lines of 75 octets at most', () => {
    const anyText = fc.string({ unit: 'binary', maxLength: 400 })
    fc.assert(
      fc.property(anyText, anyText, anyText, (summary, description, location) => {
        const text = calendarText(summary, [anEntry({ summary, description, location })], null)
        const bytes = new TextEncoder().encode(text)
        expect(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)).toBe(text)
        const lines = text.split('\r\n')
        expect(lines.every((line) => octets(line) <= 75 && !/[\r\n]/u.test(line))).toBe(true)
        // Each physical line is whole by itself: no character of more octets is torn.
        expect(lines.some((line) => /\p{Surrogate}/u.test(line))).toBe(false)
        const [event] = readBack(text)
        const kept = (said: string) =>
          // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what the standard forbids
          said.replaceAll(/\r\n?/gu, '\n').replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/gu, '')
        expect(event?.summary).toBe(kept(summary))
        expect(event?.description).toBe(kept(description))
        expect(event?.location).toBe(kept(location))
      }),
      { numRuns: 500 },
    )
  })

  it('is read back with its instants', () => {
    const [event] = readBack(calendarText('Studio', [anEntry()], null))
    expect(event?.start).toBe('2026-03-09T08:00:00.000Z')
    expect(event?.end).toBe('2026-03-09T10:30:00.000Z')
  })
})
