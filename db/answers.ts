import { addWorkingDays, dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone, workingWeek } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { spinOf } from './picks.ts'
import { reshootSpins } from './reshoots.ts'
import type { ReshootCause } from './spins.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** One deliverable of one spin: what is shown, answered and delivered. */
export interface Wanted {
  readonly shootId: Id<'shoot'>
  readonly deliverableId: Id<'deliverable'>
}

/** What a client is shown for a yes. */
export interface NewShowing {
  readonly jobId: Id<'job'>
  readonly items: readonly Wanted[]
  readonly contactId: Id<'contact'> | null
  /** Null takes the day that the brief, else the studio, allows for a yes. */
  readonly answerByDay: string | null
  readonly note: string | null
}

/** A client's answer to one or to forty at once. A change says what it needs and who caused it. */
export type NewAnswer = {
  readonly items: readonly Wanted[]
  readonly contactId: Id<'contact'> | null
  readonly words: string | null
  /** When the client said it, in UTC; not after now. */
  readonly answeredAt: string
} & (
  | { readonly verdict: 'yes' }
  | { readonly verdict: 'change'; readonly needs: 'reshoot' | 'rework'; readonly cause: ReshootCause }
)

/** The day an answer is asked for: working days from today, by the job's brief, the client's, or the studio. */
export function answerByDay(db: Db, jobId: Id<'job'>, now: string): string {
  const row = prepared<[number], { days: number }>(
    db,
    `SELECT coalesce(own.yes_days, standing.yes_days, (SELECT yes_days FROM studio)) AS days
     FROM job JOIN brief own ON own.id = job.brief_id JOIN client ON client.id = job.client_id
     JOIN brief standing ON standing.id = client.standing_brief_id WHERE job.id = ?`,
  ).get(jobId)
  if (!row) throw new Refusal('no-job', 'This job is not in the studio.')
  return addWorkingDays(dayOf(now, studioZone(db)), row.days, workingWeek(db))
}

/** Whose job it is; refuses a job that is not in the studio. */
export function clientOfJob(db: Db, jobId: Id<'job'>): Id<'client'> {
  const row = prepared<[number], { clientId: Id<'client'> }>(
    db,
    'SELECT client_id AS clientId FROM job WHERE id = ?',
  ).get(jobId)
  if (!row) throw new Refusal('no-job', 'This job is not in the studio.')
  return row.clientId
}

/** Writes that picks were shown to the client. Refuses what is not wholly picked, and what has its yes already. */
export function showToClient(writing: Writing, showing: NewShowing): Id<'showing'> {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    if (showing.items.length === 0) throw new Refusal('nothing-to-show', 'Choose what the client is shown.')
    refuseUnpicked(db, showing.items)
    const day = showing.answerByDay ?? answerByDay(db, showing.jobId, now)
    const showingId = newId<Id<'showing'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO showing (job_id, contact_id, shown_at, answer_by_day, note) VALUES (?, ?, ?, ?, ?)',
      ).run(showing.jobId, showing.contactId, now, day, showing.note),
    )
    for (const item of distinct(showing.items)) {
      if (spinOf(db, item.shootId).jobId !== showing.jobId) {
        throw new Refusal(
          'spin-of-another-job',
          'One of these spins belongs to another job. Show each job apart.',
        )
      }
      prepared<unknown[]>(db, 'INSERT INTO showing_item VALUES (?, ?, ?)').run(
        showingId,
        item.shootId,
        item.deliverableId,
      )
    }
    const detail = { items: showing.items.length, answerByDay: day }
    writeEvent(writing, {
      subject: 'showing',
      subjectId: showingId,
      jobId: showing.jobId,
      what: 'shown to the client',
      detail,
    })
    refreshStanding(writing, showing.jobId)
    return showingId
  })
}

/**
 * Writes a client's answer to each item, all or none. A yes is for what is picked, and gives the family of the
 * spin's products the rig and settings it was turned on, where it has none. A change takes the yes back; one
 * that needs a reshoot reopens the spin with its cause. A second yes to the same changes nothing.
 */
