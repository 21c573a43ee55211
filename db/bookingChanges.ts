import { randomUUID } from 'node:crypto'
import { endMinute } from '../main/trade/bench.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type CheckedBlock, checkedBlock, refuseObjections } from './bookingChecks.ts'
import type { Objection } from './bookingObjections.ts'
import { type BlockDraft, setChangeBefore, theBooking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { staysRefusal } from './moveRefusals.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/**
 * Books blocks, each with its set change before it: all of them or none.
 * Refuses overlaps, closed hours, spins of several jobs or rigs in one block, and, unless a reason is given,
 * what the world outside says against it: a sample that is not in, a person, platter or equipment elsewhere.
 */
export function addBookings(writing: Writing, drafts: readonly BlockDraft[]): readonly Id<'booking'>[] {
  return inOneTransaction(writing.db, () => {
    const objections: Objection[] = []
    const bookingIds = drafts.map((draft) => {
      const block = checkedBlock(writing, draft, [])
      if (block.overruledReason === null) objections.push(...block.objections)
      return addBooking(writing, draft, block)
    })
    // Only now, so that what speaks against any of the blocks is said at once.
    refuseObjections(objections)
    return bookingIds
  })
}

function addBooking(writing: Writing, draft: BlockDraft, block: CheckedBlock): Id<'booking'> {
  const { db } = writing
  const parts = partsOf(block)
  if (parts.setChange) {
    const setChangeId = insertBooking(writing, { ...block, ...parts.setChange, kind: 'set change' })
    writePeople(db, setChangeId, draft.personIds)
  }
  const bookingId = insertBooking(writing, { ...block, ...parts.work })
  writePeople(db, bookingId, draft.personIds)
  writeSpins(db, bookingId, block)
  told(writing, block.jobId, bookingId, 'bench booked', whenDetail(block, draft))
  return bookingId
}

/**
 * Moves a block or changes what is done in it; a set change right before it goes with it. Keeps its identity
 * in calendars: the same uid, the next sequence number. Refuses as booking does.
 */
export function changeBooking(writing: Writing, bookingId: Id<'booking'>, draft: BlockDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = theBooking(db, bookingId)
    const setChange = setChangeBefore(db, before)
    const ids = setChange ? [bookingId, setChange.id] : [bookingId]
    const checked = checkedBlock(writing, { ...draft, kind: before.kind }, ids)
    if (checked.overruledReason === null) refuseObjections(checked.objections)
    if (before.kind === 'spins' && checked.jobId !== before.jobId) {
      throw new Refusal('other-job', 'A block stays with its job. Cancel it and book the other job anew.', {
        field: 'shootIds',
      })
    }
    // A set change moved by itself still makes way for the same rig.
    const block =
      before.kind === 'spins'
        ? checked
        : { ...checked, jobId: before.jobId, rigRevisionId: before.rigRevisionId }
    const parts = partsOf(block)
    // Both leave their places before either takes its new one, or they would be in each other's way.
    for (const id of ids) lift(writing, id)
    if (setChange && parts.setChange) put(writing, setChange.id, { ...block, ...parts.setChange }, draft)
    if (!setChange && parts.setChange) {
      const setChangeId = insertBooking(writing, { ...block, ...parts.setChange, kind: 'set change' })
      writePeople(db, setChangeId, draft.personIds)
    }
    put(writing, bookingId, { ...block, ...parts.work }, draft)
    writeSpins(db, bookingId, block)
    told(writing, block.jobId, bookingId, 'booking moved', {
      before: {
        bench: before.bench,
        day: before.day,
        fromMinute: before.fromMinute,
        toMinute: before.toMinute,
      },
      after: whenDetail(block, draft),
    })
  })
}

/** Where a block is moved to; it keeps its length. */
export interface BookingMove {
  readonly benchId: Id<'bench'>
  readonly day: string
  /** Where the block begins; its set change, if it has one, begins there. */
  readonly fromMinute: number
  readonly overruledReason: string | null
}

/**
 * Moves a block as it is, with the set change right before it as it was booked, into free time that was looked for.
 * Refuses as booking does, and a block that is fixed or has begun.
 */
export function moveBooking(writing: Writing, bookingId: Id<'booking'>, move: BookingMove): void {
  const { db } = writing
  const booking = theBooking(db, bookingId)
  const startsAt = Date.parse(setChangeBefore(db, booking)?.startsAt ?? booking.startsAt)
  if (booking.isFixed || startsAt <= Date.parse(writing.now)) throw staysRefusal(booking, writing.now)
  const [setChangeMs, durationMs] = [
    Date.parse(booking.startsAt) - startsAt,
    Date.parse(booking.endsAt) - startsAt,
  ]
  changeBooking(writing, bookingId, {
    ...booking,
    ...move,
    toMinute: endMinute(move.day, move.fromMinute, durationMs, studioZone(db)),
    shootIds: booking.spins.map(({ shootId }) => shootId),
    personIds: booking.people.map(({ id }) => id),
    setChangeMinutes: setChangeMs / 60_000,
    overruledReason: move.overruledReason ?? booking.overruledReason,
  })
}

/** Fixes a block where it is, so that neither a plan nor another block moves it, or lets it move again. */
export function fixBooking(writing: Writing, bookingId: Id<'booking'>, isFixed: boolean): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const booking = theBooking(db, bookingId)
    if (booking.isFixed === isFixed) return
    // No calendar names it: neither its sequence nor its moment of change rises.
    prepared<[number, number]>(db, 'UPDATE booking SET is_fixed = ? WHERE id = ?').run(
      isFixed ? 1 : 0,
      bookingId,
    )
    told(writing, booking.jobId, bookingId, isFixed ? 'booking fixed' : 'booking let move', {
      bench: booking.bench,
      day: booking.day,
      fromMinute: booking.fromMinute,
    })
  })
}

