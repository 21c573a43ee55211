import { um10FromMm } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { checkRows, mostRows, type TurnRow, twinRows, twinSentence } from '../../main/trade/turn/rows.ts'
import { keyedRow, type TypedQuote } from './quoteValue.ts'

/** A turn that the address brings along, from the planner: what it sets, and what in it could not be read. */
export interface AddressTurn {
  readonly values: Partial<TypedQuote>
  readonly sentences: readonly string[]
}

const names = ['row', 'rim'] as const

/** Whether an address brings a turn. */
export function bringsTurn(params: URLSearchParams): boolean {
  return names.some((name) => params.has(name))
}

/** The address without the turn it brought. */
export function withoutTurn(params: URLSearchParams): URLSearchParams {
  const rest = new URLSearchParams(params)
  for (const name of names) rest.delete(name)
  return rest
}

/** A row as an address brings it: `30_122_41` for 122 frames and 41 past them, looking down by 30°. */
export function addressOfRow({ viewAngleMdeg, framesPerTurn, overlapFrames }: TurnRow): string {
  return [viewAngleMdeg / 1000, framesPerTurn, overlapFrames].join('_')
}

/**
 * Reads `?row=…&row=…&rim=` (a row as `addressOfRow` writes it, the rim in mm) into a quote's rows. Rows that cannot
 * be turned are all left out, since half of them would be another job, and it is said in a sentence; the rest is taken.
 */
export function turnFromAddress(params: URLSearchParams): AddressTurn {
  const rows = readRows(params.getAll('row'))
  const rim = readRim(params.get('rim'))
  return {
    values: {
      // Frames that came along stand for themselves; a step typed before would contradict them.
      ...(typeof rows === 'string' || rows.length === 0 ? {} : { rows: rows.map(keyedRow), stepUm10: null }),
      ...(typeof rim === 'number' ? { rimUm10: rim } : {}),
    },
    sentences: [rows, rim].filter((read) => typeof read === 'string'),
  }
}

/** The rows, or a sentence why they are none. */
function readRows(texts: readonly string[]): readonly TurnRow[] | string {
  if (texts.length > mostRows) {
    return `The address brings ${texts.length} rows, and a spin has from 1 to ${mostRows}. They were left out.`
  }
  const rows: TurnRow[] = []
  for (const text of texts) {
    const row = readRow(text)
    if (!row) {
      return `The address asks for a row of “${text}”, which is no angle from -90° to 90° with 2 to 1440 frames and an overlap of 0 to 1440. Its rows were left out.`
    }
    rows.push(row)
  }
  const twins = twinRows(rows)
  return twins ? `${twinSentence(twins)} The rows of the address were left out.` : rows
}

function readRow(text: string): TurnRow | undefined {
  const [, angle, frames, overlap] = /^(-?\d{1,2}(?:\.\d{1,3})?)_(\d{1,4})_(\d{1,4})$/u.exec(text) ?? []
  if (angle === undefined) return undefined
  const row = {
    viewAngleMdeg: Math.round(Number(angle) * 1000),
    framesPerTurn: Number(frames),
    overlapFrames: Number(overlap),
  }
  try {
    checkRows([row])
  } catch (error) {
    if (error instanceof Refusal) return undefined
    throw error
  }
  return Math.abs(row.viewAngleMdeg) <= 90_000 ? row : undefined
}

/** The rim in tenths of a micrometre, nothing where the address brings none, or a sentence why it is none. */
function readRim(text: string | null): number | string | undefined {
  if (text === null) return undefined
  const rimMm = /^\d{1,5}(\.\d{1,4})?$/u.test(text) ? Number(text) : Number.NaN
  if (rimMm >= 100 && rimMm <= 10_000) return um10FromMm(rimMm, 'The rim')
  return `The address asks for a rim of “${text}” mm, which is no rim from 100 to 10,000 mm. It was left out.`
}
