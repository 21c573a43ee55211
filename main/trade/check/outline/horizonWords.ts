import type { CheckedTake } from '../checkedTake.ts'
import type { Finding } from '../finding.ts'
import type { FrameTrace } from '../frameTrace.ts'
import type { HorizonVerdict } from '../report.ts'
import { axisLeanOf, type Lean } from './horizon.ts'

/** From where the horizon of a row counts as another than that of the row before, in degrees. Common practice, no published source. */
const limitDeg = 0.4

/** `0.4° clockwise`; what rounds to nothing has no way round. */
export function leanText({ leanDeg }: Pick<Lean, 'leanDeg'>): string {
  const deg = `${Math.abs(leanDeg).toFixed(1)}°`
  return deg === '0.0°' ? deg : `${deg} ${leanDeg > 0 ? 'clockwise' : 'counter-clockwise'}`
}

/** How the axis of the turn leans in the picture, and against the other rows of the spin. */
export function horizonOf(
  { framesPerTurn, otherRows }: Pick<CheckedTake, 'framesPerTurn' | 'otherRows'>,
  traces: readonly (FrameTrace | null)[],
): { readonly verdict: HorizonVerdict; readonly findings: readonly Finding[] } {
  const turn = traces.slice(0, framesPerTurn)
  const widthPx = turn.find((trace) => trace !== null)?.widthPx
  if (turn.length < framesPerTurn || widthPx === undefined) {
    return { verdict: unknown('The horizon is told once the turn is whole.'), findings: [] }
  }
  const lean = axisLeanOf(
    turn.map((trace) => trace?.silhouette ?? null),
    widthPx,
  )
  if (!lean) {
    return {
      verdict: unknown(
        'The product’s outline is told in too few rows: see yourself that the horizon is level.',
      ),
      findings: [],
    }
  }
  const findings = otherRows.flatMap((other): Finding[] => {
    const against = { leanDeg: lean.leanDeg - other.lean.leanDeg }
    const sure = Math.hypot(lean.errorDeg, other.lean.errorDeg)
    if (Math.abs(against.leanDeg) <= Math.max(limitDeg, sure)) return []
    return [
      {
        key: `horizon row ${other.row}`,
        frames: [],
        sentence: `The picture leans ${leanText(against)} against row ${other.row}. Level the camera, or straighten this row when it is developed.`,
        fault: null,
      },
    ]
  })
  const [first] = findings
  const state = first ? ('found' as const) : ('clean' as const)
  const sentence =
    first?.sentence ??
    `The axis of the turn ${leanText(lean) === '0.0°' ? 'stands upright' : `leans ${leanText(lean)}`} in the picture (± ${lean.errorDeg.toFixed(1)}°)${otherRows.length > 0 ? ', as in the other rows' : ''}.`
  return { verdict: { state, sentence, lean }, findings }
}

function unknown(sentence: string): HorizonVerdict {
  return { state: 'unknown', sentence, lean: null }
}
