import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** Our choice of a take, with where its turn starts and which way it runs. */
export interface NewPick {
  readonly takeId: Id<'take'>
  /** The deliverables it is picked for; null for every one of its spin. */
  readonly deliverableIds: readonly Id<'deliverable'>[] | null
  /** The frame of the turn that comes first, from 1. */
  readonly startFrame: number
  readonly reversed: boolean
}

/**
 * Picks a kept take for deliverables of its spin; the pick it replaces is withdrawn. Refuses a take that is
 * not kept or was shot before the last call for a reshoot, and to change a deliverable that has the yes.
 */
export function pickTake(writing: Writing, pick: NewPick): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const take = keptTake(db, pick.takeId)
    if (pick.startFrame > take.framesPerTurn) {
      throw new Refusal(
        'start-past-turn',
        `The turn has ${take.framesPerTurn} frames. Start at one of them.`,
        {
          field: 'startFrame',
        },
      )
    }
    const wanted = deliverablesOfSpin(db, take.shootId)
    const chosen =
      pick.deliverableIds === null ? wanted : wanted.filter(({ id }) => pick.deliverableIds?.includes(id))
    if (chosen.length === 0) {
      throw new Refusal('no-deliverable', `Choose what take ${take.number} of ${take.spin} is picked for.`)
    }
    for (const deliverable of chosen) {
      if (isPickedSo(db, take.shootId, take.row, deliverable.id, pick)) continue
      refuseChangeUnderYes(db, take.shootId, deliverable.id, take.spin)
      insertPick(writing, take, deliverable.id, pick)
    }
    tell(writing, take.jobId, take.shootId, 'take picked', {
      spin: take.spin,
      take: take.number,
      row: take.row,
      for: chosen.map(({ name }) => name),
    })
    refreshStanding(writing, take.jobId)
  })
}

/**
 * Picks the newest kept take of every row for every deliverable that has no pick yet, for many spins at once.
 * @returns how many picks were made, and the spins that have a row without a kept take
 */
export function pickNewest(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
): { readonly picked: number; readonly notTurned: readonly string[] } {
  const { db } = writing
  return inOneTransaction(db, () => {
    let picked = 0
    const notTurned: string[] = []
    const jobs = new Set<Id<'job'>>()
    for (const shootId of new Set(shootIds)) {
      const newest = newestKept(db, shootId)
      if (newest.some(({ takeId }) => takeId === null)) notTurned.push(newest[0]?.spin ?? '')
      for (const { takeId } of newest) {
        if (takeId === null) continue
        const take = keptTake(db, takeId)
        for (const { id } of deliverablesOfSpin(db, shootId)) {
          if (hasPick(db, shootId, take.row, id)) continue
          insertPick(writing, take, id, { startFrame: 1, reversed: false })
          picked += 1
        }
        jobs.add(take.jobId)
      }
    }
    for (const jobId of jobs) {
      writeEvent(writing, {
        subject: 'job',
        subjectId: jobId,
        jobId,
        what: 'takes picked',
        detail: { picks: picked },
      })
      refreshStanding(writing, jobId)
    }
    return { picked, notTurned }
  })
}

/** Withdraws the picks of a spin's deliverable, in every row. Refuses where the client has said yes to it. */
export function withdrawPicks(
  writing: Writing,
  shootId: Id<'shoot'>,
  deliverableId: Id<'deliverable'>,
): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const spin = spinOf(db, shootId)
    refuseChangeUnderYes(db, shootId, deliverableId, spin.name)
    const { changes } = prepared<unknown[]>(
      db,
      'UPDATE pick SET withdrawn_at = ? WHERE shoot_id = ? AND deliverable_id = ? AND withdrawn_at IS NULL',
    ).run(now, shootId, deliverableId)
    if (changes === 0) return
    tell(writing, spin.jobId, shootId, 'pick withdrawn', { spin: spin.name })
    refreshStanding(writing, spin.jobId)
  })
}

/** The spin's job and name; refuses one that is not in the studio. */
export function spinOf(db: Db, shootId: Id<'shoot'>): { readonly jobId: Id<'job'>; readonly name: string } {
  const spin = prepared<[number], { jobId: Id<'job'>; name: string }>(
    db,
    'SELECT job_id AS jobId, name FROM shoot WHERE id = ?',
  ).get(shootId)
  if (!spin) throw new Refusal('no-spin', 'This spin is not in the studio.')
  return spin
}

interface KeptTake {
  readonly id: Id<'take'>
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly spin: string
  readonly row: number
  readonly number: number
  readonly framesPerTurn: number
}

