import { mmFromUm10 } from '../../main/trade/length.ts'
import type { TurnView } from './turnView.ts'

/** The job's quote with the planned turn in its address. */
export function quoteAddress(
  jobId: number,
  turn: Pick<TurnView, 'frames' | 'overlap' | 'rows' | 'rimUm10'>,
): string {
  const params = new URLSearchParams({
    frames: String(turn.frames),
    overlap: String(turn.overlap),
    rows: String(turn.rows),
    rim: String(mmFromUm10(turn.rimUm10)),
  })
  return `/jobs/${jobId}/quote?${params}`
}
