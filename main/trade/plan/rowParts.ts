/** What the parts of a spin that may break between its rows are cut by. */
export interface RowPace {
  readonly stepMs: number
  readonly rowChangeMs: number
}

/**
 * A spin's bench time by row, in whole minutes: each further row takes its row change and its frames times the step,
 * the first all the rest, since the product is put up and cleaned before it and stays on the platter between them.
 * Where the estimate is too short for that it is shared by the rows' own times. Started minutes count whole.
 * @param wholeMs  the spin's estimate, in ms, more than 0
 * @param frames   frames to shoot by row, in the order of the rows
 */
export function rowPartsMin(
  wholeMs: number,
  frames: readonly number[],
  { stepMs, rowChangeMs }: RowPace,
): readonly number[] {
  const rows = frames.map((count, row) => count * stepMs + (row === 0 ? 0 : rowChangeMs))
  const turnedMs = rows.reduce((sum, ms) => sum + ms, 0)
  const scale = turnedMs > wholeMs ? wholeMs / turnedMs : 1
  const restMs = wholeMs - turnedMs * scale
  return rows.map((ms, row) => Math.max(1, Math.ceil((ms * scale + (row === 0 ? restMs : 0)) / 60_000)))
}
