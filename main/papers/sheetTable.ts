import { type Drawing, grey, hairline, ink } from './drawing.ts'
import type { Column, Table } from './sheet.ts'

const textSize = 9.5
const gap = 8
const rowPadding = 4

/** Draws a table from `drawing.y` down, turning the page between rows. */
export function drawTable(drawing: Drawing, table: Table): void {
  const widths = columnWidths(drawing, table)
  const firstRow = table.rows[0]
  const headed = headerHeight + (firstRow ? rowHeight(drawing, firstRow, widths) : 0)
  // A header alone at the foot of a page says nothing.
  if (drawing.y + headed > drawing.bottom) drawing.newPage()
  drawHeader(drawing, table.columns, widths)
  for (const row of table.rows) {
    const height = rowHeight(drawing, row, widths)
    if (drawing.y + height > drawing.bottom) {
      drawing.newPage()
      drawHeader(drawing, table.columns, widths)
    }
    drawRow(drawing, row, table.columns, widths, height)
  }
  drawing.y += 6
}

const headerHeight = 20

/** What columns of words keep at least, in points, however wide the figures beside them are. */
const leastWords = 90

/**
 * Each column's share of the page; the gaps lie between them. A figure is never broken over lines: its column takes
 * what it lacks from the columns of words.
 */
function columnWidths(drawing: Drawing, { columns, rows }: Table): readonly number[] {
  const parts = columns.reduce((sum, column) => sum + column.width, 0)
  const free = drawing.width - gap * (columns.length - 1)
  const shares = columns.map((column) => (free * column.width) / parts)
  const lacking = columns.map(({ align }, index) =>
    align === 'left' ? 0 : Math.max(0, widestOf(drawing, rows, index) - (shares[index] ?? 0)),
  )
  const spare = columns.map(({ align }, index) =>
    align === 'left' ? Math.max(0, (shares[index] ?? 0) - leastWords) : 0,
  )
  const [lacks, spares] = [sumOf(lacking), sumOf(spare)]
  if (lacks === 0 || spares === 0) return shares
  const moved = Math.min(lacks, spares)
  return shares.map(
    (share, index) =>
      share + (moved * (lacking[index] ?? 0)) / lacks - (moved * (spare[index] ?? 0)) / spares,
  )
}

/** The width of a column's widest text on one line, in points; the longest few stand for all. */
function widestOf({ pdf, letters }: Drawing, rows: readonly (readonly string[])[], index: number): number {
  const texts = rows.flatMap((row) => (row[index] ?? '').split('\n'))
  const longest = texts.reduce((most, { length }) => Math.max(most, length), 0)
  const candidates = new Set(texts.filter(({ length }) => length >= longest - 1).slice(0, 20))
  pdf.font('regular').fontSize(textSize)
  return Math.max(0, ...[...candidates].map((text) => Math.ceil(pdf.widthOfString(letters.fit(text)) + 0.5)))
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, each) => sum + each, 0)
}

function drawHeader(drawing: Drawing, columns: readonly Column[], widths: readonly number[]): void {
  const { pdf } = drawing
  pdf.font('regular').fontSize(8).fillColor(grey)
  cells(
    drawing,
    columns.map(({ label }) => label),
    columns,
    widths,
    drawing.y,
  )
  rule(drawing, drawing.y + headerHeight - 6)
  drawing.y += headerHeight
}

function drawRow(
  drawing: Drawing,
  row: readonly string[],
  columns: readonly Column[],
  widths: readonly number[],
  height: number,
): void {
  drawing.pdf.font('regular').fontSize(textSize).fillColor(ink)
  cells(drawing, row, columns, widths, drawing.y)
  drawing.y += height
  rule(drawing, drawing.y - rowPadding)
}

function cells(
  { pdf, letters, left }: Drawing,
  row: readonly string[],
  columns: readonly Column[],
  widths: readonly number[],
  y: number,
): void {
  let x = left
  columns.forEach(({ align }, index) => {
    const width = widths[index] ?? 0
    pdf.text(letters.fit(row[index] ?? ''), x, y, { width, align })
    x += width + gap
  })
}

function rowHeight({ pdf, letters }: Drawing, row: readonly string[], widths: readonly number[]): number {
  pdf.font('regular').fontSize(textSize)
  const heights = row.map((text, index) =>
    pdf.heightOfString(letters.fit(text), { width: widths[index] ?? 0 }),
  )
  return Math.max(...heights, textSize) + 2 * rowPadding
}

function rule({ pdf, left, width }: Drawing, y: number): void {
  pdf
    .moveTo(left, y)
    .lineTo(left + width, y)
    .lineWidth(0.5)
    .stroke(hairline)
}
