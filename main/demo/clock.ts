import { addDays, addWorkingDays, type Day, dayOf, instantAt, mondayToFriday } from '../trade/calendar.ts'

/** The demo studio's time zone: everything in it happens by this clock. */
export const demoZone = 'Europe/Berlin'

const week = mondayToFriday()

/** The clock that the demo moves: it starts two years back and ends at the instant the demo is made. */
export class DemoClock {
  /** When the demo is made: the last instant anything in it may happen. */
  readonly madeAt: Date
  /** The day of `madeAt` in the studio's zone. */
  readonly today: Day
  #now: Date

  constructor(madeAt: Date) {
    this.madeAt = madeAt
    this.today = dayOf(madeAt, demoZone)
    this.#now = madeAt
  }

  get now(): Date {
    return this.#now
  }

  /** Puts the clock to an instant; never past the making of the demo. */
  moveTo(instant: Date): void {
    this.#now = instant > this.madeAt ? this.madeAt : instant
  }

  /** The day that many working days after today, before it where below 0. */
  workingDay(count: number): Day {
    return addWorkingDays(this.today, count, week)
  }

  /** The day that many calendar days after today. */
  day(count: number): Day {
    return addDays(this.today, count)
  }
}

/** An instant of a day by the studio's clock: `'09:30'`. */
export function clockTime(day: Day, time: string): Date {
  const [hours, minutes] = time.split(':').map(Number)
  return instantAt(day, (hours ?? 0) * 60 + (minutes ?? 0), demoZone)
}

/** The n-th working day after a day of the demo. */
export function workingDaysAfter(day: Day, count: number): Day {
  return addWorkingDays(day, count, week)
}
