import {
  insertBooking,
  lift,
  partsOf,
  put,
  told,
  whenDetail,
  writePeople,
  writeSpins,
} from './bookingChanges.ts'
import { type CheckedBlock, checkedBlock, refuseObjections } from './bookingChecks.ts'
import { type BlockDraft, type Booking, theBooking } from './bookings.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { setChangeToCome } from './planWaiting.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A block of a plan. A set change that lies apart from it, on the evening before, is a block of its own. */
export interface PlannedBlock extends BlockDraft {
  readonly changeApart: Pick<BlockDraft, 'day' | 'fromMinute' | 'toMinute'> | null
}

/**
 * Puts a plan in the place of blocks: all of it or nothing. The old blocks leave the bench; one whose job and
 * rig the plan has too, with a spin in common, is moved and keeps its identity in calendars, the others are cancelled.
 * Refuses as booking does.
 */
export function rebook(
  writing: Writing,
  replacedIds: readonly Id<'booking'>[],
  blocks: readonly PlannedBlock[],
): readonly Id<'booking'>[] {
  return inOneTransaction(writing.db, () => {
    const old = replacedIds.map((id) => theBooking(writing.db, id))
    for (const booking of old) liftWhole(writing, booking)
    const left = new Set(old)
    const checked = blocks.map((draft) => ({ draft, block: checkedBlock(writing, draft, []) }))
    refuseObjections(checked.flatMap(({ block }) => (block.overruledReason === null ? block.objections : [])))
    const bookingIds = checked.map(({ draft, block }) => {
      const before = sameWork(left, block)
      if (before) left.delete(before)
      return place(writing, draft, block, before)
    })
    for (const booking of left) {
      told(writing, booking.jobId, booking.id, 'booking cancelled', {
        bench: booking.bench,
        day: booking.day,
        fromMinute: booking.fromMinute,
      })
    }
    return bookingIds
  })
}

function liftWhole(writing: Writing, booking: Booking): void {
  const setChange = prepared<[string, number], { id: Id<'booking'> | null }>(
    writing.db,
    `SELECT ${setChangeToCome} AS id FROM booking b WHERE b.id = ?`,
  ).get(writing.now, booking.id)
  lift(writing, booking.id)
  if (setChange?.id) lift(writing, setChange.id)
}

/** Of the old blocks the one that has most spins in common with a new one of the same job and rig. */
function sameWork(old: ReadonlySet<Booking>, block: CheckedBlock): Booking | undefined {
  const shared = (booking: Booking) =>
    booking.spins.filter(({ shootId }) => block.shootIds.includes(shootId)).length
  return [...old]
    .filter((booking) => booking.jobId === block.jobId && booking.rigRevisionId === block.rigRevisionId)
    .filter((booking) => shared(booking) > 0)
    .sort((a, b) => shared(b) - shared(a))[0]
}

function place(
  writing: Writing,
  draft: PlannedBlock,
  block: CheckedBlock,
  before: Booking | undefined,
): Id<'booking'> {
  const parts = partsOf(block)
  if (parts.setChange) insertChange(writing, draft, { ...block, ...parts.setChange })
  if (draft.changeApart) {
    const apart = checkedBlock(
      writing,
      { ...draft, ...draft.changeApart, kind: 'set change', shootIds: [] },
      [],
    )
    insertChange(writing, draft, { ...block, startsAt: apart.startsAt, endsAt: apart.endsAt })
  }
  const work = { ...block, ...parts.work }
  if (before) put(writing, before.id, work, draft)
  const bookingId = before?.id ?? insertBooking(writing, work)
  writePeople(writing.db, bookingId, draft.personIds)
  writeSpins(writing.db, bookingId, block)
  told(writing, block.jobId, bookingId, before ? 'booking moved' : 'bench booked', whenDetail(block, draft))
  return bookingId
}

function insertChange(writing: Writing, draft: BlockDraft, block: CheckedBlock): void {
  const setChangeId = insertBooking(writing, { ...block, kind: 'set change' })
  writePeople(writing.db, setChangeId, draft.personIds)
}
