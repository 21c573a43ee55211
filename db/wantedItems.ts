import type { DeliverableKind } from './briefs.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { ReshootCause } from './spins.ts'
import { prepared } from './statement.ts'
import { type ChosenStart, chosenStart } from './takeLoops.ts'

/** Where one deliverable of one spin stands between its takes and its delivery. */
export type ItemState = 'to turn' | 'to pick' | 'to show' | 'shown' | 'change wanted' | 'yes' | 'delivered'

/** One deliverable of one spin, with what was picked, shown, answered and delivered of it. */
export interface WantedItem {
  readonly shootId: Id<'shoot'>
  readonly spin: string
  readonly isFirst: boolean
  readonly deliverableId: Id<'deliverable'>
  readonly deliverable: string
  readonly kind: DeliverableKind
  readonly state: ItemState
  readonly picks: readonly ItemPick[]
  readonly shownAt: string | null
  readonly answerByDay: string | null
  readonly answer: ItemAnswer | null
  /** The delivery that carried it, once it was sent. */
  readonly deliveryNumber: string | null
}

export interface ItemPick {
  readonly row: number
  readonly takeId: Id<'take'>
  readonly takeNumber: number
  readonly startFrame: number
  readonly reversed: boolean
}

export interface ItemAnswer {
  readonly id: Id<'answer'>
  readonly verdict: 'yes' | 'change'
  readonly needs: 'reshoot' | 'rework' | null
  readonly cause: ReshootCause | null
  readonly words: string | null
  readonly answeredAt: string
}

/** A kept take that can be picked. */
export interface PickableTake {
  readonly shootId: Id<'shoot'>
  readonly takeId: Id<'take'>
  readonly row: number
  readonly number: number
  readonly framesPerTurn: number
  readonly startedAt: string
  /** Where a person chose it to begin where it is looked at; null where nobody has. */
  readonly chosen: ChosenStart | null
}

interface ItemRow extends Omit<WantedItem, 'isFirst' | 'state' | 'picks' | 'answer'> {
  readonly isFirst: 0 | 1
  readonly rows: number
  readonly rowsKept: number
  readonly answerId: Id<'answer'> | null
}

// A delivery counts until the client wants a change of what it carried, or the spin is to be turned again.
const itemsOfJob = `
  SELECT shoot.id AS shootId, shoot.name AS spin, shoot.is_first AS isFirst, d.id AS deliverableId,
    d.name AS deliverable, d.kind,
    (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id) AS rows,
    (SELECT count(DISTINCT t.row) FROM take t WHERE t.shoot_id = shoot.id AND t.verdict = 'keep'
      AND t.started_at > reopened.at) AS rowsKept,
    (SELECT max(s.shown_at) FROM showing_item si JOIN showing s ON s.id = si.showing_id
      WHERE si.shoot_id = shoot.id AND si.deliverable_id = d.id AND s.shown_at > reopened.at) AS shownAt,
    (SELECT s.answer_by_day FROM showing_item si JOIN showing s ON s.id = si.showing_id
      WHERE si.shoot_id = shoot.id AND si.deliverable_id = d.id AND s.shown_at > reopened.at
      ORDER BY s.shown_at DESC LIMIT 1) AS answerByDay,
    (SELECT a.id FROM answer a WHERE a.shoot_id = shoot.id AND a.deliverable_id = d.id
      AND a.withdrawn_at IS NULL ORDER BY a.verdict = 'yes' DESC, a.answered_at DESC, a.id DESC LIMIT 1) AS answerId,
    (SELECT max(dl.number) FROM delivery_item di JOIN delivery dl ON dl.id = di.delivery_id
      WHERE di.shoot_id = shoot.id AND di.deliverable_id = d.id AND dl.sent_at > reopened.at
        AND dl.sent_at > ifnull((SELECT max(c.answered_at) FROM answer c WHERE c.shoot_id = shoot.id
          AND c.deliverable_id = d.id AND c.verdict = 'change' AND c.withdrawn_at IS NULL), '')) AS deliveryNumber
  FROM shoot JOIN job ON job.id = shoot.job_id
  JOIN deliverable d ON d.brief_id = ifnull(shoot.brief_id, job.brief_id)
  JOIN (SELECT s.id AS shoot_id, ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = s.id), '') AS at
    FROM shoot s WHERE s.job_id = ?) reopened ON reopened.shoot_id = shoot.id
  WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL ORDER BY shoot.position, d.position`

