import { mmFromUm10 } from '../../main/trade/length.ts'
import type { TypedQuote } from './quoteValue.ts'

/** The planner for a job, with the turn that its quote has now; what is not filled in stands as the job has it. */
export function plannerAddress(
  jobId: number,
  turn: Pick<TypedQuote, 'framesPerTurn' | 'overlapFrames' | 'rows' | 'rimUm10'>,
): string {
  const params = new URLSearchParams({ job: String(jobId) })
  if (turn.rimUm10 !== null) {
    params.set('rimBy', 'reading')
    params.set('rim', String(mmFromUm10(turn.rimUm10)))
  }
  if (turn.framesPerTurn !== null) {
    params.set('stepIn', 'frames')
    params.set('step', String(turn.framesPerTurn))
  }
  if (turn.overlapFrames !== null) params.set('overlap', String(turn.overlapFrames))
  if (turn.rows !== null) params.set('rows', String(turn.rows))
  return `/planner?${params}`
}
