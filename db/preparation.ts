import { type Moment, moments, type Preparation } from '../main/trade/preparation.ts'
import { type Finish, finishes } from '../main/trade/product.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** What is done to products before and after a take: a list for every finish, in the order of the finishes. */
export function listPreparation(db: Db): readonly Preparation[] {
  const rows = prepared<[], { finish: Finish; moment: Moment; step: string }>(
    db,
    'SELECT finish, moment, step FROM preparation ORDER BY finish, moment, position',
  ).all()
  const steps = (finish: Finish, moment: Moment) =>
    rows.filter((row) => row.finish === finish && row.moment === moment).map(({ step }) => step)
  return finishes.map((finish) => ({
    finish,
    before: steps(finish, 'before'),
    after: steps(finish, 'after'),
  }))
}

/** Puts new lists in the place of those of the same finishes: all of it or nothing. */
export function changePreparation(writing: Writing, lists: readonly Preparation[]): void {
  const { db } = writing
  inOneTransaction(db, () => {
    for (const list of lists) writePreparation(db, list)
    writeEvent(writing, {
      subject: 'studio',
      subjectId: 1,
      what: 'preparation changed',
      detail: { finishes: lists.map(({ finish }) => finish) },
    })
  })
}

/** Writes one finish's lists in the place of its old ones; part of a transaction. */
export function writePreparation(db: Db, list: Preparation): void {
  prepared<[string]>(db, 'DELETE FROM preparation WHERE finish = ?').run(list.finish)
  const insert = prepared<unknown[]>(
    db,
    'INSERT INTO preparation (finish, moment, position, step) VALUES (?, ?, ?, ?)',
  )
  for (const moment of moments) {
    for (const [index, step] of list[moment].entries()) insert.run(list.finish, moment, index + 1, step)
  }
}