export function answerItems(writing: Writing, answer: NewAnswer): void {
  const { db } = writing
  inOneTransaction(db, () => {
    if (answer.answeredAt > writing.now) {
      throw new Refusal('answer-in-future', 'The client cannot have answered in the future. Check the day.', {
        field: 'answeredDay',
      })
    }
    const items = distinct(answer.items)
    if (items.length === 0) throw new Refusal('nothing-answered', 'Choose what the client has answered.')
    if (answer.verdict === 'yes') {
      refuseUnpicked(db, items)
      for (const item of items) sayYes(db, item, answer)
    } else {
      for (const item of items) {
        refuseForeign(db, item)
        wantChange(writing, item, answer)
      }
    }
    const shootIds = [...new Set(items.map(({ shootId }) => shootId))]
    for (const jobId of new Set(shootIds.map((shootId) => spinOf(db, shootId).jobId))) {
      const ofJob = items.filter(({ shootId }) => spinOf(db, shootId).jobId === jobId)
      const detail = { items: ofJob.length, words: answer.words, at: answer.answeredAt }
      const what = answer.verdict === 'yes' ? 'the client said yes' : 'the client wants a change'
      writeEvent(writing, { subject: 'job', subjectId: jobId, jobId, what, detail })
      refreshStanding(writing, jobId)
    }
    if (answer.verdict === 'change' && answer.needs === 'reshoot') {
      reshootSpins(writing, shootIds, answer.cause, answer.words ?? 'a change the client wants')
    }
  })
}

/**
 * Takes back an answer that was written down by mistake. Refuses a yes to what was delivered since, and a
 * change that has reopened its spin.
 */
export function withdrawAnswer(writing: Writing, answerId: Id<'answer'>): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const answer = prepared<
      [number],
      {
        shootId: Id<'shoot'>
        deliverableId: Id<'deliverable'>
        needs: string | null
        verdict: string
        delivery: string | null
      }
    >(
      db,
      `SELECT shoot_id AS shootId, deliverable_id AS deliverableId, needs, verdict,
         (SELECT max(d.number) FROM delivery_item di JOIN delivery d ON d.id = di.delivery_id
           WHERE di.shoot_id = answer.shoot_id AND di.deliverable_id = answer.deliverable_id
             AND d.sent_at >= answer.answered_at) AS delivery
       FROM answer WHERE id = ? AND withdrawn_at IS NULL`,
    ).get(answerId)
    if (!answer) throw new Refusal('no-answer', 'This answer was taken back already.')
    if (answer.verdict === 'yes' && answer.delivery !== null) {
      throw new Refusal(
        'yes-delivered',
        `It was delivered with ${answer.delivery} on this yes. If the client wants it otherwise now, write down a change.`,
      )
    }
    if (answer.needs === 'reshoot') {
      throw new Refusal(
        'change-reopened',
        'This change has reopened the spin. Pick and show it again, and write down the yes, to close it.',
      )
    }
    prepared<unknown[]>(db, 'UPDATE answer SET withdrawn_at = ? WHERE id = ?').run(now, answerId)
    const { jobId, name } = spinOf(db, answer.shootId)
    const detail = { spin: name, verdict: answer.verdict }
    writeEvent(writing, {
      subject: 'shoot',
      subjectId: answer.shootId,
      jobId,
      what: 'answer taken back',
      detail,
    })
    refreshStanding(writing, jobId)
  })
}

