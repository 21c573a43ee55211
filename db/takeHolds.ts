import { clock } from '../main/trade/bench.ts'
import { holderWords } from '../main/trade/benchHold.ts'
import { dayOf, minutesOfDay } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { refuseUnlessRunning } from './takeFrames.ts'

/** A device that would have a take in hand: its own key, and where it stands in words: 'the tablet'. */
export interface Holder {
  readonly key: string
  readonly place: string
}

/** Who has a running take in hand. */
export interface Hold {
  readonly holderKey: string
  readonly personName: string
  readonly place: string
  readonly since: string
}

/** Who has this running take in hand, or undefined where nobody has. */
export function holdOf(db: Db, takeId: Id<'take'>): Hold | undefined {
  return prepared<[number], Hold>(
    db,
    `SELECT h.holder_key AS holderKey, person.name AS personName, h.place, h.since
     FROM take_hold h JOIN person ON person.id = h.person_id WHERE h.take_id = ?`,
  ).get(takeId)
}

/**
 * Gives a running take into the hands of a device. One that another has is refused unless it is taken over,
 * which the log tells; what the one before sends after that is refused.
 */
export function holdTake(writing: Writing, takeId: Id<'take'>, holder: Holder, takeOver = false): void {
  const { db, now, who } = writing
  inOneTransaction(db, () => {
    refuseUnlessRunning(db, takeId)
    const before = holdOf(db, takeId)
    if (before?.holderKey === holder.key) return
    if (before && !takeOver) throw takenBy(writing, takeId)
    prepared<unknown[]>(
      db,
      `INSERT INTO take_hold (take_id, holder_key, person_id, device_id, place, since) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (take_id) DO UPDATE SET holder_key = excluded.holder_key, person_id = excluded.person_id,
         device_id = excluded.device_id, place = excluded.place, since = excluded.since`,
    ).run(takeId, holder.key, who.personId, who.deviceId, holder.place, now)
    if (!before) return
    writeEvent(writing, {
      subject: 'take',
      subjectId: takeId,
      what: 'take taken over',
      detail: { from: before.place, to: holder.place },
    })
  })
}

/** Nobody has the take in hand any more. */
export function letGo(db: Db, takeId: Id<'take'>): void {
  prepared<[number]>(db, 'DELETE FROM take_hold WHERE take_id = ?').run(takeId)
}

/** Tells the log of acts that were done at a device after it had lost the take, and are not to go into it. */
export function letActsGo(
  writing: Writing,
  takeId: Id<'take'>,
  acts: { readonly place: string; readonly acts: number; readonly frames: number },
): void {
  inOneTransaction(writing.db, () => {
    const { place, frames } = acts
    writeEvent(writing, {
      subject: 'take',
      subjectId: takeId,
      what: 'acts at a bench that had lost the take were let go',
      detail: { place, acts: acts.acts, frames },
    })
  })
}

/** Why this device may not change a take: another has it. Undefined where it has it, or nobody has. */
export function whyNotHeld(
  writing: Writing,
  takeId: Id<'take'>,
  holderKey: string | null,
): Refusal | undefined {
  const hold = holdOf(writing.db, takeId)
  return hold && hold.holderKey !== holderKey ? takenBy(writing, takeId) : undefined
}

/** Refuses a device that has not got the take while another has. */
export function refuseUnlessHeld(writing: Writing, takeId: Id<'take'>, holderKey: string | null): void {
  const refusal = whyNotHeld(writing, takeId, holderKey)
  if (refusal) throw refusal
}

/** Who has a running take, in words: 'Anna, at the tablet, since 10:12, last frame a minute ago'. */
export function whoHas({ db, now }: Pick<Writing, 'db' | 'now'>, takeId: Id<'take'>): string {
  const row = prepared<
    [number],
    { person: string; place: string | null; since: string; lastFrameAt: string | null }
  >(
    db,
    `SELECT person.name AS person, h.place, ifnull(h.since, take.started_at) AS since,
       (SELECT at FROM take_frame f WHERE f.take_id = take.id ORDER BY frame DESC LIMIT 1) AS lastFrameAt
     FROM take LEFT JOIN take_hold h ON h.take_id = take.id
     JOIN person ON person.id = ifnull(h.person_id, take.person_id) WHERE take.id = ?`,
  ).get(takeId)
  if (!row) throw new Error(`There is no take ${takeId}.`)
  const zone = studioZone(db)
  const { person, place, since, lastFrameAt } = row
  return holderWords({
    person,
    place,
    sinceClock: clock(minutesOfDay(since, zone)),
    sinceDay: dayOf(since, zone) === dayOf(now, zone) ? null : dayOf(since, zone),
    lastFrameMs: lastFrameAt === null ? null : Date.parse(now) - Date.parse(lastFrameAt),
  })
}

function takenBy(writing: Writing, takeId: Id<'take'>): Refusal {
  return new Refusal(
    'take-held',
    `Somebody else has this take: ${whoHas(writing, takeId)}. Take it over to go on with it here.`,
  )
}
