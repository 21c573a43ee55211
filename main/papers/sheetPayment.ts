import { type Drawing, grey, hairline, ink } from './drawing.ts'
import { drawQr, qrCode, quietModules } from './qr.ts'
import type { Payment } from './sheet.ts'
import { pt } from './trueSize.ts'

/** Every module is then over 0.4 mm wide up to version 13, which a telephone reads. */
const sideMm = 30

/** Draws how to pay: the code at the left where there is one, the same in words beside it; kept on one page. */
export function drawPayment(drawing: Drawing, payment: Payment): void {
  const { pdf, letters, left, width } = drawing
  const code = payment.code === null ? null : qrCode(payment.code)
  const quietPt = code === null ? 0 : (quietModules * sideMm * pt) / code.size
  const from = code === null ? left : left + sideMm * pt + 2 * quietPt + 6
  const labels = 92
  const valueWidth = left + width - from - labels
  pdf.font('medium').fontSize(9.5)
  const heights = payment.rows.map(
    ({ value }) => pdf.heightOfString(letters.fit(value), { width: valueWidth }) + 3,
  )
  const textHeight = 34 + heights.reduce((sum, each) => sum + each, 0)
  const height = Math.max(textHeight, code === null ? 0 : sideMm * pt + 2 * quietPt)
  if (drawing.y + height > drawing.bottom) drawing.newPage()
  const top = drawing.y
  if (code !== null) {
    drawQr(pdf, code, { xMm: (left + quietPt) / pt, yMm: (top + quietPt) / pt, sideMm })
  }
  let y = top + (code === null ? 0 : quietPt)
  pdf.font('regular').fontSize(9.5).fillColor(ink)
  pdf.text(letters.fit(payment.text), from, y, { width: left + width - from })
  y = pdf.y + 6
  payment.rows.forEach(({ label, value }, index) => {
    pdf.font('regular').fontSize(9.5).fillColor(grey)
    pdf.text(letters.fit(label), from, y, { width: labels - 6, lineBreak: false })
    pdf.font('medium').fillColor(ink)
    pdf.text(letters.fit(value), from + labels, y, { width: valueWidth })
    y += heights[index] ?? 0
  })
  if (payment.codeText !== null && code !== null) {
    pdf.font('regular').fontSize(8).fillColor(grey)
    pdf.text(letters.fit(payment.codeText), from, y + 4, { width: left + width - from })
    y = pdf.y
  }
  drawing.y = Math.max(y, top + height) + 6
  pdf
    .moveTo(left, drawing.y)
    .lineTo(left + width, drawing.y)
    .lineWidth(0.5)
    .stroke(hairline)
  drawing.y += 12
}
