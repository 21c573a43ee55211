import PDFDocument from 'pdfkit'
import { formatDecimal } from '../trade/decimal.ts'
import { formatLength, um10PerMm } from '../trade/length.ts'
import { turnMarks } from '../trade/turn/marks.ts'
import { grey, hairline, ink } from './drawing.ts'
import { typeface } from './typeface.ts'

type Pdf = InstanceType<typeof PDFDocument>

/** One turn at one viewing angle: its marks are printed as a block of their own. */
export interface MarkTableView {
  /** Null where it is not settled yet. */
  readonly viewAngleDeg: number | null
  readonly frames: number
  readonly overlap: number
}

export interface MarkTable {
  readonly rimUm10: number
  readonly divisionUm10: number
  readonly views: readonly MarkTableView[]
  readonly paper: 'A4' | 'Letter'
  /** The document's own instant: the same table and instant always give the same bytes. */
  readonly writtenAt: string
}

const mm = 72 / 25.4
const marginMm = 15
const columns = 6
const lineMm = 4.6
const betweenMm = 5

/**
 * The mark table as a PDF, to be hung at the bench: for every view the tape reading of each frame, rounded from
 * the start so that the turn closes (`turnMarks`, which refuses steps finer than the tape), read down the columns,
 * every tenth frame strong. Views of equal turns share one block.
 */
export function printMarkTable(table: MarkTable): Buffer {
  const blocks = blocksOf(table)
  const pdf = begin(table)
  const page = { top: marginMm * mm, bottom: pdf.page.height - (marginMm + 6) * mm }
  let y = drawHead(pdf, table)
  for (const block of blocks) {
    let from = 0
    while (from < block.marks.length) {
      const room = Math.floor((page.bottom - y - 8 * mm) / (lineMm * mm))
      // Whole tens down each column keep the strong lines level; fewer only where no ten fits.
      const lines = Math.min(tens(room), tens(Math.ceil((block.marks.length - from) / columns), 'up'))
      if (lines < 10) {
        pdf.addPage()
        y = page.top
        continue
      }
      y = drawBlock(pdf, block, table, { from, lines, y }) + betweenMm * mm
      from += lines * columns
    }
  }
  drawFeet(pdf, table)
  pdf.end()
  return pdf.read() as Buffer
}

interface Block {
  readonly heading: string
  /** Tape readings in tenths of a micrometre. */
  readonly marks: readonly number[]
}

function blocksOf({ rimUm10, divisionUm10, views }: MarkTable): Block[] {
  const groups = new Map<string, { view: MarkTableView; names: string[] }>()
  views.forEach((view, index) => {
    const key = `${view.frames} ${view.overlap}`
    const group = groups.get(key) ?? { view, names: [] }
    const { viewAngleDeg } = view
    group.names.push(`row ${index + 1}${viewAngleDeg === null ? '' : ` at ${degrees(viewAngleDeg)}`}`)
    groups.set(key, group)
  })
  return [...groups.values()].map(({ view: { frames, overlap }, names }) => {
    const past =
      overlap === 0
        ? ''
        : overlap === 1
          ? ', then mark 1 once more'
          : `, then the first ${overlap} marks once more`
    const heading = `${names.join(', ')}: ${frames} frames${past}`
    return {
      heading: `${heading.charAt(0).toUpperCase()}${heading.slice(1)}`,
      marks: turnMarks(rimUm10, frames, divisionUm10),
    }
  })
}

function degrees(value: number): string {
  return `${formatDecimal(Math.round(value * 1000), 3)}°`
}

function tens(lines: number, way: 'up' | 'down' = 'down'): number {
  return (way === 'up' ? Math.ceil(lines / 10) : Math.floor(lines / 10)) * 10
}

