import { type Drawing, grey, hairline, ink } from './drawing.ts'
import type { Column, Table } from './sheet.ts'

const textSize = 9.5
const gap = 8
const rowPadding = 4

/** Draws a table from `drawing.y` down, turning the page between rows. */
export function drawTable(drawing: Drawing, table: Table): void {
  const widths = columnWidths(table.columns, drawing.width)
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

/** Each column's share of the page; the gaps lie between them. */
function columnWidths(columns: readonly Column[], width: number): readonly number[] {
  const parts = columns.reduce((sum, column) => sum + column.width, 0)
  const free = width - gap * (columns.length - 1)
  return columns.map((column) => (free * column.width) / parts)
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
