import { checkedInstant } from '../calendar.ts'

/** One entry of a calendar as it goes out. */
export interface CalendarEntry {
  /** The same for as long as it lives, however often it is moved. */
  readonly uid: string
  /** Raised by every move and by cancelling; a reader keeps the highest. */
  readonly sequence: number
  /** When it was last changed. */
  readonly changedAt: string
  readonly startsAt: string
  readonly endsAt: string
  readonly summary: string
  readonly description: string | null
  readonly location: string | null
  readonly isCancelled: boolean
}

/**
 * A calendar as RFC 5545 writes it, in UTC: the instants are the same in every zone and over every change of clocks.
 * It names no METHOD, which belongs to invitations on their way (RFC 5546); a file or an address holds a calendar as it
 * stands. NAME and REFRESH-INTERVAL are RFC 7986.
 * @param refreshMinutes  how often a subscriber may ask again; null for a file
 */
export function calendarText(
  name: string,
  entries: readonly CalendarEntry[],
  refreshMinutes: number | null,
): string {
  return [
    'BEGIN:VCALENDAR',
    'PRODID:-//Turnsheet//Bench calendar//EN',
    'VERSION:2.0',
    `NAME:${escaped(name)}`,
    ...(refreshMinutes === null ? [] : [`REFRESH-INTERVAL;VALUE=DURATION:PT${refreshMinutes}M`]),
    ...entries.flatMap(entryLines),
    'END:VCALENDAR',
  ]
    .map((line) => `${folded(line)}\r\n`)
    .join('')
}

function entryLines(entry: CalendarEntry): readonly string[] {
  const changed = utc(entry.changedAt)
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(entry.uid)}`,
    // Without a METHOD the stamp is that of the last change (RFC 5545, 3.8.7.2), and so the same text while nothing changes.
    `DTSTAMP:${changed}`,
    `LAST-MODIFIED:${changed}`,
    `SEQUENCE:${entry.sequence}`,
    `DTSTART:${utc(entry.startsAt)}`,
    `DTEND:${utc(entry.endsAt)}`,
    `SUMMARY:${escaped(entry.summary)}`,
    ...(entry.description === null ? [] : [`DESCRIPTION:${escaped(entry.description)}`]),
    ...(entry.location === null ? [] : [`LOCATION:${escaped(entry.location)}`]),
    `STATUS:${entry.isCancelled ? 'CANCELLED' : 'CONFIRMED'}`,
    'END:VEVENT',
  ]
}

/** An instant as UTC with whole seconds: `20260309T080000Z`. */
function utc(instant: string): string {
  return checkedInstant(instant)
    .toISOString()
    .replaceAll(/[-:]|\.\d+/gu, '')
}

/**
 * Text as a calendar's value (RFC 5545, 3.3.11): backslash, semicolon and comma are escaped, every end of a line is `\n`. Of control
 * characters the standard lets in the tab alone, so others are left out; half a character becomes U+FFFD.
 */
export function escaped(text: string): string {
  return text
    .replaceAll(/\p{Surrogate}/gu, '\ufffd')
    .replaceAll(/\r\n?/gu, '\n')
    .replaceAll(forbidden, '')
    .replaceAll(/[\\;,]/gu, (mark) => `\\${mark}`)
    .replaceAll('\n', '\\n')
}

// All of Unicode's controls but tab, newline and those beyond ASCII, of which the standard says nothing.
const forbidden = /[^\P{Cc}\t\n\u0080-\u009f]/gu

const lineOctets = 75

/**
 * A content line in physical lines of at most 75 octets (RFC 5545, 3.1), parted between characters, never within the
 * octets of one; each further line begins with a space that is not part of it.
 */
export function folded(line: string): string {
  const lines: string[] = []
  let current = ''
  let octets = 0
  for (const character of line) {
    const own = octetsOf(character)
    if (octets + own > lineOctets) {
      lines.push(current)
      current = ' '
      octets = 1
    }
    current += character
    octets += own
  }
  return [...lines, current].join('\r\n')
}

/** How many octets a character takes in UTF-8. */
function octetsOf(character: string): number {
  const code = character.codePointAt(0) ?? 0
  return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4
}
