import type { TurnRow } from './rows.ts'

/** What can be given of the rows of a spin: overlap, frames a turn, or rows. */
export type RowLever = 'overlap' | 'frames' | 'rows'

/**
 * Rows of which something is given: at most so many frames of overlap or a turn, by one bound for all rows, which
 * those under it do not feel; or so many rows, of which the last ones go.
 */
export function givenRows(rows: readonly TurnRow[], lever: RowLever, to: number): readonly TurnRow[] {
  switch (lever) {
    case 'overlap':
      return rows.map((row) => ({ ...row, overlapFrames: Math.min(row.overlapFrames, to) }))
    case 'frames':
      return rows.map((row) => ({ ...row, framesPerTurn: Math.min(row.framesPerTurn, to) }))
    case 'rows':
      return rows.slice(0, to)
  }
}

/** What the rows have of it now: the most of any row, or how many rows there are. */
export function hadOf(rows: readonly TurnRow[], lever: RowLever): number {
  switch (lever) {
    case 'overlap':
      return Math.max(...rows.map(({ overlapFrames }) => overlapFrames))
    case 'frames':
      return Math.max(...rows.map(({ framesPerTurn }) => framesPerTurn))
    case 'rows':
      return rows.length
  }
}

/** Which rows a bound lowers, from 1; none for the number of rows. */
export function loweredRows(rows: readonly TurnRow[], lever: RowLever, to: number): readonly number[] {
  if (lever === 'rows') return []
  const key = lever === 'overlap' ? 'overlapFrames' : 'framesPerTurn'
  return rows.flatMap((row, index) => (row[key] > to ? [index + 1] : []))
}

/**
 * What each can be lowered to, the gentlest first.
 * @param setFrames  frames a turn become a whole number of these, or what another row has
 * @param fewest     frames below which no turn may go
 */
export function rowOptions(
  rows: readonly TurnRow[],
  { setFrames, fewest }: { readonly setFrames: number; readonly fewest: number },
): Readonly<Record<RowLever, readonly number[]>> {
  const below = (lever: RowLever, counts: readonly number[]) =>
    [...new Set(counts)].filter((count) => count < hadOf(rows, lever)).sort((a, b) => b - a)
  const sets = Array.from(
    { length: Math.ceil(hadOf(rows, 'frames') / setFrames) },
    (_, i) => (i + 1) * setFrames,
  )
  const others = rows.map(({ framesPerTurn }) => framesPerTurn)
  return {
    overlap: below('overlap', [3, 1, 0, ...rows.map(({ overlapFrames }) => overlapFrames)]),
    frames: below('frames', [...sets, ...others]).filter((count) => count >= fewest),
    rows: rows.slice(1).map((_, index) => rows.length - 1 - index),
  }
}
