import ICAL from 'ical.js'
import { clock } from '../bench.ts'
import {
  addDays,
  checkedDay,
  checkedZone,
  type Day,
  dayOf,
  daysBetween,
  instantAt,
  minutesOfDay,
} from '../calendar.ts'
import { Refusal } from '../refusal.ts'
import { dayRuleOf } from './dayRule.ts'
import { repeatedDays } from './repeating.ts'

/** Days that a calendar names, both counted, by the studio's own calendar. */
export interface Holiday {
  /** The event's own name for itself; of one that comes again with the day on which it does. */
  readonly sourceUid: string
  readonly name: string
  readonly fromDay: Day
  readonly toDay: Day
  readonly isCancelled: boolean
  /** '14:00 to 18:00', where it is not whole days. */
  readonly partOfDay: string | null
}

export interface ReadHolidays {
  /** In the order of their days. */
  readonly holidays: readonly Holiday[]
  /** How many lie wholly outside the days asked for. */
  readonly outside: number
  /** What could not be read, and why. */
  readonly unread: readonly { readonly name: string; readonly why: string }[]
}

/** The days that count, both counted. */
export interface DaySpan {
  readonly fromDay: Day
  readonly toDay: Day
}

const mostEvents = 5000
const mostHolidays = 1000
const longestName = 200

/**
 * Reads the days of an iCalendar file (RFC 5545): all-day events as they are, of others the days they touch in the studio's
 * zone; what comes again as often as it does within the days asked for. ical.js takes the text apart; which days come again is
 * reckoned here, since its own reckoning moves 29 February and, on rules that never fall on a day, does not end.
 * Refuses what is no calendar, and a calendar of more events than holidays are.
 */
export function readHolidays(text: string, studioZone: string, span: DaySpan): ReadHolidays {
  const events = eventsOf(text)
  const unread: { name: string; why: string }[] = []
  const byUid = new Map<string, ICAL.Component[]>()
  for (const event of events) {
    const alike = byUid.get(uidOf(event))
    if (alike) alike.push(event)
    else byUid.set(uidOf(event), [event])
  }
  const found = events.flatMap((event) => {
    try {
      return daysOfEvent(event, byUid.get(uidOf(event)) ?? [], { studioZone, span })
    } catch (error) {
      unread.push({ name: nameOf(event), why: error instanceof Refusal ? error.message : unreadable })
      return []
    }
  })
  const inside = found.filter(({ fromDay, toDay }) => toDay >= span.fromDay && fromDay <= span.toDay)
  if (inside.length > mostHolidays) {
    throw new Refusal(
      'too-many-holidays',
      `This calendar names ${inside.length} stretches of days to come, more than holidays are. Pick a file that holds holidays alone.`,
    )
  }
  return {
    holidays: inside.sort((a, b) => compare(a.fromDay, b.fromDay) || compare(a.name, b.name)),
    outside: found.length - inside.length,
    unread,
  }
}

const unreadable = 'it has no day, or one that cannot be read'

function eventsOf(text: string): readonly ICAL.Component[] {
  const calendars = parsed(text.replace(/^\ufeff/u, '')).filter(({ name }) => name === 'vcalendar')
  if (calendars.length === 0) throw notACalendar()
  const events = calendars.flatMap((calendar) => calendar.getAllSubcomponents('vevent'))
  if (events.length === 0) {
    throw new Refusal(
      'no-events',
      'This calendar holds no event, so there is no day in it. Pick another file.',
    )
  }
  if (events.length > mostEvents) {
    throw new Refusal(
      'too-many-events',
      `This calendar holds ${events.length} events, more than holidays are. Pick a file that holds holidays alone.`,
    )
  }
  return events
}

function parsed(text: string): readonly ICAL.Component[] {
  try {
    const read: unknown = ICAL.parse(text)
    if (!Array.isArray(read)) return []
    // Several calendars in one file come as a list of them.
    return (Array.isArray(read[0]) ? read : [read]).map(
      (jCal) => new ICAL.Component(jCal as unknown[] as never),
    )
  } catch {
    throw notACalendar()
  }
}

function notACalendar(): Refusal {
  return new Refusal(
    'not-a-calendar',
    'This file is no calendar, or was cut off on its way. Pick a file whose name ends in .ics, and fetch it again where it came from if need be.',
  )
}

