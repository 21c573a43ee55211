import type { BlockOnOtherRig } from '../main/trade/blockRig.ts'
import { changeoverMs, isDialled } from '../main/trade/changeover.ts'
import { findBench } from './benches.ts'
import { objectionsTo } from './bookingObjections.ts'
import { type Booking, findBooking } from './bookings.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { findRevision } from './rigRevisions.ts'
import { rigNameOf, rigStandingAt } from './standingRig.ts'
import { prepared } from './statement.ts'

/**
 * Lets the blocks to come of spins that were planned anew follow them: a block whose spins now all stand on one
 * other rig takes that rig and its equipment, and so does the set change before it. Of a block whose spins now
 * stand on several rigs, those that left its rig leave it and wait for a place: a block holds one rig. Times stay
 * as they are booked; what no longer fits is said. Call it in the transaction that plans, before standings are worked out.
 */
export function letBlocksFollow(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
): readonly BlockOnOtherRig[] {
  return blocksToCome(writing, shootIds).flatMap((bookingId) => {
    const booking = findBooking(writing.db, bookingId)
    return booking ? follow(writing, booking) : []
  })
}

function blocksToCome({ db, now }: Writing, shootIds: readonly Id<'shoot'>[]): readonly Id<'booking'>[] {
  return prepared<[string, string], { id: Id<'booking'> }>(
    db,
    `SELECT DISTINCT b.id FROM json_each(?) AS chosen CROSS JOIN booking_shoot bs ON bs.shoot_id = chosen.value
     JOIN booking b ON b.id = bs.booking_id WHERE b.cancelled_at IS NULL AND b.ends_at > ? ORDER BY b.starts_at`,
  )
    .all(JSON.stringify(shootIds), now)
    .map(({ id }) => id)
}

interface SpinOfBlock {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly rigRevisionId: Id<'rig_revision'> | null
}

function follow(writing: Writing, booking: Booking): readonly BlockOnOtherRig[] {
  const { db } = writing
  const spins = prepared<[number], SpinOfBlock>(
    db,
    `SELECT shoot.id AS shootId, shoot.name, shoot.rig_revision_id AS rigRevisionId FROM booking_shoot bs
     JOIN shoot ON shoot.id = bs.shoot_id WHERE bs.booking_id = ? ORDER BY bs.position`,
  ).all(booking.id)
  // A spin without a rig may stand on any: it is no reason to part a block.
  const rigs = new Set(spins.flatMap(({ rigRevisionId }) => rigRevisionId ?? []))
  const keeps = booking.rigRevisionId !== null && rigs.has(booking.rigRevisionId)
  const [rig] = keeps ? [booking.rigRevisionId] : rigs
  if (!rig || (keeps && rigs.size === 1)) return []
  const leaving = spins.filter(({ rigRevisionId }) => rigRevisionId !== null && rigRevisionId !== rig)
  if (leaving.length > 0) takeSpinsOff(writing, booking, leaving)
  const told: BlockOnOtherRig = {
    ...whereIs(booking),
    rig: booking.rig,
    left: leaving.map(({ name }) => name),
    setChange: { bookedMin: 0, neededMin: 0 },
    objections: [],
  }
  if (keeps) return [told]
  return [
    {
      ...told,
      ...takeRig(
        writing,
        booking,
        rig,
        spins.filter((spin) => !leaving.includes(spin)),
      ),
    },
  ]
}

function whereIs({ bench, day, fromMinute }: Booking): Pick<BlockOnOtherRig, 'bench' | 'day' | 'fromMinute'> {
  return { bench, day, fromMinute }
}