function keptTake(db: Db, takeId: Id<'take'>): KeptTake {
  const take = prepared<[number], KeptTake & { verdict: string | null; counts: 0 | 1 }>(
    db,
    `SELECT take.id, take.shoot_id AS shootId, shoot.job_id AS jobId, shoot.name AS spin, take.row, take.number,
       take.frames_per_turn AS framesPerTurn, take.verdict, take.started_at > ifnull((SELECT max(asked_at)
         FROM reshoot WHERE reshoot.shoot_id = take.shoot_id), '') AS counts
     FROM take JOIN shoot ON shoot.id = take.shoot_id WHERE take.id = ?`,
  ).get(takeId)
  if (!take) throw new Refusal('no-take', 'This take is not in the studio.')
  if (take.verdict !== 'keep') {
    throw new Refusal(
      'take-not-kept',
      `Take ${take.number} of ${take.spin} is not kept. Keep it first, or pick another.`,
    )
  }
  if (take.counts === 0) {
    throw new Refusal(
      'take-before-reshoot',
      `Take ${take.number} of ${take.spin} was shot before the reshoot was asked for. Pick a newer one.`,
    )
  }
  return take
}

function deliverablesOfSpin(
  db: Db,
  shootId: Id<'shoot'>,
): readonly { id: Id<'deliverable'>; name: string }[] {
  return prepared<[number], { id: Id<'deliverable'>; name: string }>(
    db,
    `SELECT d.id, d.name FROM shoot JOIN job ON job.id = shoot.job_id
     JOIN deliverable d ON d.brief_id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ? ORDER BY d.position`,
  ).all(shootId)
}

/** For each row of a spin, its newest kept take since the last call for a reshoot. */
function newestKept(db: Db, shootId: Id<'shoot'>): readonly { spin: string; takeId: Id<'take'> | null }[] {
  return prepared<[number], { spin: string; takeId: Id<'take'> | null }>(
    db,
    `SELECT shoot.name AS spin, (SELECT take.id FROM take WHERE take.shoot_id = shoot.id AND take.row = r.row
       AND take.verdict = 'keep' AND take.started_at > ifnull((SELECT max(asked_at) FROM reshoot
         WHERE reshoot.shoot_id = shoot.id), '') ORDER BY take.number DESC LIMIT 1) AS takeId
     FROM shoot JOIN shoot_row r ON r.shoot_id = shoot.id
     WHERE shoot.id = ? AND shoot.cancelled_at IS NULL ORDER BY r.row`,
  ).all(shootId)
}

function hasPick(db: Db, shootId: Id<'shoot'>, row: number, deliverableId: Id<'deliverable'>): boolean {
  return (
    prepared<[number, number, number]>(
      db,
      'SELECT 1 FROM pick WHERE shoot_id = ? AND row = ? AND deliverable_id = ? AND withdrawn_at IS NULL',
    ).get(shootId, row, deliverableId) !== undefined
  )
}

function isPickedSo(
  db: Db,
  shootId: Id<'shoot'>,
  row: number,
  deliverableId: Id<'deliverable'>,
  pick: NewPick,
): boolean {
  return (
    prepared<unknown[]>(
      db,
      `SELECT 1 FROM pick WHERE shoot_id = ? AND row = ? AND deliverable_id = ? AND withdrawn_at IS NULL
         AND take_id = ? AND start_frame = ? AND reversed = ?`,
    ).get(shootId, row, deliverableId, pick.takeId, pick.startFrame, pick.reversed ? 1 : 0) !== undefined
  )
}

function refuseChangeUnderYes(
  db: Db,
  shootId: Id<'shoot'>,
  deliverableId: Id<'deliverable'>,
  spin: string,
): void {
  const yes = prepared<[number, number], { name: string }>(
    db,
    `SELECT d.name FROM answer a JOIN deliverable d ON d.id = a.deliverable_id
     WHERE a.shoot_id = ? AND a.deliverable_id = ? AND a.verdict = 'yes' AND a.withdrawn_at IS NULL`,
  ).get(shootId, deliverableId)
  if (!yes) return
  throw new Refusal(
    'pick-has-yes',
    `The client has said yes to the ${yes.name} of ${spin} as it is picked. Write down the change that is wanted, or take the yes back, before picking anew.`,
  )
}

function insertPick(
  { db, now }: Writing,
  take: KeptTake,
  deliverableId: Id<'deliverable'>,
  { startFrame, reversed }: Pick<NewPick, 'startFrame' | 'reversed'>,
): void {
  prepared<unknown[]>(
    db,
    `UPDATE pick SET withdrawn_at = ? WHERE shoot_id = ? AND row = ? AND deliverable_id = ? AND withdrawn_at IS NULL`,
  ).run(now, take.shootId, take.row, deliverableId)
  prepared<unknown[]>(
    db,
    `INSERT INTO pick (shoot_id, row, deliverable_id, take_id, start_frame, reversed, picked_at)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  ).run(take.shootId, take.row, deliverableId, take.id, startFrame, reversed ? 1 : 0, now)
}

function tell(
  writing: Writing,
  jobId: Id<'job'>,
  shootId: Id<'shoot'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'shoot', subjectId: shootId, jobId, what, detail })
}
