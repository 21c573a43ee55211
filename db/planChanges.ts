import { clock } from '../main/trade/bench.ts'
import { minutesOfDay } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import type { Db } from './open.ts'
import { type SpinToPlan, spinsToPlan } from './planItems.ts'
import { type MovableBlock, movableBlocks } from './planWaiting.ts'
import { prepared } from './statement.ts'

/** What a plan was made from, as the store said it then. */
export interface PlanGround {
  readonly askedAt: string
  readonly spins: readonly SpinToPlan[]
  readonly replanned: readonly MovableBlock[]
  /** When the first block, or the set change before it, begins. */
  readonly startsAt: string | null
}

/** Sentences that are said at most; the rest is counted. */
const mostSaid = 3

/**
 * Refuses a plan that rests on what has changed since it was asked for: a spin that is cancelled, turned, booked, on
 * another rig, longer or due otherwise, a sample that comes later, a block that was moved, fixed or begun, and a plan
 * whose first block should have begun by now.
 */
export function refuseOvertaken(db: Db, ground: PlanGround, now: string): void {
  const said = [
    ...blocksChanged(db, ground, now),
    ...spinsChanged(db, ground),
    ...bookedOrTurned(db, ground, now),
    ...beginsInPast(db, ground, now),
  ]
  if (said.length === 0) return
  const more = said.length > mostSaid ? ` And ${said.length - mostSaid} more.` : ''
  throw new Refusal(
    'plan-overtaken',
    `Nothing is booked, for something has changed since this plan was made. ${said.slice(0, mostSaid).join(' ')}${more} Plan again.`,
  )
}

function spinsChanged(db: Db, { spins }: PlanGround): readonly string[] {
  const after = new Map(
    spinsToPlan(
      db,
      spins.map(({ shootId }) => shootId),
    ).map((spin) => [spin.shootId, spin]),
  )
  return spins.flatMap((before) => {
    const what = whatChanged(before, after.get(before.shootId))
    return what === undefined ? [] : [`'${before.name}' of ${before.jobNumber} ${what}.`]
  })
}

function whatChanged(before: SpinToPlan, after: SpinToPlan | undefined): string | undefined {
  if (!after) return 'is cancelled, or its job is closed'
  if (after.rigRevisionId !== before.rigRevisionId) return 'is planned on another rig'
  if (after.settingsId !== before.settingsId) return 'is planned with other settings'
  if (after.estimateMs !== before.estimateMs) return 'takes another time by now'
  if (after.rowFrames !== before.rowFrames) return 'breaks between its rows otherwise by now'
  if (after.dueDay !== before.dueDay) return 'is due on another day'
  if (after.priority !== before.priority) return 'has another priority'
  if (after.holdUntil !== before.holdUntil) return 'is on hold otherwise than before'
  const isLater = (after.lastExpectedDay ?? '') > (before.lastExpectedDay ?? '')
  if (after.samplesOut > before.samplesOut || isLater) return 'waits longer for its sample'
  return undefined
}

/** Spins that lie in a block to come which the plan knows nothing of, or that were turned meanwhile. */
function bookedOrTurned(db: Db, { askedAt, spins, replanned }: PlanGround, now: string): readonly string[] {
  const shootIds = JSON.stringify(spins.map(({ shootId }) => shootId))
  const booked = prepared<[string, string, string], { name: string; bench: string }>(
    db,
    `SELECT shoot.name, bench.name AS bench FROM booking_shoot bs JOIN booking b ON b.id = bs.booking_id
     JOIN shoot ON shoot.id = bs.shoot_id JOIN bench ON bench.id = b.bench_id
     WHERE bs.shoot_id IN (SELECT value FROM json_each(?)) AND b.cancelled_at IS NULL AND b.ends_at > ?
       AND b.id NOT IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at`,
  )
  const turned = prepared<[string, string], { name: string }>(
    db,
    `SELECT DISTINCT shoot.name FROM take JOIN shoot ON shoot.id = take.shoot_id
     WHERE take.shoot_id IN (SELECT value FROM json_each(?)) AND take.started_at > ? ORDER BY shoot.name`,
  )
  return [
    ...booked
      .all(shootIds, now, JSON.stringify(replanned.map(({ id }) => id)))
      .map(({ name, bench }) => `'${name}' was booked on ${bench}.`),
    ...turned.all(shootIds, askedAt).map(({ name }) => `'${name}' was turned.`),
  ]
}

function blocksChanged(db: Db, { replanned }: PlanGround, now: string): readonly string[] {
  if (replanned.length === 0) return []
  const after = new Map(movableBlocks(db, now).map((block) => [block.id, block]))
  const changed = replanned.filter((before) => !sameBlock(before, after.get(before.id)))
  if (changed.length === 0) return []
  const which = changed.length === 1 ? 'A booked block was' : `${changed.length} booked blocks were`
  return [`${which} moved, fixed, begun or cancelled.`]
}

function sameBlock(before: MovableBlock, after: MovableBlock | undefined): boolean {
  return (
    after !== undefined &&
    after.benchId === before.benchId &&
    after.startsAt === before.startsAt &&
    after.endsAt === before.endsAt &&
    after.shootIds.join() === before.shootIds.join()
  )
}

function beginsInPast(db: Db, { startsAt }: PlanGround, now: string): readonly string[] {
  if (startsAt === null || startsAt >= now) return []
  const zone = studioZone(db)
  const at = (instant: string) => clock(minutesOfDay(new Date(instant), zone))
  return [`The plan begins at ${at(startsAt)}, and it is ${at(now)}.`]
}