function begin(table: MarkTable): Pdf {
  const written = new Date(table.writtenAt)
  const pdf = new PDFDocument({
    size: table.paper === 'A4' ? 'A4' : 'LETTER',
    margin: 0,
    bufferPages: true,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    font: typeface('regular') as unknown as string,
    info: { Title: titleOf(table), Creator: 'Turnsheet', CreationDate: written, ModDate: written },
  })
  pdf.registerFont('regular', typeface('regular'))
  pdf.registerFont('semibold', typeface('semibold'))
  return pdf
}

function titleOf({ rimUm10, views }: MarkTable): string {
  const counts = [...new Set(views.map(({ frames }) => frames))]
  return `Marks: ${counts.join(' and ')} frames a turn on ${formatLength(rimUm10)}`
}

/** Title and how to read the table; gives where the first block begins. */
function drawHead(pdf: Pdf, table: MarkTable): number {
  const left = marginMm * mm
  pdf.font('semibold').fontSize(14).fillColor(ink)
  pdf.text(titleOf(table), left, marginMm * mm, { lineBreak: false })
  pdf.font('regular').fontSize(8.5).fillColor(grey)
  pdf.text(
    `Tape readings in mm at the pointer, rounded from the start to ${formatLength(table.divisionUm10)}, so the turn closes. Frame 1 stands at the start mark; all rows share it. Read down the columns.`,
    left,
    (marginMm + 7) * mm,
    { width: pdf.page.width - 2 * left },
  )
  return (marginMm + 18) * mm
}

function drawBlock(
  pdf: Pdf,
  block: Block,
  table: MarkTable,
  at: { readonly from: number; readonly lines: number; readonly y: number },
): number {
  const left = marginMm * mm
  const width = (pdf.page.width - 2 * left) / columns
  pdf.font('semibold').fontSize(9.5).fillColor(ink)
  pdf.text(at.from === 0 ? block.heading : `${block.heading}, continued`, left, at.y, { lineBreak: false })
  const top = at.y + 7 * mm
  const places = placesOf(table.divisionUm10)
  for (let index = at.from; index < Math.min(block.marks.length, at.from + at.lines * columns); index += 1) {
    const column = Math.floor((index - at.from) / at.lines)
    const x = left + column * width
    const y = top + ((index - at.from) % at.lines) * lineMm * mm
    drawMark(pdf, {
      frame: index + 1,
      reading: formatDecimal(block.marks[index] ?? 0, 4, places),
      x,
      y,
      width,
    })
  }
  return top + at.lines * lineMm * mm
}

interface DrawnMark {
  readonly frame: number
  readonly reading: string
  readonly x: number
  readonly y: number
  readonly width: number
}

function drawMark(pdf: Pdf, { frame, reading, x, y, width }: DrawnMark): void {
  const isTenth = frame % 10 === 0
  pdf.font(isTenth ? 'semibold' : 'regular').fontSize(7.5)
  pdf.fillColor(isTenth ? ink : grey)
  pdf.text(String(frame), x, y + 1.2, { width: width * 0.3, align: 'right', lineBreak: false })
  pdf.fontSize(9).fillColor(ink)
  pdf.text(reading, x + width * 0.34, y, { width: width * 0.5, align: 'right', lineBreak: false })
  if (isTenth) {
    pdf
      .moveTo(x + width * 0.06, y + 11)
      .lineTo(x + width * 0.86, y + 11)
      .lineWidth(0.5)
      .stroke(hairline)
  }
}

/** Places of a millimetre that the tape's division needs: none for 1 mm, one for half a millimetre. */
function placesOf(divisionUm10: number): number {
  return [0, 1, 2, 3].find((places) => divisionUm10 % (um10PerMm / 10 ** places) === 0) ?? 4
}

function drawFeet(pdf: Pdf, table: MarkTable): void {
  const { count } = pdf.bufferedPageRange()
  for (let index = 0; index < count; index += 1) {
    pdf.switchToPage(index)
    pdf.font('regular').fontSize(7.5).fillColor(grey)
    pdf.text(
      `${titleOf(table)} · page ${index + 1} of ${count}`,
      marginMm * mm,
      pdf.page.height - (marginMm - 2) * mm,
      { lineBreak: false },
    )
  }
}
