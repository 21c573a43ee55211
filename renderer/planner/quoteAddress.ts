import { mmFromUm10 } from '../../main/trade/length.ts'
import { addressOfRow } from '../quotes/addressTurn.ts'
import type { AnglesView } from './anglesView.ts'
import type { TurnView } from './turnView.ts'

/** The job's quote with the planned rows in its address. */
export function quoteAddress(
  jobId: number,
  turn: Pick<TurnView, 'rows' | 'rimUm10'>,
  angles: AnglesView,
): string {
  const params = new URLSearchParams()
  for (const [index, { frames, overlap }] of turn.rows.entries()) {
    params.append(
      'row',
      addressOfRow({
        viewAngleMdeg: angles[index] ?? 0,
        framesPerTurn: frames,
        overlapFrames: overlap,
      }),
    )
  }
  params.set('rim', String(mmFromUm10(turn.rimUm10)))
  return `/jobs/${jobId}/quote?${params}`
}
