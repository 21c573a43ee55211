import { formatDecimal } from '../../main/trade/decimal.ts'
import { formatLength } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { type FrameChoice, frameChoices } from '../../main/trade/turn/choices.ts'
import { closing } from '../../main/trade/turn/closing.ts'
import { turnMarks } from '../../main/trade/turn/marks.ts'
import type { Tape } from '../parts/ringGeometry.ts'

/** The most that a turn is shot in. */
const mostFrames = 1440

/** How the turn meets its start: a sentence, the marks to draw, and whether it closes. */
export interface TurnSeen {
  readonly sentence: string
  readonly tape: Tape | undefined
}

/**
 * What a turn looks like on its rim. A step that was asked for is drawn as equal steps with the seam it leaves;
 * a number of frames is drawn with marks rounded from the start, which always close.
 */
export function turnSeen(
  rimUm10: number,
  stepUm10: number | null,
  frames: number,
  divisionUm10: number,
): TurnSeen {
  try {
    if (stepUm10 === null) return roundedTurn(rimUm10, frames, divisionUm10)
    const turn = closing(rimUm10, stepUm10)
    if (turn.nearestFrames > mostFrames) {
      return {
        sentence: `This step makes ${turn.nearestFrames} frames a turn. A turn has at most ${mostFrames}; enter a longer step.`,
        tape: undefined,
      }
    }
    const steps = `${formatLength(rimUm10)} ÷ ${formatLength(stepUm10)}`
    if (turn.closes && turn.fullSteps === frames) {
      return { sentence: `${steps} = ${frames}: the turn closes.`, tape: evenTape(rimUm10, stepUm10, frames) }
    }
    const seam = rimUm10 - frames * stepUm10
    const way = seam > 0 ? 'long' : 'short'
    const part = formatDecimal(Math.round((Math.abs(seam) * 100) / stepUm10), 2)
    const deg = formatDecimal(Math.round((Math.abs(seam) * 36_000) / rimUm10), 2)
    return {
      sentence: `${frames} steps of ${formatLength(stepUm10)} leave the seam ${way} by ${formatLength(Math.abs(seam))}, ${deg}° or ${part} of a step. Take one of the turns below, and it closes.`,
      tape: evenTape(rimUm10, stepUm10, frames),
    }
  } catch (error) {
    if (error instanceof Refusal) return { sentence: error.message, tape: undefined }
    throw error
  }
}

function roundedTurn(rimUm10: number, frames: number, divisionUm10: number): TurnSeen {
  const readings = turnMarks(rimUm10, frames, divisionUm10)
  const stepUm10 = rimUm10 / frames
  const step = formatDecimal(Math.round(stepUm10), 4)
  return {
    sentence: Number.isInteger(stepUm10 / divisionUm10)
      ? `${frames} frames are a step of ${step} mm: the turn closes.`
      : `${frames} frames are a step of ${step} mm. The marks are rounded from the start to ${formatLength(divisionUm10)}, so the turn closes.`,
    tape: { readings, rim: rimUm10 },
  }
}

function evenTape(rimUm10: number, stepUm10: number, frames: number): Tape {
  return { readings: Array.from({ length: frames }, (_, k) => k * stepUm10), rim: rimUm10 }
}

/**
 * Turns near the wished one, in order of frames: the wish itself, the nearest whose steps are all even, and the
 * nearest that the brief's frame sets divide evenly. None where the tape cannot be read so finely.
 */
export function nearTurns(
  rimUm10: number,
  frames: number,
  divisionUm10: number,
  setSizes: readonly number[],
): readonly FrameChoice[] {
  try {
    const all = frameChoices({ rimUm10, divisionUm10, frames, within: 60, setSizes }).toSorted(
      (a, b) => Math.abs(a.frames - frames) - Math.abs(b.frames - frames) || b.frames - a.frames,
    )
    const even = all.filter(({ longGaps }) => longGaps === 0).slice(0, 2)
    const forSets = all.filter(({ evenSets }) => evenSets.length > 0).slice(0, 2)
    const wished = all.filter((choice) => choice.frames === frames)
    return [...new Set([...wished, ...even, ...forSets])].sort((a, b) => a.frames - b.frames)
  } catch (error) {
    if (error instanceof Refusal) return []
    throw error
  }
}

/** How even a turn's steps are: 'even steps of 5 mm', '5 or 6 mm, 20 jumps'. */
export function evenness(choice: FrameChoice): string {
  if (choice.longGaps === 0) return `even steps of ${formatLength(choice.shortestGapUm10)}`
  return `${formatDecimal(choice.shortestGapUm10, 4)} or ${formatLength(choice.longestGapUm10)}, ${choice.longGaps} longer`
}
