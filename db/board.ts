import type { Id } from './ids.ts'
import {
  conditionOf,
  type JobFilter,
  type JobLine,
  type LineRecord,
  lineColumns,
  linesFrom,
  type Present,
  toLine,
} from './jobLists.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Every open job that matches, by due day, undated ones last: what hangs on the board. */
export function boardJobs(db: Db, filter: Omit<JobFilter, 'openOnly'>, present: Present): readonly JobLine[] {
  const { where, values } = conditionOf({ ...filter, openOnly: true }, present)
  return prepared<object, LineRecord>(
    db,
    `SELECT ${lineColumns} ${linesFrom} WHERE ${where} ORDER BY st.due_day IS NULL, st.due_day, job.id`,
  )
    .all(values)
    .map(toLine)
}

/** What the board can be narrowed to: clients with open jobs, and benches. */
export function boardChoices(db: Db): {
  readonly clients: readonly { readonly id: Id<'client'>; readonly name: string }[]
  readonly benches: readonly { readonly id: Id<'bench'>; readonly name: string }[]
} {
  return {
    clients: prepared<[], { id: Id<'client'>; name: string }>(
      db,
      `SELECT id, name FROM client WHERE EXISTS
         (SELECT 1 FROM job_standing st WHERE st.client_id = client.id AND st.is_open = 1)
       ORDER BY name COLLATE NOCASE`,
    ).all(),
    benches: prepared<[], { id: Id<'bench'>; name: string }>(
      db,
      'SELECT id, name FROM bench WHERE gone_at IS NULL ORDER BY position',
    ).all(),
  }
}
