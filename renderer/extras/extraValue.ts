import type { Answers, Asks } from '../../main/api/types.ts'
import { freshKey } from '../invoices/draftValue.ts'
import type { TypedFigures } from '../invoices/lineRow.tsx'

export type JobExtras = Answers['extras']['ofJob']
export type Extra = JobExtras['extras'][number]
export type Reshoot = JobExtras['reshoots'][number]
export type Charge = JobExtras['charges'][number]

/** A line as typed. */
export interface TypedExtraLine extends TypedFigures {
  /** Holds the line's place while others are taken away. */
  readonly key: number
  readonly taxRateId: number
}

/** An extra while it is being written. */
export interface TypedExtra {
  readonly title: string
  readonly why: string
  readonly newDueDay: string
  readonly lines: readonly TypedExtraLine[]
}

/** A line written by hand: one piece, taxed as the line before it, or as the order is. */
export function newLine(lines: readonly TypedExtraLine[], taxRateId: number): TypedExtraLine {
  return {
    key: freshKey(),
    text: '',
    quantityMilli: 1000,
    unit: 'C62',
    priceMinor: null,
    baseMilli: 1000,
    taxRateId: lines.at(-1)?.taxRateId ?? taxRateId,
  }
}

/** A kept extra as a form writes on it, or a new one with one empty line. */
export function typedExtra(extra: Extra | undefined, taxRateId: number): TypedExtra {
  if (!extra) return { title: '', why: '', newDueDay: '', lines: [newLine([], taxRateId)] }
  return {
    title: extra.title,
    why: extra.why ?? '',
    newDueDay: extra.newDueDay ?? '',
    lines: extra.lines.map(({ id: _, netMinor: __, ...line }) => ({ ...line, key: freshKey() })),
  }
}

/** A line that was not begun is left out; a figure left empty goes as null, and the studio names its field. */
export function sentExtra(typed: TypedExtra): Asks['extras']['propose']['extra'] {
  return {
    title: typed.title,
    why: typed.why || null,
    newDueDay: typed.newDueDay || null,
    lines: typed.lines
      .filter(({ text, priceMinor }) => text.trim() !== '' || priceMinor !== null)
      .map(({ key: _, ...line }) => line),
  } as Asks['extras']['propose']['extra']
}
