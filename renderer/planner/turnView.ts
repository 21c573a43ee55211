import { formatDecimal } from '../../main/trade/decimal.ts'
import { formatLength } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { type FrameChoice, frameChoices } from '../../main/trade/turn/choices.ts'
import { framesToShoot, type RowFrames, thirdOfTurn } from '../../main/trade/turn/framesToShoot.ts'
import { markGaps, turnMarks } from '../../main/trade/turn/marks.ts'
import {
  type RimSource,
  rimUm10,
  type StepForms,
  type StepGiven,
  stepForms,
} from '../../main/trade/turn/rim.ts'
import { mostFramesPerTurn, mostRows } from '../../main/trade/turn/rows.ts'
import type { Tape } from '../parts/ringGeometry.ts'
import { type Outcome, type Reader, workedOut } from './reading.ts'
import { furtherRows, rowKey } from './rowTexts.ts'
import { usualSets } from './setsView.ts'
import type { Key, Typed } from './typed.ts'

/** A turn as planned, and everything that follows from rim and step alone. */
export interface TurnView {
  readonly rimUm10: number
  /** What was read on the tape, or what a tape of that thickness would read; the strip is cut from it. */
  readonly tapeUm10: number
  readonly divisionUm10: number
  /** All rows, each with its frames a turn (the step's own, or the nearest whole number) and overlap. */
  readonly rows: readonly RowFrames[]
  /** Of one spin: all rows, overlap included. */
  readonly framesToShoot: number
  /** The row that is shown, from 1; what follows is of it. */
  readonly row: number
  readonly frames: number
  readonly overlap: number
  /** The fields that its frames and its overlap are typed in; those of the first row stand for rows without their own. */
  readonly framesKey: Key
  readonly overlapKey: Key
  /** How many rows take theirs from these fields. */
  readonly rowsOfFrames: number
  readonly rowsOfOverlap: number
  readonly thirdOfTurn: number
  readonly forms: StepForms
  readonly sentence: string
  readonly drawn: Tape
  readonly choices: readonly FrameChoice[]
}

/** A refusal of a row's own frames is said at them. */
const ownFrames = Object.fromEntries(furtherRows.map((row) => [rowKey('frames', row), rowKey('frames', row)]))

/** The turn from what is typed: rim, step, and the rows with their overlap. */
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
      ...ownFrames,
    },
    (reader) => ({
      source: rimSource(typed, reader),
      divisionUm10: reader.um10('division', 'The division'),
      given: stepGiven(typed, reader),
      rows: rowsTyped(typed, reader),
      row: reader.whole('row', 'The row shown', { least: 1, most: mostRows }),
    }),
    (values) => {
      const rim = rimUm10(values.source)
      const { divisionUm10 } = values
      const first = stepForms(rim, divisionUm10, values.given)
      refuseTooMany(first.nearestFrames)
      const rows = values.rows.map(({ frames, overlap }) => ({
        frames: frames ?? first.nearestFrames,
        overlap,
      }))
      const row = Math.min(values.row, rows.length)
      // Every row is turned on this tape, also those that are not shown.
      for (const [index, own] of values.rows.entries()) {
        if (own.frames !== null) ownMarks(rim, divisionUm10, index + 1, own.frames)
      }
      const own = values.rows[row - 1]?.frames ?? null
      const given: StepGiven = own === null ? values.given : { in: 'frames', frames: own }
      const { frames, overlap } = rows[row - 1] ?? { frames: first.nearestFrames, overlap: 0 }
      const forms = own === null ? first : stepForms(rim, divisionUm10, given)
      const isByFrames = given.in === 'frames'
      return {
        rimUm10: rim,
        tapeUm10: values.source.by === 'diameter and tape' ? values.source.tapeUm10 : 0,
        divisionUm10,
        rows,
        framesToShoot: framesToShoot(rows),
        row,
        frames,
        overlap,
        ...keysOfRow(typed, row, rows.length),
        forms,
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

/** The rows as they are typed: frames are null where they are the step's, as in all rows that have none of their own. */
function rowsTyped(typed: Typed, reader: Reader) {
  const count = reader.whole('rows', 'The number of rows', { least: 1, most: mostRows })
  const overlapIn = (key: Key) =>
    reader.whole(key, 'The overlap', { least: 0, most: mostFramesPerTurn, unit: 'frames' })
  const overlap = overlapIn('overlap')
  return Array.from({ length: count }, (_, index) => {
    const row = index + 1
    return {
      frames: hasOwn(typed, 'frames', row)
        ? reader.whole(rowKey('frames', row), 'The number of frames', {
            least: 2,
            most: mostFramesPerTurn,
            unit: 'frames',
          })
        : null,
      overlap: hasOwn(typed, 'overlap', row) ? overlapIn(rowKey('overlap', row)) : overlap,
    }
  })
}

function hasOwn(typed: Typed, field: 'frames' | 'overlap', row: number): boolean {
  return isParted(typed) && row > 1 && typed[rowKey(field, row)].trim() !== ''
}

function isParted(typed: Typed): boolean {
  return typed.parted === 'yes'
}

/** Where frames and overlap of a row are typed. */
function keysOfRow(typed: Typed, row: number, count: number) {
  if (isParted(typed) && row > 1) {
    return {
      framesKey: rowKey('frames', row),
      overlapKey: rowKey('overlap', row),
      rowsOfFrames: 1,
      rowsOfOverlap: 1,
    }
  }
  const sharing = (field: 'frames' | 'overlap') =>
    Array.from({ length: count }, (_, index) => index + 1).filter((each) => !hasOwn(typed, field, each))
  return {
    framesKey: 'step' as Key,
    overlapKey: 'overlap' as Key,
    rowsOfFrames: sharing('frames').length,
    rowsOfOverlap: sharing('overlap').length,
  }
}

/** The marks of a row's own frames; a refusal is blamed on the field of that row. */
function ownMarks(rim: number, divisionUm10: number, row: number, frames: number): readonly number[] {
  try {
    return turnMarks(rim, frames, divisionUm10)
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    throw new Refusal(error.code, error.message, { field: rowKey('frames', row) })
  }
}

function refuseTooMany(frames: number): void {
  if (frames <= mostFramesPerTurn) return
  throw new Refusal(
    'too-many-frames',
    `This step makes ${frames} frames a turn. A turn has at most ${mostFramesPerTurn}; enter a longer step.`,
    { field: 'step' },
  )
}

/** Whether the rows are all turned with the same frames, so that what is shown of one stands for all. */
export function areRowsAlike({ rows }: Pick<TurnView, 'rows'>): boolean {
  return rows.every(({ frames, overlap }) => frames === rows[0]?.frames && overlap === rows[0].overlap)
}

/** Which row a figure is of, where rows differ: ' of row 2', else nothing. */
export function ofRow(turn: Pick<TurnView, 'rows' | 'row'>): string {
  return areRowsAlike(turn) ? '' : ` of row ${turn.row}`
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
