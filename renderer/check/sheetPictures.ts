import type { FramePictures } from './framePictures.ts'

/** Small frames on one sheet, row by row. */
export interface Sheet {
  readonly address: string
  readonly count: number
  readonly columns: number
  readonly cellWidthPx: number
  readonly cellHeightPx: number
}

/** The pictures of a sheet, cut apart once it has come; they are counted from 1. */
export function sheetPictures(sheet: Sheet, onChange: () => void): FramePictures {
  const closing = new AbortController()
  const pictures: ImageBitmap[] = []
  const cut = async () => {
    const answer = await fetch(sheet.address, { signal: closing.signal })
    if (!answer.ok) return
    const whole = await answer.blob()
    const cells = await Promise.all(
      Array.from({ length: sheet.count }, (_, index) => createImageBitmap(whole, ...cellOf(sheet, index))),
    )
    if (closing.signal.aborted) for (const cell of cells) cell.close()
    else {
      pictures.push(...cells)
      onChange()
    }
  }
  // Without it there is the sheet itself, or the words that stand in for it.
  cut().catch(() => undefined)
  return {
    at: (frame) => pictures[frame - 1],
    isFetched: () => pictures.length > 0,
    fetched: () => pictures.length,
    follow: () => {},
    want: () => {},
    enlarge: () => {},
    close() {
      closing.abort()
      for (const picture of pictures) picture.close()
      pictures.length = 0
    },
  }
}

function cellOf(
  { columns, cellWidthPx, cellHeightPx }: Sheet,
  index: number,
): [x: number, y: number, width: number, height: number] {
  return [
    (index % columns) * cellWidthPx,
    Math.floor(index / columns) * cellHeightPx,
    cellWidthPx,
    cellHeightPx,
  ]
}
