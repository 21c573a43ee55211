import type { Answers } from '../../main/api/types.ts'
import { countText, weekdayText } from '../parts/format.ts'

type Plan = Answers['benches']['plan']
export type BenchDay = Plan['benches'][number]['days'][number]
export type PlanBlock = BenchDay['bookings'][number]

/** What of a block its words need; a set change on the plan knows what stands before it too. */
type Worded = Pick<PlanBlock, 'kind' | 'title' | 'client' | 'spins' | 'rig'> & {
  readonly rigBefore?: string | null
}

/** What a block is called on the plan: who for, how many spins, on what rig. */
export function labelOf(booking: Worded): string {
  if (booking.kind === 'other') return booking.title ?? ''
  if (booking.kind === 'set change') {
    const from = booking.rigBefore ? ` from ${booking.rigBefore}` : ''
    return `Set change${from} to ${booking.rig ?? 'another rig'}`
  }
  const spins = booking.spins.length === 1 ? booking.spins[0]?.name : `${booking.spins.length} spins`
  return [booking.client, spins, booking.rig ?? 'no rig planned'].filter(Boolean).join(', ')
}

/** What is to be known of a block beside its times: late and by how much, goods that are not in, fixed. */
export function notesOf(booking: PlanBlock, today: string): readonly string[] {
  const notes: string[] = []
  if (booking.lateDays > 0) notes.push(`${countText(booking.lateDays, 'day')} after its due day`)
  if (booking.day >= today && booking.goodsMissing > 0) {
    notes.push(
      booking.goodsExpectedDay
        ? `goods expected ${weekdayText(booking.goodsExpectedDay, today)}`
        : `${countText(booking.goodsMissing, 'sample')} not in`,
    )
  }
  if (booking.isFixed) notes.push('fixed')
  return notes
}

/** What is said once a block is cancelled: whether its spins wait again. */
export function cancelledText(partlyBooked: readonly string[]): string {
  const [first] = partlyBooked
  if (first === undefined) return 'The block is cancelled; its spins wait for a place again.'
  const others = partlyBooked.length > 1 ? ` and ${partlyBooked.length - 1} more` : ''
  return `The block is cancelled. Other rows of '${first}'${others} are still booked: cancel those too, and it waits for a place again.`
}
