import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  bytesText,
  countText,
  dayIn,
  dayText,
  dueText,
  durationText,
  instantText,
  massText,
  moneyText,
  um10Text,
  weekdayText,
} from '../../renderer/parts/format.ts'

/** What is read on screen, with the spaces that hold figure and unit together as plain ones. */
const read = (text: string) => text.replaceAll('\u00a0', ' ')

describe('durations', () => {
  it('are written in hours and minutes as a bench day is spoken of', () => {
    // 60 minutes to the hour: 528 = 8 × 60 + 48.
    expect(read(durationText(528))).toBe('8 h 48')
    expect(read(durationText(65))).toBe('1 h 05')
    expect(read(durationText(480))).toBe('8 h')
    expect(read(durationText(48))).toBe('48 min')
    expect(read(durationText(0))).toBe('0 min')
  })

  it('never hide that something takes time at all', () => {
    expect(read(durationText(0.2))).toBe('under 1 min')
  })

  it('carry a rounded hour over instead of showing 60 minutes', () => {
    expect(read(durationText(59.7))).toBe('1 h')
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e4, noNaN: true }), (minutes) => {
        const [, rest = '0'] = /(\d+)(?:\u00a0min)?$/.exec(durationText(minutes)) ?? []
        expect(Number(rest)).toBeLessThan(60)
      }),
    )
  })
})

describe('days', () => {
  it('leave the year out where it is this one', () => {
    expect(read(dayText('2026-05-03', '2026-01-01'))).toBe('3 May')
    expect(read(dayText('2025-09-30', '2026-01-01'))).toBe('30 Sep 2025')
    expect(read(dayText('2026-05-03'))).toBe('3 May 2026')
  })

  it('carry the weekday of the Gregorian calendar', () => {
    // 1 January 2000 was a Saturday (ISO 8601:2004, 3.2.1 names it as such; from memory).
    expect(read(weekdayText('2000-01-01'))).toBe('Sat 1 Jan 2000')
  })

  it('say how late or how far off a due day is, across the end of a month', () => {
    // February 2028 has 29 days (Gregorian leap rule: 2028 is divisible by 4).
    expect(read(dueText('2028-02-28', '2028-03-01'))).toBe('late by 2 days')
    expect(read(dueText('2028-03-01', '2028-02-29'))).toBe('due tomorrow')
    expect(read(dueText('2028-03-01', '2028-03-01'))).toBe('due today')
    expect(read(dueText('2028-03-05', '2028-03-01'))).toBe('due in 4 days')
    expect(read(dueText('2028-02-29', '2028-03-01'))).toBe('late by 1 day')
  })

  it('count calendar days where the clocks change in between', () => {
    // Summer time began in the EU on 29 March 2026 (last Sunday of March, Directive 2000/84/EC).
    expect(read(dueText('2026-03-30', '2026-03-28'))).toBe('due in 2 days')
  })
})

describe('instants', () => {
  it('are shown by the studio’s clock, not the machine’s', () => {
    // Berlin is UTC+2 in summer and UTC+1 in winter (IANA tz database).
    expect(read(instantText('2026-07-01T22:30:00Z', 'Europe/Berlin'))).toBe('2 Jul 2026, 00:30')
    expect(read(instantText('2026-01-01T22:30:00Z', 'Europe/Berlin'))).toBe('1 Jan 2026, 23:30')
    expect(dayIn('Europe/Berlin', new Date('2026-07-01T22:30:00Z'))).toBe('2026-07-02')
  })
})

describe('figures', () => {
  it('stand with their unit', () => {
    // 1 mm = 1000 µm = 10,000 tenths of a micrometre (SI prefixes).
    expect(read(um10Text(12_200_000))).toBe('1,220 mm')
    expect(read(um10Text(50_830))).toBe('5.083 mm')
    expect(read(massText(850))).toBe('850 g')
    expect(read(massText(12_400))).toBe('12.4 kg')
    expect(moneyText(123_450, 'EUR')).toBe('€1,234.50')
  })

  it('count one thing in the singular', () => {
    expect(read(countText(1, 'spin'))).toBe('1 spin')
    expect(read(countText(0, 'spin'))).toBe('0 spins')
    expect(read(countText(1200, 'copy', 'copies'))).toBe('1,200 copies')
  })

  it('measure files by the thousand, as the SI prefixes mean it', () => {
    expect(read(bytesText(999))).toBe('999 B')
    expect(read(bytesText(4_200_000))).toBe('4.2 MB')
    expect(read(bytesText(999_999))).toBe('1 MB')
  })
})
