import type { SampleState } from '../main/trade/samples.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import type { SampleFate } from './samples.ts'
import { prepared } from './statement.ts'

/** A sample that is in the studio now, of whatever job. */
export interface ShelfLine {
  readonly sampleId: Id<'sample'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly clientName: string
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly state: SampleState
  readonly arrivedAt: string
  readonly condition: string | null
  readonly place: string | null
  readonly valueMinor: number | null
  readonly currency: string
  readonly fate: SampleFate
  /** The day by which the client wants the job's samples back. */
  readonly returnByDay: string | null
  /** The job needs it no longer: the client said yes to every spin, or the job is closed. */
  readonly isDone: boolean
}

/** Orders the shelf can be read in; a fixed text per name, so that no name from outside reaches the SQL. */
const shelfOrders = {
  place: 'sample.place IS NULL, sample.place COLLATE NOCASE',
  client: 'client.name COLLATE NOCASE',
  job: 'job.number',
  code: 'product.code COLLATE NOCASE',
  arrived: 'sample.arrived_at',
  returnBy: 'job.return_by_day IS NULL, job.return_by_day',
} as const
export type ShelfOrder = keyof typeof shelfOrders

/** Which samples: all that are here, those that can leave, or those that should have left. */
export type ShelfPart = 'all' | 'done' | 'overdue'

const isDone = `(st.is_open = 0
  OR st.at_samples_in + st.at_bench + st.at_takes + st.at_pick + st.at_yes = 0)`

const parts: Record<ShelfPart, string> = {
  all: '',
  done: `AND ${isDone}`,
  overdue: 'AND job.return_by_day < @today',
}

const shelfFrom = `FROM sample JOIN job ON job.id = sample.job_id JOIN client ON client.id = job.client_id
  JOIN product ON product.id = sample.product_id JOIN job_standing st ON st.job_id = job.id
  WHERE sample.state IN ('in', 'wrong', 'broken')`

/** A page of what is on the shelf, and how many samples there are in that part of it. */
export function shelf(
  db: Db,
  {
    part,
    order,
    descending,
    page,
    today,
  }: {
    readonly part: ShelfPart
    readonly order: ShelfOrder
    readonly descending: boolean
    readonly page: Page
    readonly today: string
  },
): { readonly lines: readonly ShelfLine[]; readonly total: number } {
  const way = descending ? 'DESC' : 'ASC'
  const lines = prepared<object, Omit<ShelfLine, 'isDone'> & { isDone: 0 | 1 }>(
    db,
    `SELECT sample.id AS sampleId, job.id AS jobId, job.number AS jobNumber, client.name AS clientName, product.code,
       product.name, product.variant, sample.state, sample.arrived_at AS arrivedAt, sample.condition, sample.place,
       sample.value_minor AS valueMinor, job.currency, sample.fate, job.return_by_day AS returnByDay,
       ${isDone} AS isDone
     ${shelfFrom} ${parts[part]} ORDER BY ${shelfOrders[order]} ${way}, sample.id LIMIT @limit OFFSET @offset`,
  )
    .all({ limit: page.limit, offset: page.offset, today })
    .map((line) => ({ ...line, isDone: line.isDone === 1 }))
  const total = prepared<object, { n: number }>(db, `SELECT count(*) AS n ${shelfFrom} ${parts[part]}`).get({
    today,
  })
  return { lines, total: total?.n ?? 0 }
}
