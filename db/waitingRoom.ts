import type { Stretch } from '../main/trade/bench.ts'
import { addDays } from '../main/trade/calendar.ts'
import type { Bench } from './benches.ts'
import { freeOn } from './bookingProposal.ts'
import { type Booking, setChangeBefore } from './bookings.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'

/** A free stretch that takes a whole block with its set change. */
export interface Room extends Stretch {
  readonly day: string
}

const daysSearched = 60

/**
 * Finds room for blocks on their own benches from a day on, each as long as it is booked with its set change, one
 * after another: what one block takes is gone for the next. Gives null where the day is not known, the bench is
 * out of use, or 60 days hold no such stretch.
 */
export function roomFinder(
  db: Db,
  benches: ReadonlyMap<Id<'bench'>, Bench>,
  fromDay: string | null,
  now: string,
): (booking: Booking) => Room | null {
  const taken = new Map<string, Stretch[]>()
  const known = new Map<string, readonly Stretch[]>()
  const free = (bench: Bench, day: string, personIds: readonly Id<'person'>[]) => {
    const key = `${bench.id} ${day} ${personIds.join()}`
    const stretches = known.get(key) ?? freeOn(db, bench, day, { fromMinute: null, personIds }, false, now)
    known.set(key, stretches)
    return stretches.flatMap((stretch) => less(stretch, taken.get(`${bench.id} ${day}`) ?? []))
  }
  return (booking) => {
    const bench = benches.get(booking.benchId)
    if (fromDay === null || !bench) return null
    const personIds = booking.people.map(({ id }) => id)
    const minutes = lengthMin(db, booking)
    for (let ahead = 0; ahead < daysSearched; ahead += 1) {
      const day = addDays(fromDay, ahead)
      const stretch = free(bench, day, personIds).find(
        ({ fromMinute, toMinute }) => toMinute - fromMinute >= minutes,
      )
      if (!stretch) continue
      const room = { day, fromMinute: stretch.fromMinute, toMinute: stretch.fromMinute + minutes }
      const key = `${bench.id} ${day}`
      taken.set(key, [...(taken.get(key) ?? []), room])
      return room
    }
    return null
  }
}

function lengthMin(db: Db, booking: Booking): number {
  const startsAt = setChangeBefore(db, booking)?.startsAt ?? booking.startsAt
  return Math.ceil((Date.parse(booking.endsAt) - Date.parse(startsAt)) / 60_000)
}

/** What is left of a stretch; what was taken from it lies at its start, so the rest begins where that ends. */
function less(stretch: Stretch, taken: readonly Stretch[]): readonly Stretch[] {
  const from = taken
    .filter((one) => one.fromMinute < stretch.toMinute && one.toMinute > stretch.fromMinute)
    .reduce((at, one) => Math.max(at, one.toMinute), stretch.fromMinute)
  return from < stretch.toMinute ? [{ fromMinute: from, toMinute: stretch.toMinute }] : []
}
