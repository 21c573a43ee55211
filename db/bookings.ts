import { randomUUID } from 'node:crypto'
import { checkHours, clock, endMinute, type Stretch, timesOf } from '../main/trade/bench.ts'
import { dayOf, minutesOfDay } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, closuresBetween, findBench } from './benches.ts'
import { type BlockToCheck, type Objection, objectionsTo } from './bookingObjections.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { checkLoad, massText, spinMass } from './rigPlans.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

export type BookingKind = 'spins' | 'set change' | 'other'

/** A booked stretch of a bench. Its local day and minutes are worked out in the studio's time zone. */
export interface Booking extends Stretch {
  readonly id: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly kind: BookingKind
  readonly title: string | null
  readonly jobId: Id<'job'> | null
  readonly jobNumber: string | null
  readonly client: string | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rig: string | null
  readonly revision: number | null
  readonly startsAt: string
  readonly endsAt: string
  readonly day: string
  readonly isFixed: boolean
  readonly overruledReason: string | null
  readonly uid: string
  readonly sequence: number
  readonly spins: readonly { readonly shootId: Id<'shoot'>; readonly name: string }[]
  readonly people: readonly { readonly id: Id<'person'>; readonly name: string }[]
}

/** A block as a person books it, by the studio's clock. A day's end is minute 1440. */
export interface BlockDraft extends Stretch {
  readonly benchId: Id<'bench'>
  readonly kind: BookingKind
  readonly day: string
  /** The spins in the order they are turned; only for the kind 'spins'. */
  readonly shootIds: readonly Id<'shoot'>[]
  /** What it is; needed for the kind 'other'. */
  readonly title: string | null
  /** Minutes at the block's start that go to the set change, booked as a block of its own. */
  readonly setChangeMinutes: number
  readonly personIds: readonly Id<'person'>[]
  readonly isFixed: boolean
  /** Why it is right to go on against an objection about the world outside. */
  readonly overruledReason: string | null
}

/** Spins and people come as JSON within the row: a query apiece for every block would cost a week's plan dear. */
type BookingRow = Omit<Booking, 'fromMinute' | 'toMinute' | 'day' | 'isFixed' | 'spins' | 'people'> & {
  readonly isFixed: 0 | 1
  readonly spins: string
  readonly people: string
}

const bookingColumns = `b.id, b.bench_id AS benchId, bench.name AS bench, b.kind, b.title, b.job_id AS jobId,
  job.number AS jobNumber, client.name AS client, b.rig_revision_id AS rigRevisionId, rig.name AS rig, v.revision,
  b.starts_at AS startsAt, b.ends_at AS endsAt, b.is_fixed AS isFixed, b.overruled_reason AS overruledReason, b.uid,
  b.sequence,
  (SELECT json_group_array(json_object('shootId', shoot.id, 'name', shoot.name) ORDER BY bs.position)
    FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id WHERE bs.booking_id = b.id) AS spins,
  (SELECT json_group_array(json_object('id', person.id, 'name', person.name) ORDER BY person.id)
    FROM booking_person bp JOIN person ON person.id = bp.person_id WHERE bp.booking_id = b.id) AS people`
const bookingFrom = `FROM booking b JOIN bench ON bench.id = b.bench_id LEFT JOIN job ON job.id = b.job_id
  LEFT JOIN client ON client.id = job.client_id LEFT JOIN rig_revision v ON v.id = b.rig_revision_id
  LEFT JOIN rig ON rig.id = v.rig_id`

/** The blocks of a bench that touch the time from one instant to another, in their order. */
export function bookingsBetween(db: Db, benchId: Id<'bench'>, from: string, to: string): readonly Booking[] {
  const zone = studioZone(db)
  // A block lies within one local day, so nothing that began two days before can still run.
  const earliest = new Date(Date.parse(from) - 2 * 86_400_000).toISOString()
  return prepared<[number, string, string, string], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom}
     WHERE b.bench_id = ? AND b.cancelled_at IS NULL AND b.starts_at > ? AND b.starts_at < ? AND b.ends_at > ?
     ORDER BY b.starts_at`,
  )
    .all(benchId, earliest, to, from)
    .map((row) => toBooking(row, zone))
}

/** The blocks of a job that are not cancelled, in their order. */
export function bookingsOfJob(db: Db, jobId: Id<'job'>): readonly Booking[] {
  const zone = studioZone(db)
  return prepared<[number], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom} WHERE b.job_id = ? AND b.cancelled_at IS NULL ORDER BY b.starts_at`,
  )
    .all(jobId)
    .map((row) => toBooking(row, zone))
}

