import { type Drawing, grey, hairline, ink } from './drawing.ts'
import type { Paragraph, Totals } from './sheet.ts'

const lineHeight = 16
const labelShare = 0.68

/** Sums at the right, all on one page; a rule above each one that counts. */
export function drawTotals(drawing: Drawing, totals: Totals): void {
  const { pdf, letters, left, width } = drawing
  const from = left + width * 0.34
  const column = width * 0.66
  if (drawing.y + totalsHeight(drawing, totals, column * labelShare) > drawing.bottom) drawing.newPage()
  for (const { label, value, strong } of totals.rows) {
    if (strong) {
      pdf
        .moveTo(from, drawing.y)
        .lineTo(left + width, drawing.y)
        .lineWidth(0.75)
        .stroke(hairline)
      drawing.y += 4
    }
    pdf.fontSize(strong ? 11 : 9.5)
    pdf
      .font(strong ? 'semibold' : 'regular')
      .fillColor(strong ? ink : grey)
      .text(letters.fit(label), from, drawing.y, { width: column * labelShare })
    const end = pdf.y
    pdf.fillColor(ink).text(letters.fit(value), from + column * labelShare, drawing.y, {
      width: column * (1 - labelShare),
      align: 'right',
    })
    drawing.y = Math.max(end, pdf.y, drawing.y + lineHeight - 2) + (strong ? 5 : 0)
  }
  drawing.y += 12
}

/** How tall the sums are with every label that is broken over lines, in points. */
function totalsHeight({ pdf, letters }: Drawing, totals: Totals, labelWidth: number): number {
  const heights = totals.rows.map(({ label, strong }) => {
    pdf.font(strong ? 'semibold' : 'regular').fontSize(strong ? 11 : 9.5)
    return (
      Math.max(pdf.heightOfString(letters.fit(label), { width: labelWidth }), lineHeight) + (strong ? 9 : 0)
    )
  })
  return heights.reduce((sum, height) => sum + height, 0)
}

/** A paragraph that flows over pages; its heading stays with its first lines. */
export function drawParagraph(drawing: Drawing, paragraph: Paragraph): void {
  const { pdf, letters, left, width } = drawing
  if (drawing.y + 40 > drawing.bottom) drawing.newPage()
  if (paragraph.heading !== undefined) {
    pdf.font('medium').fontSize(9.5).fillColor(ink)
    pdf.text(letters.fit(paragraph.heading), left, drawing.y, { width })
    drawing.y = pdf.y + 2
  }
  for (const line of letters.fit(paragraph.text).split('\n')) {
    pdf.font('regular').fontSize(9.5).fillColor(ink)
    const height = pdf.heightOfString(line || ' ', { width, lineGap: 1.5 })
    if (drawing.y + height > drawing.bottom) drawing.newPage()
    pdf.text(line, left, drawing.y, { width, lineGap: 1.5 })
    drawing.y += height
  }
  drawing.y += 10
}
