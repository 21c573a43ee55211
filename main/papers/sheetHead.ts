import { type Drawing, grey, ink } from './drawing.ts'
import type { Sender } from './sheet.ts'
import { pt } from './trueSize.ts'

/** The room for a logo, in points: 60 × 20 mm. */
const logoBox = { width: 60 * pt, height: 20 * pt }

/** The studio's name and address across the top of the first page, its logo at their right. */
export function drawHead(drawing: Drawing, sender: Sender, logo: Buffer | null): void {
  const { pdf, letters, left } = drawing
  const width = logo === null ? drawing.width : drawing.width - logoBox.width - 12
  if (logo !== null) {
    pdf.image(logo, left + drawing.width - logoBox.width, drawing.y - 14, {
      fit: [logoBox.width, logoBox.height],
      align: 'right',
      valign: 'center',
    })
  }
  pdf.font('semibold').fontSize(12).fillColor(ink)
  pdf.text(letters.fit(sender.name), left, drawing.y, { width })
  pdf.font('regular').fontSize(8.5).fillColor(grey)
  pdf.text(letters.fit(sender.address.join(' · ')), left, pdf.y + 1, { width })
  drawing.y = pdf.y + 30
}

/** The recipient about where a window envelope shows it; the sender's line above it, small. */
export function drawRecipient(drawing: Drawing, sender: Sender, recipient: readonly string[]): void {
  if (recipient.length === 0) return
  const { pdf, letters, left, width } = drawing
  const column = width * 0.52
  pdf.font('regular').fontSize(6.5).fillColor(grey)
  pdf.text(letters.fit([sender.name, ...sender.address].join(' · ')), left, drawing.y, { width: column })
  pdf.fontSize(10).fillColor(ink)
  pdf.text(letters.fit(recipient.join('\n')), left, pdf.y + 4, { width: column, lineGap: 1.5 })
  drawing.y = Math.max(pdf.y, drawing.y + 82)
}

/** Number, day and references, in two columns at the right of the address. */
export function drawFacts(drawing: Drawing, facts: readonly (readonly [string, string])[]): void {
  const { pdf, letters, left, width } = drawing
  const from = left + width * 0.58
  const labels = width * 0.17
  const values = width * 0.25
  let y = drawing.y - 82
  for (const [label, value] of facts) {
    pdf.fontSize(9)
    pdf
      .font('regular')
      .fillColor(grey)
      .text(letters.fit(label), from, y, { width: labels - 4 })
    const labelEnd = pdf.y
    pdf
      .font('medium')
      .fillColor(ink)
      .text(letters.fit(value), from + labels, y, { width: values, align: 'right' })
    y = Math.max(labelEnd, pdf.y) + 1.5
  }
  drawing.y = Math.max(drawing.y, y)
}

export function drawTitle(drawing: Drawing, title: string): void {
  const { pdf, letters, left, width } = drawing
  pdf.font('semibold').fontSize(17).fillColor(ink)
  pdf.text(letters.fit(title), left, drawing.y + 16, { width })
  drawing.y = pdf.y + 14
}