/** One block, or undefined where there is none or it is cancelled. */
export function findBooking(db: Db, bookingId: Id<'booking'>): Booking | undefined {
  const row = prepared<[number], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom} WHERE b.id = ? AND b.cancelled_at IS NULL`,
  ).get(bookingId)
  return row && toBooking(row, studioZone(db))
}

function toBooking(row: BookingRow, zone: string): Booking {
  const day = dayOf(row.startsAt, zone)
  return {
    ...row,
    isFixed: row.isFixed === 1,
    day,
    fromMinute: minutesOfDay(row.startsAt, zone),
    // A block that ends at midnight ends its own day.
    toMinute: day === dayOf(row.endsAt, zone) ? minutesOfDay(row.endsAt, zone) : 1440,
    spins: JSON.parse(row.spins) as Booking['spins'],
    people: JSON.parse(row.people) as Booking['people'],
  }
}

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

/** Moves a block as it is, with the set change right before it. Refuses as booking does. */
export function moveBooking(writing: Writing, bookingId: Id<'booking'>, move: BookingMove): void {
  const { db } = writing
  const booking = theBooking(db, bookingId)
  const startsAt = Date.parse(setChangeBefore(db, booking)?.startsAt ?? booking.startsAt)
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

/** Cancels a block and the set change right before it; the rows stay, for calendars that must be told. */
export function cancelBooking(writing: Writing, bookingId: Id<'booking'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const booking = theBooking(db, bookingId)
    const setChange = setChangeBefore(db, booking)
    lift(writing, bookingId)
    if (setChange) lift(writing, setChange.id)
    told(writing, booking.jobId, bookingId, 'booking cancelled', {
      bench: booking.bench,
      day: booking.day,
      fromMinute: booking.fromMinute,
    })
  })
}

function theBooking(db: Db, bookingId: Id<'booking'>): Booking {
  const booking = findBooking(db, bookingId)
  if (!booking) throw new Refusal('no-booking', 'This block is not booked any more.')
  return booking
}

/** The set change that makes way for a block of spins: the same job's, ending where the block starts. */
export function setChangeBefore(
  db: Db,
  booking: Booking,
): { readonly id: Id<'booking'>; readonly startsAt: string } | undefined {
  if (booking.kind !== 'spins') return undefined
  return prepared<[number, string, number | null], { id: Id<'booking'>; startsAt: string }>(
    db,
    `SELECT id, starts_at AS startsAt FROM booking
     WHERE bench_id = ? AND ends_at = ? AND job_id IS ? AND kind = 'set change' AND cancelled_at IS NULL`,
  ).get(booking.benchId, booking.startsAt, booking.jobId)
}

/** A draft whose world has been looked at: its instants, its job and its rig. */
interface CheckedBlock extends BlockToCheck {
  readonly kind: BookingKind
  readonly title: string | null
  readonly isFixed: boolean
  readonly objections: readonly Objection[]
  readonly overruledReason: string | null
  readonly setChangeMs: number
}

function checkedBlock(
  writing: Writing,
  draft: BlockDraft,
  exceptIds: readonly Id<'booking'>[],
): CheckedBlock {
  const { db } = writing
  const bench = findBench(db, draft.benchId)
  if (!bench || bench.goneAt !== null) {
    throw new Refusal('no-bench', 'This bench is not in use. Choose another.', { field: 'benchId' })
  }
  checkHours(bench.name, draft.day, draft, bench.openings, closedOn(db, bench, draft.day))
  const times = timesOf(draft.day, draft, studioZone(db))
  const startsAt = times.startsAt.toISOString()
  const endsAt = times.endsAt.toISOString()
  const setChangeMs = draft.kind === 'spins' ? draft.setChangeMinutes * 60_000 : 0
  if (setChangeMs >= times.endsAt.getTime() - times.startsAt.getTime()) {
    throw new Refusal(
      'set-change-too-long',
      `The set change of ${draft.setChangeMinutes} min leaves no time for the spins. Enter a later end.`,
      { field: 'toMinute' },
    )
  }
  checkOverlap(db, bench, startsAt, endsAt, exceptIds)
  const work = workOf(db, draft)
  checkLoads(db, bench, draft.shootIds, work.rigRevisionId)
  const block = {
    ...work,
    bench,
    shootIds: draft.shootIds,
    personIds: draft.personIds,
    startsAt,
    endsAt,
    day: draft.day,
    exceptIds,
  }
  const objections = objectionsTo(db, block, writing.now)
  return {
    ...block,
    kind: draft.kind,
    title: draft.title,
    isFixed: draft.isFixed,
    objections,
    overruledReason: objections.length > 0 ? draft.overruledReason : null,
    setChangeMs,
  }
}

/** Refuses where something speaks against the blocks; a reason may overrule it. Each sentence is said once. */
function refuseObjections(objections: readonly Objection[]): void {
  const [first] = objections
  if (!first) return
  throw new Refusal(first.code, [...new Set(objections.map(({ sentence }) => sentence))].join(' '), {
    field: first.field,
    canOverrule: true,
  })
}

function closedOn(db: Db, bench: Bench, day: string) {
  return closuresBetween(db, day, day).filter(({ benchId }) => benchId === null || benchId === bench.id)
}

function checkOverlap(
  db: Db,
  bench: Bench,
  startsAt: string,
  endsAt: string,
  exceptIds: readonly number[],
): void {
  const [other] = bookingsBetween(db, bench.id, startsAt, endsAt).filter(({ id }) => !exceptIds.includes(id))
  if (!other) return
  throw new Refusal(
    'bench-booked',
    `${bench.name} is booked from ${clock(other.fromMinute)} to ${clock(other.toMinute)} with ${nameOf(other)}. Choose another time, or move that block first.`,
    { field: 'fromMinute' },
  )
}

/** What a block is called in a sentence. */
function nameOf(booking: Booking): string {
  if (booking.kind === 'other') return `'${booking.title ?? ''}'`
  const what = booking.kind === 'set change' ? 'a set change for' : `${booking.spins.length} of the spins of`
  return `${what} ${booking.jobNumber ?? 'no job'}${booking.client ? ` (${booking.client})` : ''}`
}

/** The job and rig of a block of spins. Refuses none, spins of several jobs, and spins on several rigs. */
function workOf(db: Db, draft: BlockDraft): Pick<BlockToCheck, 'jobId' | 'rigRevisionId'> {
  if (draft.kind !== 'spins') {
    if (draft.kind === 'other' && !draft.title) {
      throw new Refusal('no-title', 'Say what the bench is booked for.', { field: 'title' })
    }
    return { jobId: null, rigRevisionId: null }
  }
  const spins = prepared<
    [string],
    {
      jobId: Id<'job'>
      name: string
      cancelled: 0 | 1
      rigRevisionId: Id<'rig_revision'> | null
      rig: string | null
      closed: 0 | 1
    }
  >(
    db,
    `SELECT shoot.job_id AS jobId, shoot.name, shoot.cancelled_at IS NOT NULL AS cancelled,
       shoot.rig_revision_id AS rigRevisionId, rig.name AS rig,
       job.lost_at IS NOT NULL OR job.cancelled_at IS NOT NULL AS closed
     FROM shoot JOIN job ON job.id = shoot.job_id LEFT JOIN rig_revision v ON v.id = shoot.rig_revision_id
     LEFT JOIN rig ON rig.id = v.rig_id WHERE shoot.id IN (SELECT value FROM json_each(?))`,
  ).all(JSON.stringify(draft.shootIds))
  const [first] = spins
  const refuse = (code: string, sentence: string) => new Refusal(code, sentence, { field: 'shootIds' })
  if (!first) throw refuse('no-spins', 'No spin is chosen for this block. Choose at least one.')
  const cancelled = spins.find((spin) => spin.cancelled === 1)
  if (cancelled) throw refuse('spin-cancelled', `'${cancelled.name}' is cancelled. Leave it out.`)
  if (first.closed === 1)
    throw refuse('job-closed', 'This job was lost or cancelled. Reopen it before booking.')
  if (spins.some(({ jobId }) => jobId !== first.jobId)) {
    throw refuse('several-jobs', 'These spins belong to several jobs. Book each job in a block of its own.')
  }
  const rigs = new Map(
    spins.flatMap(({ rigRevisionId, rig }) => (rigRevisionId ? [[rigRevisionId, rig]] : [])) as [
      Id<'rig_revision'>,
      string,
    ][],
  )
  if (rigs.size > 1) {
    throw refuse(
      'several-rigs',
      `These spins stand on different rigs: ${[...rigs.values()].join(', ')}. Book each rig in a block of its own.`,
    )
  }
  return { jobId: first.jobId, rigRevisionId: [...rigs.keys()][0] ?? null }
}

/** Refuses spins heavier than the bench or the rig's platter carries; no reason overrules a maker's limit. */
function checkLoads(
  db: Db,
  bench: Bench,
  shootIds: readonly Id<'shoot'>[],
  rigRevisionId: Id<'rig_revision'> | null,
): void {
  for (const shootId of shootIds) {
    if (rigRevisionId !== null) checkLoad(db, shootId, rigRevisionId)
    if (bench.loadLimitG === null) continue
    const spin = spinMass(db, shootId)
    if (spin.massG > bench.loadLimitG) {
      throw new Refusal(
        'over-load-limit',
        `'${spin.name}' weighs ${massText(spin.massG)}, but ${bench.name} carries ${massText(bench.loadLimitG)}. Book it on a bench that carries more.`,
        { field: 'benchId' },
      )
    }
  }
}

type Span = Pick<CheckedBlock, 'startsAt' | 'endsAt'>

/** The block cut in two where its set change ends. */
function partsOf(block: CheckedBlock): { readonly setChange: Span | undefined; readonly work: Span } {
  if (block.setChangeMs === 0) return { setChange: undefined, work: block }
  const cut = new Date(Date.parse(block.startsAt) + block.setChangeMs).toISOString()
  return {
    setChange: { startsAt: block.startsAt, endsAt: cut },
    work: { startsAt: cut, endsAt: block.endsAt },
  }
}

function insertBooking({ db }: Writing, block: CheckedBlock): Id<'booking'> {
  return newId<Id<'booking'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO booking (bench_id, kind, title, job_id, rig_revision_id, starts_at, ends_at, is_fixed,
         overruled_reason, uid) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
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
    ),
  )
}

/** Takes a block off the bench; its calendar entry learns of it by the next sequence number. */
function lift({ db, now }: Writing, bookingId: Id<'booking'>): void {
  prepared<unknown[]>(db, 'UPDATE booking SET cancelled_at = ?, sequence = sequence + 1 WHERE id = ?').run(
    now,
    bookingId,
  )
}

/** Puts a block that was lifted in its new place. */
function put({ db }: Writing, bookingId: Id<'booking'>, block: CheckedBlock, draft: BlockDraft): void {
  prepared<unknown[]>(
    db,
    `UPDATE booking SET bench_id = ?, title = ?, job_id = ?, rig_revision_id = ?, starts_at = ?, ends_at = ?, is_fixed = ?,
       overruled_reason = ?, cancelled_at = NULL WHERE id = ?`,
  ).run(
    block.bench.id,
    block.title,
    block.jobId,
    block.rigRevisionId,
    block.startsAt,
    block.endsAt,
    block.isFixed ? 1 : 0,
    block.overruledReason,
    bookingId,
  )
  writePeople(db, bookingId, draft.personIds)
}

function writePeople(db: Db, bookingId: Id<'booking'>, personIds: readonly Id<'person'>[]): void {
  prepared<[number]>(db, 'DELETE FROM booking_person WHERE booking_id = ?').run(bookingId)
  for (const personId of new Set(personIds)) {
    prepared<unknown[]>(db, 'INSERT INTO booking_person VALUES (?, ?)').run(bookingId, personId)
  }
}

/** The spins of a block, and the equipment that their rig takes. */
function writeSpins(db: Db, bookingId: Id<'booking'>, block: CheckedBlock): void {
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

function told(
  writing: Writing,
  jobId: Id<'job'> | null,
  bookingId: Id<'booking'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'booking', subjectId: bookingId, jobId, what, detail })
  if (jobId !== null) refreshStanding(writing, jobId)
}

function whenDetail(block: CheckedBlock, draft: BlockDraft): Readonly<Record<string, unknown>> {
  return {
    bench: block.bench.name,
    day: draft.day,
    fromMinute: draft.fromMinute,
    toMinute: draft.toMinute,
    spins: draft.shootIds.length,
    ...(block.overruledReason ? { reason: block.overruledReason } : {}),
  }
}
