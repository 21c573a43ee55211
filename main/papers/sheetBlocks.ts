import { type Drawing, grey, hairline, ink } from './drawing.ts'
import type { Glance, Heading, Signature } from './sheet.ts'

const headingSize = 11.5

/** Draws the heading of a part with its rule; turns the page where the part's first lines would not stand under it. */
export function drawHeading(drawing: Drawing, heading: Heading): void {
  const { pdf, letters, left, width } = drawing
  if (drawing.y + 34 + heading.keepWith > drawing.bottom) drawing.newPage()
  drawing.y += 8
  pdf.font('semibold').fontSize(headingSize).fillColor(ink)
  const text = letters.fit(heading.text)
  pdf.text(text, left, drawing.y, { width, lineBreak: false })
  if (heading.aside !== undefined) {
    const from = pdf.widthOfString(text) + 12
    pdf.font('regular').fontSize(9.5).fillColor(grey)
    pdf.text(letters.fit(heading.aside), left + from, drawing.y + 1.8, {
      width: width - from,
      align: 'right',
      lineBreak: false,
    })
  }
  drawing.y += headingSize + 6
  rule(drawing, left, width, ink)
  drawing.y += 9
}

/** Draws the figures side by side between two rules, as wide as the page. */
export function drawGlance(drawing: Drawing, glance: Glance): void {
  const { pdf, letters, left, width } = drawing
  const column = width / glance.figures.length
  rule(drawing, left, width, hairline)
  const top = drawing.y + 9
  let end = top
  glance.figures.forEach(({ label, value }, index) => {
    const x = left + index * column
    pdf.font('regular').fontSize(8).fillColor(grey)
    pdf.text(letters.fit(label), x, top, { width: column - 10 })
    pdf.font('semibold').fontSize(13).fillColor(ink)
    pdf.text(letters.fit(value), x, top + 13, { width: column - 10 })
    end = Math.max(end, pdf.y)
  })
  drawing.y = end + 7
  rule(drawing, left, width, hairline)
  drawing.y += 14
}

const boxHeight = 17
const lineGap = 34

/** Draws what the client signs: what is accepted, boxes to tick, and lines to write on. */
export function drawSignature(drawing: Drawing, signature: Signature): void {
  const { pdf, letters, left, width } = drawing
  pdf.font('regular').fontSize(9.5)
  const textHeight = pdf.heightOfString(letters.fit(signature.text), { width, lineGap: 1.5 })
  const height = textHeight + signature.boxes.length * boxHeight + lineGap + 24
  drawHeading(drawing, { kind: 'heading', text: signature.heading, keepWith: height })
  pdf.font('regular').fontSize(9.5).fillColor(ink)
  pdf.text(letters.fit(signature.text), left, drawing.y, { width, lineGap: 1.5 })
  drawing.y += textHeight + 6
  for (const box of signature.boxes) {
    pdf
      .rect(left + 0.5, drawing.y + 1, 9, 9)
      .lineWidth(0.75)
      .stroke(ink)
    pdf.text(letters.fit(box), left + 18, drawing.y, { width: width - 18, lineBreak: false })
    drawing.y += boxHeight
  }
  drawing.y += lineGap
  const column = width / signature.lines.length
  signature.lines.forEach((label, index) => {
    rule(drawing, left + index * column, column - 14, ink)
    pdf.font('regular').fontSize(8).fillColor(grey)
    pdf.text(letters.fit(label), left + index * column, drawing.y + 4, { width: column - 14 })
  })
  drawing.y += 24
}

function rule({ pdf, y }: Drawing, from: number, length: number, colour: string): void {
  pdf
    .moveTo(from, y)
    .lineTo(from + length, y)
    .lineWidth(colour === ink ? 0.75 : 0.5)
    .stroke(colour)
}
