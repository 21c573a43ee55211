import { timesOf } from '../main/trade/bench.ts'
import {
  insertBooking,
  lift,
  partsOf,
  put,
  type Span,
  told,
  whenDetail,
  writePeople,
  writeSpins,
} from './bookingChanges.ts'
import { type CheckedBlock, checkedBlock, refuseObjections } from './bookingChecks.ts'
import { type BlockDraft, type Booking, theBooking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { setChangeToCome } from './planWaiting.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A block of a plan. A set change that lies apart from it, on the evening before, is a block of its own. */
export interface PlannedBlock extends BlockDraft {
  readonly changeApart: Pick<BlockDraft, 'day' | 'fromMinute' | 'toMinute' | 'personIds'> | null
}

/** A block that the plan takes up anew, with the set change that makes way for it. */
interface OldBlock {
  readonly booking: Booking
  readonly setChange: Booking | null
}

/** A block of the plan, when it and its set change lie, and the old block whose work it is. */
interface Placed {
  readonly draft: PlannedBlock
  readonly work: Span
  readonly setChange: Span | null
  readonly before: OldBlock | undefined
  /** Nothing of the old row changes: calendars are told nothing. */
  readonly keepsWork: boolean
  readonly keepsChange: boolean
}

/**
 * Puts a plan in the place of blocks: all of it or nothing. A block that the plan leaves as it is stays untouched; one with whose
 * spins the plan goes elsewhere is moved and keeps its identity in calendars, its set change too; the others are cancelled.
 * Refuses as booking does.
 */
export function rebook(
  writing: Writing,
  replacedIds: readonly Id<'booking'>[],
  blocks: readonly PlannedBlock[],
): readonly Id<'booking'>[] {
  return inOneTransaction(writing.db, () => {
    const left = new Set(replacedIds.map((id) => oldBlock(writing, id)))
    const placed = blocks.map((draft) => matched(writing, draft, left))
    for (const old of left) liftWhole(writing, old)
    for (const one of placed) liftChanged(writing, one)
    const checked = placed.map((one) => ({ one, block: checkedWork(writing, one) }))
    refuseObjections(
      checked.flatMap(({ block }) => (block && block.overruledReason === null ? block.objections : [])),
    )
    const bookingIds = checked.map(({ one, block }) => place(writing, one, block))
    for (const { booking } of left) {
      told(writing, booking.jobId, booking.id, 'booking cancelled', {
        bench: booking.bench,
        day: booking.day,
        fromMinute: booking.fromMinute,
      })
    }
    return bookingIds
  })
}

function oldBlock({ db, now }: Writing, bookingId: Id<'booking'>): OldBlock {
  const found = prepared<[string, number], { id: Id<'booking'> | null }>(
    db,
    `SELECT ${setChangeToCome} AS id FROM booking b WHERE b.id = ?`,
  ).get(now, bookingId)
  return {
    booking: theBooking(db, bookingId),
    setChange: found?.id ? theBooking(db, found.id) : null,
  }
}

/** A planned block with the old one that has most spins in common with it, which is taken out of `left`. */
function matched({ db }: Writing, planned: PlannedBlock, left: Set<OldBlock>): Placed {
  const zone = studioZone(db)
  const instants = (of: Pick<BlockDraft, 'day' | 'fromMinute' | 'toMinute'>): Span => {
    const { startsAt, endsAt } = timesOf(of.day, of, zone)
    return { startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() }
  }
  const parts = partsOf({ ...instants(planned), setChangeMs: planned.setChangeMinutes * 60_000 })
  const setChange = planned.changeApart ? instants(planned.changeApart) : (parts.setChange ?? null)
  const before = sameWork(left, planned, parts.work)
  if (before) left.delete(before)
  const draft = before ? asBooked(planned, before.booking) : planned
  const isSame = (
    row: Booking | null | undefined,
    span: Span | null,
    personIds: BlockDraft['personIds'] = draft.personIds,
  ) =>
    row?.startsAt === span?.startsAt &&
    row?.endsAt === span?.endsAt &&
    samePlace(row, { benchId: draft.benchId, personIds })
  return {
    draft,
    work: parts.work,
    setChange,
    before,
    keepsWork:
      isSame(before?.booking, parts.work) && spinsOf(before?.booking).join() === draft.shootIds.join(),
    keepsChange: before !== undefined && isSame(before.setChange, setChange, draft.changeApart?.personIds),
  }
}

function sameWork(
  left: ReadonlySet<OldBlock>,
  { shootIds }: BlockDraft,
  { startsAt }: Span,
): OldBlock | undefined {
  const shared = ({ booking }: OldBlock) => spinsOf(booking).filter((id) => shootIds.includes(id)).length
  const stays = ({ booking }: OldBlock) => Number(booking.startsAt === startsAt)
  return [...left]
    .filter((old) => shared(old) > 0)
    .sort((a, b) => shared(b) - shared(a) || stays(b) - stays(a))[0]
}

/** The reason that a block was booked by goes on to hold. */
function asBooked(draft: PlannedBlock, { overruledReason }: Booking): PlannedBlock {
  return { ...draft, overruledReason: draft.overruledReason ?? overruledReason }
}

function spinsOf(booking: Booking | undefined): readonly Id<'shoot'>[] {
  return booking?.spins.map(({ shootId }) => shootId) ?? []
}

/** True for no row at all, and for one on the same bench with the same people. */
function samePlace(
  row: Booking | null | undefined,
  { benchId, personIds }: Pick<BlockDraft, 'benchId' | 'personIds'>,
): boolean {
  if (!row) return true
  const [now, then] = [new Set(row.people.map(({ id }) => id)), new Set(personIds)]
  return row.benchId === benchId && now.size === then.size && [...now].every((id) => then.has(id))
}

function liftWhole(writing: Writing, { booking, setChange }: OldBlock): void {
  lift(writing, booking.id)
  if (setChange) lift(writing, setChange.id)
}

function liftChanged(writing: Writing, { before, keepsWork, keepsChange }: Placed): void {
  if (!before) return
  if (!keepsWork) lift(writing, before.booking.id)
  if (!keepsChange && before.setChange) lift(writing, before.setChange.id)
}

/** What speaks against a block; undefined where nothing of it changes. */
function checkedWork(
  writing: Writing,
  { draft, before, keepsWork, keepsChange }: Placed,
): CheckedBlock | undefined {
  if (keepsWork && keepsChange) return undefined
  const staying = [...(keepsWork && before ? [before.booking.id] : [])]
  if (keepsChange && before?.setChange) staying.push(before.setChange.id)
  return checkedBlock(writing, draft, staying)
}

function place(writing: Writing, one: Placed, block: CheckedBlock | undefined): Id<'booking'> {
  const { draft, work, before, keepsWork, keepsChange } = one
  if (!block) return (before as OldBlock).booking.id
  if (!keepsChange && one.setChange) placeChange(writing, one, block, one.setChange)
  if (keepsWork && before) {
    told(writing, block.jobId, before.booking.id, 'booking moved', whenDetail(block, draft))
    return before.booking.id
  }
  const row = { ...block, ...work }
  if (before) put(writing, before.booking.id, row, draft)
  const bookingId = before?.booking.id ?? insertBooking(writing, row)
  writePeople(writing.db, bookingId, draft.personIds)
  writeSpins(writing.db, bookingId, block)
  told(writing, block.jobId, bookingId, before ? 'booking moved' : 'bench booked', whenDetail(block, draft))
  return bookingId
}

function placeChange(writing: Writing, { draft, before }: Placed, block: CheckedBlock, span: Span): void {
  // One that lies apart has opening hours, neighbours and people of its own.
  const change = { ...draft, ...draft.changeApart }
  if (draft.changeApart) checkedBlock(writing, { ...change, kind: 'set change', shootIds: [] }, [])
  const row = { ...block, ...span, kind: 'set change' as const }
  if (before?.setChange) put(writing, before.setChange.id, row, change)
  else writePeople(writing.db, insertBooking(writing, row), change.personIds)
}