/** Every deliverable of every spin of a job, in the order of its spins. */
export function wantedItems(db: Db, jobId: Id<'job'>): readonly WantedItem[] {
  const picks = grouped(picksOfJob(db, jobId), keyOf)
  const answers = new Map(answersOfJob(db, jobId).map((answer) => [answer.id, answer]))
  return prepared<[number, number], ItemRow>(db, itemsOfJob)
    .all(jobId, jobId)
    .map(({ rows, rowsKept, answerId, ...item }) => {
      const itemPicks = (picks.get(keyOf(item)) ?? []).map(
        ({ shootId: _, deliverableId: __, ...pick }) => pick,
      )
      const answer = (answerId !== null && answers.get(answerId)) || null
      return {
        ...item,
        isFirst: item.isFirst === 1,
        picks: itemPicks,
        answer,
        state: stateOf({ ...item, rows, rowsKept, picked: itemPicks.length, answer }),
      }
    })
}

/** Kept takes of a job's spins since each was last to be turned again, the newest first. */
export function pickableTakes(db: Db, jobId: Id<'job'>): readonly PickableTake[] {
  return prepared<[number], Omit<PickableTake, 'chosen'> & { isChosen: 0 | 1 }>(
    db,
    `SELECT take.shoot_id AS shootId, take.id AS takeId, take.row, take.number, take.frames_per_turn AS framesPerTurn,
       take.started_at AS startedAt, EXISTS (SELECT 1 FROM take_loop l WHERE l.take_id = take.id) AS isChosen
     FROM shoot CROSS JOIN take ON take.shoot_id = shoot.id WHERE shoot.job_id = ? AND take.verdict = 'keep'
       AND take.started_at > ifnull((SELECT max(asked_at) FROM reshoot WHERE reshoot.shoot_id = take.shoot_id), '')
     ORDER BY take.shoot_id, take.row, take.number DESC`,
  )
    .all(jobId)
    .map(({ isChosen, ...take }) => ({
      ...take,
      chosen: isChosen === 1 ? chosenStart(db, take.takeId, take.framesPerTurn) : null,
    }))
}

/** How many rounds of changes by the client's own wish a job has had, of those its price holds. */
export function roundsOfJob(db: Db, jobId: Id<'job'>): { readonly used: number; readonly included: number } {
  const row = prepared<[number], { used: number; included: number }>(
    db,
    `SELECT job.rounds_included AS included, (SELECT count(DISTINCT a.answered_at) FROM shoot
       CROSS JOIN answer a ON a.shoot_id = shoot.id WHERE shoot.job_id = job.id AND a.verdict = 'change'
         AND a.cause = 'client''s wish' AND a.withdrawn_at IS NULL) AS used FROM job WHERE job.id = ?`,
  ).get(jobId)
  return row ?? { used: 0, included: 0 }
}

function stateOf(item: {
  readonly rows: number
  readonly rowsKept: number
  readonly picked: number
  readonly shownAt: string | null
  readonly answer: ItemAnswer | null
  readonly deliveryNumber: string | null
}): ItemState {
  if (item.deliveryNumber !== null) return 'delivered'
  if (item.picked < item.rows) return item.rowsKept < item.rows ? 'to turn' : 'to pick'
  if (item.answer?.verdict === 'yes') return 'yes'
  const changedSince =
    item.answer !== null && (item.shownAt === null || item.shownAt <= item.answer.answeredAt)
  if (changedSince && item.answer?.needs === 'rework') return 'change wanted'
  return item.shownAt === null || changedSince ? 'to show' : 'shown'
}

function picksOfJob(db: Db, jobId: Id<'job'>) {
  return prepared<
    [number],
    Omit<ItemPick, 'reversed'> & { shootId: Id<'shoot'>; deliverableId: Id<'deliverable'>; reversed: 0 | 1 }
  >(
    db,
    `SELECT pick.shoot_id AS shootId, pick.deliverable_id AS deliverableId, pick.row, pick.take_id AS takeId,
       take.number AS takeNumber, pick.start_frame AS startFrame, pick.reversed
     FROM shoot CROSS JOIN pick ON pick.shoot_id = shoot.id AND pick.withdrawn_at IS NULL
     JOIN take ON take.id = pick.take_id WHERE shoot.job_id = ? ORDER BY pick.row`,
  )
    .all(jobId)
    .map((pick) => ({ ...pick, reversed: pick.reversed === 1 }))
}

function answersOfJob(db: Db, jobId: Id<'job'>): readonly ItemAnswer[] {
  return prepared<[number], ItemAnswer>(
    db,
    `SELECT a.id, a.verdict, a.needs, a.cause, a.words, a.answered_at AS answeredAt
     FROM shoot CROSS JOIN answer a ON a.shoot_id = shoot.id WHERE shoot.job_id = ? AND a.withdrawn_at IS NULL`,
  ).all(jobId)
}

function keyOf({
  shootId,
  deliverableId,
}: {
  readonly shootId: number
  readonly deliverableId: number
}): string {
  return `${shootId} ${deliverableId}`
}
