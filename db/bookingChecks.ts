import { checkHours, clock, type Times, timesOf } from '../main/trade/bench.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, closuresBetween, findBench } from './benches.ts'
import { type BlockToCheck, type Objection, objectionsTo } from './bookingObjections.ts'
import { type BlockDraft, type Booking, type BookingKind, bookingsBetween } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { checkLoad, massText, spinMass } from './rigPlans.ts'
import { prepared } from './statement.ts'

/** A draft whose world has been looked at: its instants, its job and its rig. */
export interface CheckedBlock extends BlockToCheck {
  readonly kind: BookingKind
  readonly title: string | null
  readonly isFixed: boolean
  readonly objections: readonly Objection[]
  readonly overruledReason: string | null
  readonly setChangeMs: number
}

/**
 * Looks at a block before it is booked. Refuses what no reason overrules, and gives what one may.
 * @param knownTimes  its instants where they are known already: of a clock time that comes twice the draft means the first
 */
export function checkedBlock(
  writing: Writing,
  draft: BlockDraft,
  exceptIds: readonly Id<'booking'>[],
  knownTimes?: Times,
): CheckedBlock {
  const { db } = writing
  const bench = findBench(db, draft.benchId)
  if (!bench || bench.goneAt !== null) {
    throw new Refusal('no-bench', 'This bench is not in use. Choose another.', { field: 'benchId' })
  }
  checkHours(bench.name, draft.day, draft, bench.openings, closedOn(db, bench, draft.day))
  const times = knownTimes ?? timesOf(draft.day, draft, studioZone(db))
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
export function refuseObjections(objections: readonly Objection[]): void {
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
export function nameOf(booking: Booking): string {
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
