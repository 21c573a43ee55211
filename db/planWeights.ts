import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** What a minute late counts in a plan of the bench, by the job's priority. */
export interface PlanWeights {
  readonly low: number
  readonly normal: number
  readonly high: number
}

export function planWeights(db: Db): PlanWeights {
  const row = prepared<[], PlanWeights>(db, 'SELECT low, normal, high FROM plan_weights').get()
  if (!row) throw new Error('The store holds no weights to plan with.')
  return row
}

/** Changes what a minute late counts. Plans asked for from now on use it; what is booked stays. */
export function changePlanWeights(writing: Writing, weights: PlanWeights): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = planWeights(db)
    prepared<[number, number, number]>(db, 'UPDATE plan_weights SET low = ?, normal = ?, high = ?').run(
      weights.low,
      weights.normal,
      weights.high,
    )
    writeEvent(writing, {
      subject: 'pace',
      subjectId: 1,
      what: 'plan weights changed',
      detail: { before, after: weights },
    })
  })
}
