import { grey, hairline, ink } from './drawing.ts'
import { drawQr, qrCode, quietModules } from './qr.ts'
import { drawFitted } from './ticketText.ts'
import { addPageMm, beginTrueSize, endTrueSize, pt, type TrueSizePaper } from './trueSize.ts'

/** What stands on the label of a sample; all figures are text already. */
export interface PrintedLabel {
  /** What the square code says. */
  readonly scanText: string
  readonly code: string
  readonly name: string
  readonly clientName: string
  readonly jobNumber: string
  /** Where it lies; null where it has not come yet, and a line to write on stands there. */
  readonly place: string | null
}

/** Eight to a sheet, cut by halves: on A4 each is A7 (ISO 216, 74 × 105 mm laid down). */
const sheetMm = { A4: [210, 297], Letter: [215.9, 279.4] } as const
const across = 2
const down = 4

/**
 * Labels for samples as a true-size PDF, eight to a sheet with hairlines to cut along: the square code as high as
 * the label with the white round it, and what it stands for beside it.
 * @param writtenAt  the document's own instant
 */
export function printLabels(
  labels: readonly PrintedLabel[],
  paperSize: 'A4' | 'Letter',
  writtenAt: string,
): Buffer {
  const paper = beginTrueSize(
    labels.length === 1 ? `Label: ${labels[0]?.code}` : `Labels: ${labels.length} samples`,
    writtenAt,
  )
  const [widthMm, heightMm] = sheetMm[paperSize]
  labels.forEach((label, index) => {
    const at = index % (across * down)
    if (at === 0) {
      addPageMm(paper, widthMm, heightMm)
      drawCuts(paper, widthMm, heightMm)
    }
    drawLabel(paper, label, {
      xMm: (at % across) * (widthMm / across),
      yMm: Math.floor(at / across) * (heightMm / down),
      widthMm: widthMm / across,
      heightMm: heightMm / down,
    })
  })
  return endTrueSize(paper)
}

function drawCuts({ pdf }: TrueSizePaper, widthMm: number, heightMm: number): void {
  pdf.lineWidth(0.25)
  pdf.moveTo((widthMm / across) * pt, 0).lineTo((widthMm / across) * pt, heightMm * pt)
  for (let line = 1; line < down; line += 1) {
    pdf.moveTo(0, (line * heightMm * pt) / down).lineTo(widthMm * pt, (line * heightMm * pt) / down)
  }
  pdf.stroke(hairline)
}

interface Box {
  readonly xMm: number
  readonly yMm: number
  readonly widthMm: number
  readonly heightMm: number
}

function drawLabel(paper: TrueSizePaper, label: PrintedLabel, { xMm, yMm, widthMm, heightMm }: Box): void {
  const code = qrCode(label.scanText)
  const moduleMm = heightMm / (code.size + 2 * quietModules)
  const quietMm = quietModules * moduleMm
  drawQr(paper.pdf, code, { xMm: xMm + quietMm, yMm: yMm + quietMm, sideMm: code.size * moduleMm })
  const box = { xMm: xMm + heightMm, widthMm: widthMm - heightMm - 5, colour: ink }
  const codeEndMm = drawFitted(paper, {
    ...box,
    text: label.code,
    yMm: yMm + 8,
    heightMm: 14,
    weight: 'semibold',
    largestPt: 15,
    smallestPt: 6,
  })
  const nameEndMm = drawFitted(paper, {
    ...box,
    text: label.name,
    yMm: codeEndMm + 1,
    heightMm: 20,
    weight: 'medium',
    largestPt: 10,
    smallestPt: 6.5,
  })
  drawFitted(paper, {
    ...box,
    text: [label.clientName, label.jobNumber, label.scanText].join('\n'),
    yMm: nameEndMm + 1.5,
    heightMm: yMm + heightMm - nameEndMm - 22,
    weight: 'regular',
    largestPt: 8,
    smallestPt: 5.5,
    colour: grey,
  })
  drawPlace(paper, label.place, { ...box, yMm: yMm + heightMm - 17 })
}

function drawPlace(
  paper: TrueSizePaper,
  place: string | null,
  { xMm, yMm, widthMm }: { xMm: number; yMm: number; widthMm: number },
): void {
  const { pdf } = paper
  pdf.font('regular').fontSize(6).fillColor(grey)
  pdf.text('Place', xMm * pt, yMm * pt, { lineBreak: false })
  if (place === null) {
    pdf
      .lineWidth(0.5)
      .moveTo(xMm * pt, (yMm + 9) * pt)
      .lineTo((xMm + widthMm) * pt, (yMm + 9) * pt)
    pdf.stroke(hairline)
    return
  }
  drawFitted(paper, {
    text: place,
    xMm,
    yMm: yMm + 2.6,
    widthMm,
    heightMm: 8,
    weight: 'semibold',
    largestPt: 13,
    smallestPt: 6,
    colour: ink,
  })
}