/** What a cancelled block leaves: spins of which other rows are still booked, so that they do not wait for a place. */
export interface Cancelled {
  readonly partlyBooked: readonly string[]
}

/** Cancels a block and the set change right before it; the rows stay, for calendars that must be told. */
export function cancelBooking(writing: Writing, bookingId: Id<'booking'>): Cancelled {
  const { db } = writing
  return inOneTransaction(db, () => {
    const booking = theBooking(db, bookingId)
    const setChange = setChangeBefore(db, booking)
    lift(writing, bookingId)
    if (setChange) lift(writing, setChange.id)
    told(writing, booking.jobId, bookingId, 'booking cancelled', {
      bench: booking.bench,
      day: booking.day,
      fromMinute: booking.fromMinute,
    })
    return { partlyBooked: stillBooked(writing, bookingId) }
  })
}

function stillBooked({ db, now }: Writing, bookingId: Id<'booking'>): readonly string[] {
  return prepared<[number, string], { name: string }>(
    db,
    `SELECT DISTINCT shoot.name FROM booking_shoot mine JOIN shoot ON shoot.id = mine.shoot_id
     JOIN booking_shoot other ON other.shoot_id = shoot.id
     JOIN booking b ON b.id = other.booking_id AND b.cancelled_at IS NULL
     WHERE mine.booking_id = ? AND b.ends_at > ? ORDER BY shoot.position`,
  )
    .all(bookingId, now)
    .map(({ name }) => name)
}

export type Span = Pick<CheckedBlock, 'startsAt' | 'endsAt'>

/** The block cut in two where its set change ends. */
export function partsOf(block: Span & Pick<CheckedBlock, 'setChangeMs'>): {
  readonly setChange: Span | undefined
  readonly work: Span
} {
  if (block.setChangeMs === 0) return { setChange: undefined, work: block }
  const cut = new Date(Date.parse(block.startsAt) + block.setChangeMs).toISOString()
  return {
    setChange: { startsAt: block.startsAt, endsAt: cut },
    work: { startsAt: cut, endsAt: block.endsAt },
  }
}

export function insertBooking({ db, now }: Writing, block: CheckedBlock): Id<'booking'> {
  return newId<Id<'booking'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO booking (bench_id, kind, title, job_id, rig_revision_id, starts_at, ends_at, is_fixed,
         overruled_reason, uid, changed_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      block.bench.id,
      block.kind,
      block.title,
      block.jobId,
      block.rigRevisionId,
      block.startsAt,
      block.endsAt,
      block.isFixed ? 1 : 0,
      block.overruledReason,
      randomUUID(),
      now,
    ),
  )
}

/** Takes a block off the bench; its calendar entry learns of it by the next sequence number. */
export function lift({ db, now }: Writing, bookingId: Id<'booking'>): void {
  prepared<unknown[]>(
    db,
    'UPDATE booking SET cancelled_at = ?, changed_at = ?, sequence = sequence + 1 WHERE id = ?',
  ).run(now, now, bookingId)
}

/** Puts a block that was lifted in its new place. */
export function put(
  { db, now }: Writing,
  bookingId: Id<'booking'>,
  block: CheckedBlock,
  draft: BlockDraft,
): void {
  prepared<unknown[]>(
    db,
    `UPDATE booking SET bench_id = ?, title = ?, job_id = ?, rig_revision_id = ?, starts_at = ?, ends_at = ?, is_fixed = ?,
       overruled_reason = ?, cancelled_at = NULL, changed_at = ? WHERE id = ?`,
  ).run(
    block.bench.id,
    block.title,
    block.jobId,
    block.rigRevisionId,
    block.startsAt,
    block.endsAt,
    block.isFixed ? 1 : 0,
    block.overruledReason,
    now,
    bookingId,
  )
  writePeople(db, bookingId, draft.personIds)
}

export function writePeople(db: Db, bookingId: Id<'booking'>, personIds: readonly Id<'person'>[]): void {
  prepared<[number]>(db, 'DELETE FROM booking_person WHERE booking_id = ?').run(bookingId)
  for (const personId of new Set(personIds)) {
    prepared<unknown[]>(db, 'INSERT INTO booking_person VALUES (?, ?)').run(bookingId, personId)
  }
}

/** The spins of a block, and the equipment that their rig takes. */
export function writeSpins(db: Db, bookingId: Id<'booking'>, block: CheckedBlock): void {
  prepared<[number]>(db, 'DELETE FROM booking_shoot WHERE booking_id = ?').run(bookingId)
  block.shootIds.forEach((shootId, index) => {
    prepared<unknown[]>(db, 'INSERT INTO booking_shoot VALUES (?, ?, ?)').run(bookingId, shootId, index + 1)
  })
  prepared<[number]>(db, 'DELETE FROM booking_equipment WHERE booking_id = ?').run(bookingId)
  prepared<unknown[]>(
    db,
    'INSERT INTO booking_equipment SELECT ?, equipment_id FROM rig_equipment WHERE rig_revision_id = ?',
  ).run(bookingId, block.rigRevisionId)
}

export function told(
  writing: Writing,
  jobId: Id<'job'> | null,
  bookingId: Id<'booking'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'booking', subjectId: bookingId, jobId, what, detail })
  if (jobId !== null) refreshStanding(writing, jobId)
}

export function whenDetail(block: CheckedBlock, draft: BlockDraft): Readonly<Record<string, unknown>> {
  return {
    bench: block.bench.name,
    day: draft.day,
    fromMinute: draft.fromMinute,
    toMinute: draft.toMinute,
    spins: draft.shootIds.length,
    ...(block.overruledReason ? { reason: block.overruledReason } : {}),
  }
}
