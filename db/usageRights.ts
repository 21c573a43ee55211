import { Refusal } from '../main/trade/refusal.ts'
import type { RightOfUse } from '../main/trade/usageRights.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A right of use on a job: proposed until it is agreed; an agreed one can only be withdrawn. */
export interface UsageRight extends RightOfUse {
  readonly id: Id<'usage_right'>
  readonly jobId: Id<'job'>
  readonly agreedAt: string | null
  readonly withdrawnAt: string | null
  readonly withdrawnReason: string | null
}

export type RightRow = Omit<UsageRight, 'passesOnPayment'> & { readonly passesOnPayment: 0 | 1 }

export const rightColumns = `r.id, r.job_id AS jobId, r.media, r.territory, r.from_day AS fromDay, r.to_day AS toDay,
  r.passes_on_payment AS passesOnPayment, r.agreed_at AS agreedAt, r.withdrawn_at AS withdrawnAt,
  r.withdrawn_reason AS withdrawnReason`

export function toRight<T extends RightRow>(row: T) {
  return { ...row, passesOnPayment: row.passesOnPayment === 1 }
}

/** All rights of a job, in the order they were written down; withdrawn ones too. */
export function rightsOfJob(db: Db, jobId: Id<'job'>): readonly UsageRight[] {
  return prepared<[number], RightRow>(
    db,
    `SELECT ${rightColumns} FROM usage_right r WHERE r.job_id = ? ORDER BY r.id`,
  )
    .all(jobId)
    .map(toRight)
}

/** What the next quote of a job would say: every right that is not withdrawn. */
export function standingRights(db: Db, jobId: Id<'job'>): readonly UsageRight[] {
  return rightsOfJob(db, jobId).filter(({ withdrawnAt }) => withdrawnAt === null)
}

/** What the client has: the agreed rights of a job that are not withdrawn. */
export function agreedRights(db: Db, jobId: Id<'job'>): readonly UsageRight[] {
  return standingRights(db, jobId).filter(({ agreedAt }) => agreedAt !== null)
}

function theRight(db: Db, rightId: Id<'usage_right'>): UsageRight {
  const row = prepared<[number], RightRow>(
    db,
    `SELECT ${rightColumns} FROM usage_right r WHERE r.id = ?`,
  ).get(rightId)
  if (!row)
    throw new Refusal('no-right', 'This right of use is not in the studio any more. Look at the list.')
  return toRight(row)
}

/** Writes a right down as proposed; the quote that is sent next carries it. */
export function addRight(writing: Writing, jobId: Id<'job'>, right: RightOfUse): Id<'usage_right'> {
  return inOneTransaction(writing.db, () => {
    // Refuses a job that is not in the studio.
    jobById(writing.db, jobId)
    const id = insertRight(writing.db, jobId, right, null)
    tell(writing, { id, jobId, ...right }, 'right of use proposed')
    return id
  })
}

/** A new row of a right; a yes that came with it stands in it. */
export function insertRight(
  db: Db,
  jobId: Id<'job'>,
  right: RightOfUse,
  agreedAt: string | null,
): Id<'usage_right'> {
  return newId<Id<'usage_right'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO usage_right (job_id, media, territory, from_day, to_day, passes_on_payment, agreed_at)
       VALUES (?, ?, ?, ?, ?, ?, ?)`,
    ).run(jobId, ...values(right), agreedAt),
  )
}

function values({ media, territory, fromDay, toDay, passesOnPayment }: RightOfUse): readonly unknown[] {
  return [media, territory, fromDay, toDay, passesOnPayment ? 1 : 0]
}

/** Changes a right that is still proposed. Refuses one that was agreed. */
export function changeRight(writing: Writing, rightId: Id<'usage_right'>, right: RightOfUse): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = theRight(db, rightId)
    refuseAgreed(before)
    rewriteRight(db, rightId, right, null)
    tell(writing, { ...before, ...right }, 'right of use changed', { before: worded(before) })
  })
}

/** Writes a right that is not agreed anew; call it where that is known. */
export function rewriteRight(
  db: Db,
  rightId: Id<'usage_right'>,
  right: RightOfUse,
  agreedAt: string | null,
): void {
  prepared<unknown[]>(
    db,
    `UPDATE usage_right SET media = ?, territory = ?, from_day = ?, to_day = ?, passes_on_payment = ?, agreed_at = ?
     WHERE id = ?`,
  ).run(...values(right), agreedAt, rightId)
}

/** Takes a proposed right off again. Refuses one that was agreed: it is withdrawn, and stays to be seen. */
export function removeRight(writing: Writing, rightId: Id<'usage_right'>): void {
  inOneTransaction(writing.db, () => {
    const right = theRight(writing.db, rightId)
    refuseAgreed(right)
    prepared<[number]>(writing.db, 'DELETE FROM usage_right WHERE id = ?').run(rightId)
    tell(writing, right, 'right of use taken off')
  })
}

/** Writes down the client's yes to one right, outside a quote: an extension after the job, a right asked for late. */
export function agreeRight(writing: Writing, rightId: Id<'usage_right'>, by: string): void {
  inOneTransaction(writing.db, () => {
    const right = theRight(writing.db, rightId)
    refuseAgreed(right)
    rewriteRight(writing.db, rightId, right, writing.now)
    tell(writing, right, 'right of use agreed', { by })
  })
}

/** Withdraws an agreed right, with the reason; papers that name it stay as they are. */
export function withdrawRight(writing: Writing, rightId: Id<'usage_right'>, reason: string): void {
  inOneTransaction(writing.db, () => {
    const right = theRight(writing.db, rightId)
    if (right.agreedAt === null || right.withdrawnAt !== null) {
      throw new Refusal(
        'right-not-agreed',
        'Only a right that the client has can be withdrawn. Take a proposed one off instead.',
      )
    }
    prepared<unknown[]>(
      writing.db,
      'UPDATE usage_right SET withdrawn_at = ?, withdrawn_reason = ? WHERE id = ?',
    ).run(writing.now, reason, rightId)
    tell(writing, right, 'right of use withdrawn', { reason })
  })
}

function refuseAgreed(right: UsageRight): void {
  if (right.agreedAt === null) return
  throw new Refusal(
    'right-agreed',
    'The client has agreed to this right, so it stays as it is. Withdraw it with a reason, and add another.',
  )
}

/** What of a right stands on paper. */
export function worded({ media, territory, fromDay, toDay, passesOnPayment }: RightOfUse): RightOfUse {
  return { media, territory, fromDay, toDay, passesOnPayment }
}

function tell(
  writing: Writing,
  right: Pick<UsageRight, 'id' | 'jobId'> & RightOfUse,
  what: string,
  detail: Readonly<Record<string, unknown>> = {},
): void {
  writeEvent(writing, {
    subject: 'usage right',
    subjectId: right.id,
    jobId: right.jobId,
    what,
    detail: { name: `${right.media}, ${right.territory}`, ...worded(right), ...detail },
  })
}