interface Reading {
  readonly studioZone: string
  readonly span: DaySpan
}

/** @param alike  every event of that uid: where it comes again, those that were moved are events of their own */
function daysOfEvent(
  event: ICAL.Component,
  alike: readonly ICAL.Component[],
  reading: Reading,
): readonly Holiday[] {
  const [start, end] = startAndEnd(event, reading.studioZone)
  const uid = uidOf(event)
  const moved = event.getFirstProperty('recurrence-id')
  const told = (day: Day, sourceUid: string): Holiday => ({
    sourceUid,
    name: nameOf(event),
    isCancelled: event.getFirstPropertyValue('status') === 'CANCELLED',
    ...daysTouched(start, end, daysBetween(start.day, day), reading.studioZone),
  })
  if (moved) return [told(start.day, `${uid}/${dayWritten(moved)}`)]
  const masters = alike.filter((other) => !other.hasProperty('recurrence-id'))
  if (!event.hasProperty('rrule') && !event.hasProperty('rdate')) {
    // Some files give every event the same name for itself; the day then tells them apart.
    return [told(start.day, masters.length > 1 ? `${uid}/${start.day}` : uid)]
  }
  const elsewhere = new Set(
    alike.flatMap((other) => other.getAllProperties('recurrence-id')).map((property) => dayWritten(property)),
  )
  return comingDays(event, start, reading)
    .filter((day) => !elsewhere.has(day))
    .map((day) => told(day, `${uid}/${day}`))
}

/** The days on which an event begins that comes again, near the days asked for. */
function comingDays(event: ICAL.Component, start: Written, { span }: Reading): readonly Day[] {
  const rules = event.getAllProperties('rrule').map((property) => {
    const recur = property.getFirstValue() as ICAL.Recur
    const rule = dayRuleOf(recur.toJSON() as Readonly<Record<string, unknown>>, start.zone ?? 'UTC')
    if (!rule) throw new Refusal('rule-not-read', 'it comes again by a rule that is not read here')
    return rule
  })
  if (start.day < '1900-01-01') throw new Refusal('too-old', 'it begins before the year 1900')
  // A day more at either end: what begins on a day elsewhere may touch the one beside it here.
  const [from, to] = [addDays(span.fromDay, -longestDays), addDays(span.toDay, 1)]
  const written = (name: string) => event.getAllProperties(name).flatMap(daysWritten)
  const out = new Set(written('exdate'))
  const days = new Set([
    ...rules.flatMap((rule) => repeatedDays(rule, start.day, from, to)),
    ...[start.day, ...written('rdate')].filter((day) => rules.length === 0 || day !== start.day),
  ])
  return [...days].filter((day) => !out.has(day) && day >= from && day <= to)
}

/** A holiday lasts this long at most; one that began before today may still run. */
const longestDays = 62

/** A day or a local time as it is written, with the zone it is written in; without one it is the studio's. */
interface Written {
  readonly day: Day
  /** Null for a whole day. */
  readonly minute: number | null
  readonly zone: string | null
  /** The zone as the file itself describes it, where its name is nobody else's. */
  readonly described: ICAL.Timezone | null
}

function startAndEnd(event: ICAL.Component, studioZone: string): readonly [Written, Written] {
  const property = event.getFirstProperty('dtstart')
  if (!property) throw new Refusal('no-day', unreadable)
  const start = written(property, studioZone)
  const endProperty = event.getFirstProperty('dtend')
  const until = endProperty
    ? written(endProperty, studioZone)
    : { ...start, ...localOf(new ICAL.Event(event).endDate, start.minute !== null) }
  const days = daysBetween(start.day, until.day)
  if (days > longestDays || days < 0) {
    throw new Refusal(
      'too-long',
      `it lasts ${days < 0 ? 'less than nothing' : `${days} days, longer than a holiday`}`,
    )
  }
  return [start, until]
}

