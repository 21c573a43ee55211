import { addBusinessDays } from 'date-fns'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, addWorkingDays, daysBetween, mondayToFriday } from '../../main/trade/calendar.ts'

const anyDay = fc
  .date({ min: new Date('1990-01-01'), max: new Date('2100-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10))

describe('working days', () => {
  it('agree with the reference library date-fns on Monday to Friday', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: 1, max: 400 }), (day, count) => {
        // date-fns reckons in the machine's zone, so the day is handed over and read back in it.
        const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
        const there = addBusinessDays(new Date(year, month - 1, date, 12), count)
        const text = [there.getFullYear(), there.getMonth() + 1, there.getDate()]
          .map((part) => String(part).padStart(2, '0'))
          .join('-')
        expect(addWorkingDays(day, count, mondayToFriday())).toBe(text)
      }),
    )
  })

  it('never come earlier for a closed day, and not later for one that lies after them', () => {
    fc.assert(
      fc.property(
        anyDay,
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 1, max: 30 }),
        (day, count, closedIn) => {
          const closed = addDays(day, closedIn)
          const open = addWorkingDays(day, count, mondayToFriday())
          const shut = addWorkingDays(day, count, mondayToFriday([closed]))
          // A closed day moves the promise only where it was a working day on the way.
          expect(shut >= open).toBe(true)
          if (closed > open) expect(shut).toBe(open)
          expect(daysBetween(open, shut)).toBeLessThanOrEqual(3)
        },
      ),
    )
  })
})