function sayYes(db: Db, item: Wanted, answer: NewAnswer): void {
  if (standingYes(db, item) !== undefined) return
  prepared<unknown[]>(
    db,
    `INSERT INTO answer (shoot_id, deliverable_id, verdict, words, contact_id, answered_at) VALUES (?, ?, 'yes', ?, ?, ?)`,
  ).run(item.shootId, item.deliverableId, answer.words, answer.contactId, answer.answeredAt)
  // What the client approved is what the next product of the range must match.
  prepared<Wanted>(
    db,
    `UPDATE family SET (rig_revision_id, settings_id) = (SELECT take.rig_revision_id, take.settings_id FROM pick
       JOIN take ON take.id = pick.take_id WHERE pick.shoot_id = @shootId AND pick.deliverable_id = @deliverableId
         AND pick.withdrawn_at IS NULL ORDER BY pick.row LIMIT 1)
     WHERE rig_revision_id IS NULL AND settings_id IS NULL AND id IN (SELECT product.family_id FROM shoot_product sp
       JOIN product ON product.id = sp.product_id WHERE sp.shoot_id = @shootId)`,
  ).run({ shootId: item.shootId, deliverableId: item.deliverableId })
}

function wantChange(
  { db, now }: Writing,
  item: Wanted,
  answer: NewAnswer & { readonly verdict: 'change' },
): void {
  const yes = standingYes(db, item)
  if (yes !== undefined) {
    prepared<unknown[]>(db, 'UPDATE answer SET withdrawn_at = ? WHERE id = ?').run(now, yes)
  }
  prepared<unknown[]>(
    db,
    `INSERT INTO answer (shoot_id, deliverable_id, verdict, needs, cause, words, contact_id, answered_at)
     VALUES (?, ?, 'change', ?, ?, ?, ?, ?)`,
  ).run(
    item.shootId,
    item.deliverableId,
    answer.needs,
    answer.cause,
    answer.words,
    answer.contactId,
    answer.answeredAt,
  )
}

function standingYes(db: Db, { shootId, deliverableId }: Wanted): Id<'answer'> | undefined {
  return prepared<[number, number], { id: Id<'answer'> }>(
    db,
    `SELECT id FROM answer WHERE shoot_id = ? AND deliverable_id = ? AND verdict = 'yes' AND withdrawn_at IS NULL`,
  ).get(shootId, deliverableId)?.id
}

/** A change can be wanted of what the spin's own brief asks for, and of nothing else. */
function refuseForeign(db: Db, { shootId, deliverableId }: Wanted): void {
  const own = prepared<[number, number]>(
    db,
    `SELECT 1 FROM shoot JOIN job ON job.id = shoot.job_id
     JOIN deliverable d ON d.brief_id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ? AND d.id = ?`,
  ).get(shootId, deliverableId)
  if (!own) throw new Refusal('no-spin', 'One of these spins does not have this deliverable.')
}

/** Only what is picked in every row can be shown or said yes to. */
function refuseUnpicked(db: Db, items: readonly Wanted[]): void {
  const unpicked = items.flatMap(({ shootId, deliverableId }) => {
    const row = prepared<[number, number], { spin: string; deliverable: string; missing: number }>(
      db,
      `SELECT shoot.name AS spin, d.name AS deliverable,
         (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id AND NOT EXISTS (SELECT 1 FROM pick p
           WHERE p.shoot_id = shoot.id AND p.row = r.row AND p.deliverable_id = d.id AND p.withdrawn_at IS NULL)) AS missing
       FROM shoot JOIN job ON job.id = shoot.job_id
       JOIN deliverable d ON d.brief_id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ? AND d.id = ?`,
    ).get(shootId, deliverableId)
    if (!row) throw new Refusal('no-spin', 'One of these spins does not have this deliverable.')
    return row.missing > 0 ? [`${row.spin} (${row.deliverable})`] : []
  })
  if (unpicked.length === 0) return
  const named = unpicked.slice(0, 3).join(', ')
  const rest = unpicked.length > 3 ? ` and ${unpicked.length - 3} more` : ''
  throw new Refusal(
    'not-picked',
    `No take is picked yet for ${named}${rest}. Pick one first, or leave it out.`,
  )
}

function distinct(items: readonly Wanted[]): readonly Wanted[] {
  return [...new Map(items.map((item) => [`${item.shootId} ${item.deliverableId}`, item])).values()]
}
