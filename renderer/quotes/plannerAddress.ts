import { mmFromUm10 } from '../../main/trade/length.ts'
import { typedOfRows } from '../planner/rowTexts.ts'
import { readRows, type TypedQuote } from './quoteValue.ts'

/** The planner for a job, with the rows that its quote has now; what is not filled in stands as the job has it. */
export function plannerAddress(jobId: number, turn: Pick<TypedQuote, 'rows' | 'rimUm10'>): string {
  const params = new URLSearchParams({ job: String(jobId) })
  if (turn.rimUm10 !== null) {
    params.set('rimBy', 'reading')
    params.set('rim', String(mmFromUm10(turn.rimUm10)))
  }
  const rows = readRows(turn.rows)
  if (rows === undefined) return `/planner?${params}`
  for (const [key, text] of Object.entries(typedOfRows(rows))) params.set(key, text)
  return `/planner?${params}`
}
