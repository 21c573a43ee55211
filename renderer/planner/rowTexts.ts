import { areRowsAlike, type TurnRow } from '../../main/trade/turn/rows.ts'
import type { Key, Typed } from './typed.ts'

/** The rows after the first, which have fields of their own. */
export const furtherRows = [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20] as const

const fields = ['angle', 'frames', 'overlap'] as const
type RowField = (typeof fields)[number]
type RowKey = `${RowField}${(typeof furtherRows)[number]}`

/** Fields of further rows, empty: an angle a little higher than the row before, frames and overlap like the first. */
export const plainRowTexts = Object.fromEntries(
  furtherRows.flatMap((row) => fields.map((field) => [`${field}${row}`, ''])),
) as Readonly<Record<RowKey, string>>

/** The field of a further row, from 2. */
export function rowKey(field: RowField, row: number): Key {
  return `${field}${row}` as RowKey
}

/** Rows as a person would type them: one frame count for all where they are alike, each its own where not. */
export function typedOfRows(rows: readonly TurnRow[]): Partial<Typed> {
  const [first, ...further] = rows
  if (!first) return {}
  const areAlike = areRowsAlike(rows)
  const texts: Partial<Record<Key, string>> = {
    stepIn: 'frames',
    step: String(first.framesPerTurn),
    overlap: String(first.overlapFrames),
    rows: String(rows.length),
    angle: angleText(first),
    parted: areAlike ? '' : 'yes',
  }
  for (const [index, row] of further.entries()) {
    texts[rowKey('angle', index + 2)] = angleText(row)
    if (areAlike) continue
    texts[rowKey('frames', index + 2)] = String(row.framesPerTurn)
    texts[rowKey('overlap', index + 2)] = String(row.overlapFrames)
  }
  return texts
}

function angleText({ viewAngleMdeg }: TurnRow): string {
  return String(viewAngleMdeg / 1000)
}