function written(property: ICAL.Property, studioZone: string): Written {
  const time = property.getFirstValue() as ICAL.Time
  // As it stands in the file: as a value the reader would have moved a 45th of the month to a day that exists.
  const [text = '', hour = '0', minute = '0'] = String(property.toJSON()[3]).split(/[T:]/u)
  const local = {
    day: checkedDay(text),
    minute: property.type === 'date' ? null : Number(hour) * 60 + Number(minute),
  }
  if (local.minute === null) return { ...local, zone: null, described: null }
  const named = property.getParameter('tzid')
  if (time.zone?.tzid === 'UTC') return { ...local, zone: 'UTC', described: null }
  if (typeof named !== 'string') return { ...local, zone: studioZone, described: null }
  if (isZone(named)) return { ...local, zone: named, described: null }
  if (time.zone && time.zone.tzid === named && isPlain(time.zone)) {
    return { ...local, zone: null, described: time.zone }
  }
  throw new Refusal('zone-not-known', `its time zone, '${named}', is not known`)
}

function localOf(time: ICAL.Time, hasClock: boolean): Pick<Written, 'day' | 'minute'> {
  const day = `${String(time.year).padStart(4, '0')}-${two(time.month)}-${two(time.day)}`
  return { day, minute: hasClock ? time.hour * 60 + time.minute : null }
}

const two = (value: number) => String(value).padStart(2, '0')

function isZone(name: string): boolean {
  try {
    return checkedZone(name) === name
  } catch {
    return false
  }
}

/** Whether a zone's clocks change once a year on a weekday of a month, as real ones do; ical.js may search others for ever. */
function isPlain({ component }: ICAL.Timezone): boolean {
  return component
    .getAllSubcomponents()
    .flatMap((part) => part.getAllProperties('rrule'))
    .every((property) => {
      const rule = (property.getFirstValue() as ICAL.Recur).toString()
      return /^FREQ=YEARLY(?:;(?:INTERVAL=1|BYMONTH=\d+|BYDAY=[+-]?[1-4](?:MO|TU|WE|TH|FR|SA|SU)|UNTIL=\w+|WKST=\w\w))+$/u.test(
        rule,
      )
    })
}

/** The days of the studio that an event touches when it begins some days after its first time. */
function daysTouched(
  start: Written,
  end: Written,
  later: number,
  studioZone: string,
): Pick<Holiday, 'fromDay' | 'toDay' | 'partOfDay'> {
  const [first, last] = [addDays(start.day, later), addDays(end.day, later)]
  if (start.minute === null) {
    // The end of an all-day event is the day after its last (RFC 5545, 3.6.1).
    return { fromDay: first, toDay: last > first ? addDays(last, -1) : first, partOfDay: null }
  }
  const from = instantOf({ ...start, day: first })
  const to = instantOf({ ...end, day: last, minute: end.minute ?? 0 })
  const fromDay = dayOf(from, studioZone)
  const ends = minutesOfDay(to, studioZone)
  const isAtMidnight = ends === 0 && to > from
  const toDay = isAtMidnight ? addDays(dayOf(to, studioZone), -1) : dayOf(to, studioZone)
  const begins = minutesOfDay(from, studioZone)
  const isWhole = begins === 0 && isAtMidnight
  return {
    fromDay,
    toDay,
    partOfDay: isWhole ? null : `${clock(begins)} to ${clock(isAtMidnight ? 1440 : ends)}`,
  }
}

function instantOf({ day, minute, zone, described }: Written): Date {
  if (described === null) return instantAt(day, minute ?? 0, zone ?? 'UTC')
  const time = ICAL.Time.fromData(
    {
      year: Number(day.slice(0, 4)),
      month: Number(day.slice(5, 7)),
      day: Number(day.slice(8)),
      hour: Math.floor((minute ?? 0) / 60),
      minute: (minute ?? 0) % 60,
      second: 0,
    },
    described,
  )
  return time.toJSDate()
}

function daysWritten(property: ICAL.Property): readonly Day[] {
  return property.getValues().map((value: unknown) => String(value).slice(0, 10))
}

function dayWritten(property: ICAL.Property): Day {
  return daysWritten(property)[0] ?? ''
}

/** An event without a name for itself is known by what it is called. */
function uidOf(event: ICAL.Component): string {
  return String(event.getFirstPropertyValue('uid') ?? '') || nameOf(event)
}

function nameOf(event: ICAL.Component): string {
  const name = String(event.getFirstPropertyValue('summary') ?? '')
    .replaceAll(/\s+/gu, ' ')
    .trim()
  return name.slice(0, longestName).trim() || 'Day without a name'
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