function takeRig(
  writing: Writing,
  booking: Booking,
  rigRevisionId: Id<'rig_revision'>,
  spins: readonly SpinOfBlock[],
): Omit<BlockOnOtherRig, 'bench' | 'day' | 'fromMinute' | 'left'> {
  const { db } = writing
  const setChange = setChangeOf(db, booking)
  for (const id of setChange ? [booking.id, setChange.id] : [booking.id]) {
    prepared<unknown[]>(
      db,
      'UPDATE booking SET rig_revision_id = ?, changed_at = ?, sequence = sequence + 1 WHERE id = ?',
    ).run(rigRevisionId, writing.now, id)
  }
  prepared<[number]>(db, 'DELETE FROM booking_equipment WHERE booking_id = ?').run(booking.id)
  prepared<unknown[]>(
    db,
    'INSERT INTO booking_equipment SELECT ?, equipment_id FROM rig_equipment WHERE rig_revision_id = ?',
  ).run(booking.id, rigRevisionId)
  const rig = findRevision(db, rigRevisionId)
  const before = rigStandingAt(db, booking.benchId, setChange?.startsAt ?? booking.startsAt)
  const [first] = spins
  const settingsId = first ? settingsOf(db, first.shootId) : null
  const standing = before ? (findRevision(db, before.rigRevisionId) ?? null) : null
  const neededMs = rig
    ? changeoverMs(standing, rig, isDialled(before?.settingsId, settingsId), thePace(db))
    : 0
  const name = rigNameOf(db, rigRevisionId)
  tell(writing, booking, 'block follows another rig', { name, before: booking.rig })
  return {
    rig: name,
    setChange: {
      bookedMin: setChange
        ? Math.round((Date.parse(setChange.endsAt) - Date.parse(setChange.startsAt)) / 60_000)
        : 0,
      neededMin: Math.ceil(neededMs / 60_000),
    },
    objections: objectionsOf(writing, booking, rigRevisionId, setChange?.id),
  }
}

/** The set change that makes way for a block: the last block before it on its bench, also on the evening before. */
function setChangeOf(
  db: Db,
  booking: Booking,
): { readonly id: Id<'booking'>; readonly startsAt: string; readonly endsAt: string } | undefined {
  const last = prepared<
    [number, string],
    { id: Id<'booking'>; kind: string; jobId: Id<'job'> | null; startsAt: string; endsAt: string }
  >(
    db,
    `SELECT id, kind, job_id AS jobId, starts_at AS startsAt, ends_at AS endsAt FROM booking
     WHERE bench_id = ? AND cancelled_at IS NULL AND starts_at < ? ORDER BY starts_at DESC LIMIT 1`,
  ).get(booking.benchId, booking.startsAt)
  return last?.kind === 'set change' && last.jobId === booking.jobId ? last : undefined
}

/** What of the new rig is not there; people, samples and a job on hold are as they were. */
function objectionsOf(
  { db, now }: Writing,
  booking: Booking,
  rigRevisionId: Id<'rig_revision'>,
  setChangeId: Id<'booking'> | undefined,
): readonly string[] {
  const bench = findBench(db, booking.benchId)
  if (!bench) return []
  const ofTheRig = ['platter-not-here', 'platter-elsewhere', 'equipment-away', 'equipment-elsewhere']
  return objectionsTo(
    db,
    {
      ...booking,
      bench,
      rigRevisionId,
      shootIds: [],
      personIds: [],
      exceptIds: setChangeId === undefined ? [booking.id] : [booking.id, setChangeId],
    },
    now,
  )
    .filter(({ code }) => ofTheRig.includes(code))
    .map(({ sentence }) => sentence)
}

/**
 * Takes spins off a block; they wait for a place again. The last spin takes the block with it, and the set
 * change that makes way for it.
 */
export function takeSpinsOff(
  writing: Writing,
  booking: Booking,
  spins: readonly { readonly shootId: Id<'shoot'>; readonly name: string }[],
): void {
  const { db, now } = writing
  for (const { shootId } of spins) {
    prepared<[number, number]>(db, 'DELETE FROM booking_shoot WHERE booking_id = ? AND shoot_id = ?').run(
      booking.id,
      shootId,
    )
  }
  const isEmpty =
    prepared<[number]>(db, 'SELECT 1 FROM booking_shoot WHERE booking_id = ? LIMIT 1').get(booking.id) ===
    undefined
  const setChange = setChangeOf(db, booking)
  const ids = isEmpty && setChange ? [booking.id, setChange.id] : [booking.id]
  for (const id of ids) {
    prepared<unknown[]>(
      db,
      'UPDATE booking SET cancelled_at = ?, changed_at = ?, sequence = sequence + 1 WHERE id = ?',
    ).run(isEmpty ? now : null, now, id)
  }
  tell(writing, booking, isEmpty ? 'booking cancelled' : 'spins left their block', {
    spins: spins.length,
    names: spins.map(({ name }) => name),
    fromMinute: booking.fromMinute,
  })
}

function settingsOf(db: Db, shootId: Id<'shoot'>): Id<'settings'> | null {
  return (
    prepared<[number], { id: Id<'settings'> | null }>(
      db,
      'SELECT settings_id AS id FROM shoot WHERE id = ?',
    ).get(shootId)?.id ?? null
  )
}

function tell(
  writing: Writing,
  booking: Booking,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, {
    subject: 'booking',
    subjectId: booking.id,
    jobId: booking.jobId,
    what,
    detail: { bench: booking.bench, day: booking.day, ...detail },
  })
}
