import { formatDecimal } from '../../main/trade/decimal.ts'
import { formatLength } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { type FrameChoice, frameChoices } from '../../main/trade/turn/choices.ts'
import { everyNth, frameSet } from '../../main/trade/turn/frameSet.ts'
import { framesToShoot, thirdOfTurn } from '../../main/trade/turn/framesToShoot.ts'
import { markGaps, turnMarks } from '../../main/trade/turn/marks.ts'
import {
  type RimSource,
  rimUm10,
  type StepForms,
  type StepGiven,
  stepForms,
} from '../../main/trade/turn/rim.ts'
import type { Tape } from '../parts/ringGeometry.ts'
import { type Outcome, type Reader, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

/** The sizes of frame sets that shops ask for most (common practice, no published source). */
export const usualSets: readonly number[] = [8, 12, 16, 18, 24, 36, 48, 72]

/** A turn as planned, and everything that follows from rim and step alone. */
export interface TurnView {
  readonly rimUm10: number
  /** What was read on the tape, or what a tape of that thickness would read; the strip is cut from it. */
  readonly tapeUm10: number
  readonly divisionUm10: number
  readonly forms: StepForms
  /** Frames a turn of the plan: the step's own, or the nearest whole number. */
  readonly frames: number
  readonly overlap: number
  readonly rows: number
  /** Of one spin, overlap included. */
  readonly framesToShoot: number
  readonly thirdOfTurn: number
  readonly sentence: string
  readonly drawn: Tape
  readonly choices: readonly FrameChoice[]
}

/** What frame sets the turn gives. */
export interface SetsView {
  readonly even: readonly number[]
  readonly uneven: readonly number[]
  readonly size: number
  /** Shortest and longest way between neighbours of the set picked evenly, in frames. */
  readonly shortestGap: number
  readonly longestGap: number
  readonly nth: number
  readonly nthCount: number
  readonly nthGapDeg: number
  readonly seamDeg: number
  readonly isSeamEven: boolean
}

const mostFrames = 1440

/** The turn from what is typed: rim, step, overlap, rows, sets. */
export function turnView(typed: Typed): Outcome<TurnView> {
  return workedOut(
    typed,
    {
      step: 'step',
      frames: 'step',
      divisions: 'step',
      degrees: 'step',
      rim: 'rim',
      reading: 'rim',
      diameter: 'rim',
      tape: 'tape',
      division: 'division',
      overlap: 'overlap',
    },
    (reader) => ({
      source: rimSource(typed, reader),
      divisionUm10: reader.um10('division', 'The division'),
      given: stepGiven(typed, reader),
      overlap: reader.whole('overlap', 'The overlap', { least: 0, most: mostFrames, unit: 'frames' }),
      rows: reader.whole('rows', 'The number of rows', { least: 1, most: 20 }),
    }),
    (values) => {
      const rim = rimUm10(values.source)
      const { divisionUm10, overlap, rows } = values
      const forms = stepForms(rim, divisionUm10, values.given)
      const frames = forms.nearestFrames
      if (frames > mostFrames) {
        throw new Refusal(
          'too-many-frames',
          `This step makes ${frames} frames a turn. A turn has at most ${mostFrames}; enter a longer step.`,
          { field: 'step' },
        )
      }
      const isByFrames = values.given.in === 'frames'
      return {
        rimUm10: rim,
        tapeUm10: values.source.by === 'diameter and tape' ? values.source.tapeUm10 : 0,
        divisionUm10,
        forms,
        frames,
        overlap,
        rows,
        framesToShoot: framesToShoot(Array.from({ length: rows }, () => ({ frames, overlap }))),
        thirdOfTurn: thirdOfTurn(frames),
        sentence: isByFrames ? framesSentence(rim, frames, divisionUm10) : closingSentence(rim, forms),
        drawn: isByFrames
          ? { readings: turnMarks(rim, frames, divisionUm10), rim }
          : { readings: Array.from({ length: frames }, (_, k) => k * forms.stepUm10), rim },
        choices: nearChoices(rim, divisionUm10, frames, Number(typed.set)),
      }
    },
  )
}

function rimSource(typed: Typed, reader: Reader): RimSource {
  if (typed.rimBy === 'diameter') {
    return { by: 'diameter', diameterUm10: reader.um10('rim', 'The diameter') }
  }
  if (typed.rimBy === 'diameter and tape') {
    return {
      by: 'diameter and tape',
      diameterUm10: reader.um10('rim', 'The diameter'),
      tapeUm10: reader.um10('tape', 'The tape’s thickness'),
    }
  }
  return { by: 'reading', readingUm10: reader.um10('rim', 'The rim') }
}

function stepGiven(typed: Typed, reader: Reader): StepGiven {
  switch (typed.stepIn) {
    case 'divisions':
      return { in: 'divisions', divisions: reader.number('step', 'The step', 3, { unit: 'divisions' }) }
    case 'degrees':
      return {
        in: 'degrees',
        stepMdeg: Math.round(reader.number('step', 'The step', 3, { unit: 'degrees' }) * 1000),
      }
    case 'frames':
      return { in: 'frames', frames: reader.whole('step', 'The number of frames') }
    default:
      return { in: 'mm', stepUm10: reader.um10('step', 'The step') }
  }
}

/** A step that was asked for, repeated as it is: whether it meets its start, and by how much not. */
function closingSentence(rim: number, forms: StepForms): string {
  const step = `${tenthUm(forms.stepUm10)} mm`
  const product = `${formatLength(rim)} ÷ ${step}`
  if (forms.closes) return `${product} = ${forms.nearestFrames}: the turn closes.`
  const seamUm10 = rim - forms.nearestFrames * forms.stepUm10
  const off = Math.abs(seamUm10)
  const degrees = formatDecimal(Math.round((off * 36_000) / rim), 2)
  const part = formatDecimal(Math.round((off * 100) / forms.stepUm10), 2)
  return `${product} is ${formatDecimal(Math.round(forms.framesPerTurn * 100), 2)}: ${forms.nearestFrames} steps leave the seam ${seamUm10 > 0 ? 'long' : 'short'} by ${tenthUm(off)} mm, ${degrees}° or ${part} of a step. Take a number of frames below and it closes.`
}

/** Marks rounded from the start always close; what is left is how even their steps are. */
function framesSentence(rim: number, frames: number, divisionUm10: number): string {
  const gaps = markGaps(rim, turnMarks(rim, frames, divisionUm10))
  const isEven = Math.min(...gaps) === Math.max(...gaps)
  const step = `${frames} frames are a step of ${tenthUm(rim / frames)} mm`
  return isEven
    ? `${step}: the turn closes, every step alike.`
    : `${step}. The marks are rounded from the start to ${formatLength(divisionUm10)}, so the turn closes.`
}

/** How even a choice's steps come out on the tape. */
export function evennessText(choice: FrameChoice): string {
  if (choice.longGaps === 0) return `all ${formatLength(choice.shortestGapUm10)}`
  return `${formatDecimal(choice.shortestGapUm10, 4)} or ${formatLength(choice.longestGapUm10)}, ${choice.longGaps} of them longer`
}

/** A length in mm to a hundredth, for steps that are not whole. */
export function tenthUm(um10: number): string {
  return formatDecimal(Math.round(um10 / 100), 2)
}

/**
 * Numbers of frames near the wished one, best first: the most even ones within an eighth of the turn, the two
 * nearest that the wanted set divides evenly, and the wish. None where the tape cannot be read so finely.
 */
function nearChoices(
  rim: number,
  divisionUm10: number,
  frames: number,
  setSize: number,
): readonly FrameChoice[] {
  const within = Math.min(60, Math.max(4, Math.round(frames / 8)))
  const setSizes = [...new Set([...usualSets, setSize])].sort((a, b) => a - b)
  try {
    const all = frameChoices({ rimUm10: rim, divisionUm10, frames, within, setSizes })
    const away = (choice: FrameChoice) => Math.abs(choice.frames - frames)
    const forSet = all
      .filter(({ evenSets }) => evenSets.includes(setSize))
      .toSorted((a, b) => away(a) - away(b))
      .slice(0, 2)
    const wished = all.filter((choice) => choice.frames === frames)
    return [...new Set([...all.slice(0, 5), ...forSet, ...wished])].sort(
      (a, b) => all.indexOf(a) - all.indexOf(b),
    )
  } catch (error) {
    if (error instanceof Refusal && error.code === 'step-under-division') return []
    throw error
  }
}

/** Frame sets out of a turn: which come out even, and what the seam is like where they do not. */
export function setsView(typed: Typed, frames: number): Outcome<SetsView> {
  const bounds = { least: 1, most: frames, unit: 'frames' }
  return workedOut(
    typed,
    { size: 'set', nth: 'nth' },
    (reader) => ({
      size: reader.whole('set', 'The size of the set', bounds),
      nth: reader.whole('nth', 'The distance of frames', bounds),
    }),
    ({ size, nth }) => {
      const picked = frameSet(frames, size)
      const gaps = picked.map((frame, index) => (picked[index + 1] ?? frames + (picked[0] ?? 0)) - frame)
      const every = everyNth(frames, nth)
      return {
        even: usualSets.filter((each) => frames % each === 0),
        uneven: usualSets.filter((each) => frames % each !== 0 && each <= frames),
        size,
        shortestGap: Math.min(...gaps),
        longestGap: Math.max(...gaps),
        nth,
        nthCount: every.indices.length,
        nthGapDeg: every.gapDeg,
        seamDeg: every.seamDeg,
        isSeamEven: every.even,
      }
    },
  )
}
