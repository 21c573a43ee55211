import { countWords } from '../../countWords.ts'
import { formatDecimal } from '../../decimal.ts'
import { type Finding, keyAt } from '../finding.ts'
import { shotTwice } from '../turn/samePicture.ts'
import type { EdgeMark, Slip } from './edgeMark.ts'

/** What the mark on the platter's edge tells, in words: slips in the order of the frames, then how the turn closes. */
export function edgeMarkFindings(
  { slips, framesPerTurn, closingFrame, confidence }: Omit<EdgeMark, 'findings'>,
  framesPlanned: number,
): readonly Finding[] {
  const found = slips.map(slipFinding)
  if (framesPerTurn === null || closingFrame === null || confidence === null) return found
  const whole = Math.round(framesPerTurn)
  const rest = Math.abs(framesPerTurn - whole)
  if (whole === framesPlanned && rest < mostRest) return found
  return [...found, closingFinding(framesPerTurn, closingFrame, confidence, framesPlanned)]
}

/** A seam that is off by more than this of a step is seen. Common practice, no published source. */
const mostRest = 0.2

function slipFinding({ from, to, steps }: Slip): Finding {
  const count = Math.abs(steps)
  const isWhole = Number.isInteger(steps)
  const fault = isWhole && steps < 0 ? shotTwice : 'missed step'
  if (to - from > 1) {
    const much = `${isWhole ? count : formatDecimal(Math.round(count * 10), 1)}\u00a0step${count === 1 ? '' : 's'}`
    return {
      key: keyAt('edgeMark:hidden', from),
      frames: [from, to],
      sentence: `Between frame\u00a0${from} and frame\u00a0${to}, while the mark on the edge was hidden, the platter was turned ${much} too ${steps > 0 ? 'far' : 'little'}. Look at the frames between.`,
      fault,
    }
  }
  return {
    key: keyAt('edgeMark:slip', to),
    frames: [to],
    sentence:
      steps > 0
        ? `Before frame\u00a0${to} the platter was turned ${count + 1}\u00a0steps at once: ${count === 1 ? 'a mark was' : `${count}\u00a0marks were`} passed over. Shoot ${count === 1 ? 'it' : 'them'} and put ${count === 1 ? 'it' : 'them'} in.`
        : `Frame\u00a0${to} was shot where frame\u00a0${from} was: the platter was not turned. Leave one of the two out.`,
    fault,
  }
}

/** Where the mark tells how the turn closes, it alone does. */
export const markedClosingKey = 'edgeMark:closing'

function closingFinding(
  framesPerTurn: number,
  closingFrame: number,
  confidence: number,
  framesPlanned: number,
): Finding {
  const percent = `${Math.floor(confidence * 100)}\u00a0%`
  const rest = framesPerTurn - Math.round(framesPerTurn)
  const seam =
    Math.abs(rest) < mostRest
      ? ''
      : ` It does not fall on a mark: the seam is ${formatDecimal(Math.round(Math.abs(rest) * 10), 1)}\u00a0steps ${rest > 0 ? 'long' : 'short'}.`
  return {
    key: markedClosingKey,
    size: Math.abs(framesPerTurn - framesPlanned),
    frames: [closingFrame],
    sentence: `By the mark on the edge frame\u00a0${closingFrame} repeats frame\u00a01 (sure to ${percent}): one turn has ${formatDecimal(Math.round(framesPerTurn * 10), 1)}\u00a0frames, not ${formatDecimal(framesPlanned, 0)}.${seam}`,
    fault: null,
  }
}

export function tooLittleSeen(seen: number, frames: number): Finding {
  return {
    key: 'edgeMark:unseen',
    frames: [],
    sentence: `The mark on the platter’s edge is seen in ${formatDecimal(seen, 0)} of ${countWords(frames, 'frame')}, too few to tell angles. Draw the band close along the near edge, where nothing hides the mark, or stick on a mark of more contrast.`,
    fault: null,
  }
}
