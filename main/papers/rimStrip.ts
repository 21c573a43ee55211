import { formatLength, um10PerMm } from '../trade/length.ts'
import {
  checkBarMm,
  markLengthMm,
  type RimStrip,
  type StripMark,
  type StripTile,
  stripHeightMm,
  stripPaperMm,
} from '../trade/turn/strip.ts'
import { grey, hairline, ink } from './drawing.ts'
import { addPageMm, beginTrueSize, endTrueSize, pt, type TruePdf } from './trueSize.ts'

const lapTint = '#efefec'

/** Where on the strip, from its upper edge, the shapes stand: a triangle for the set, a ring for the loop. */
const setShapeMm = 12
const loopShapeMm = 15.5

/**
 * The rim strip as a true-size PDF: the same strip and instant always give the same bytes. It asks the program
 * that prints it not to scale; the check bar shows whether it obeyed.
 * @param writtenAt  the document's own instant
 */
export function printRimStrip(strip: RimStrip, writtenAt: string): Buffer {
  const paper = beginTrueSize(titleOf(strip), writtenAt)
  const { pdf } = paper
  const { widthMm, heightMm } = stripPaperMm[strip.paper]
  for (let page = 0; page < strip.pages; page += 1) {
    addPageMm(paper, widthMm, heightMm)
    drawHead(pdf, strip, page)
    for (const tile of strip.tiles.filter((one) => one.page === page)) drawTile(pdf, strip, tile)
  }
  return endTrueSize(paper)
}

function titleOf({ frames, rimMm }: RimStrip): string {
  return `Rim strip: ${frames} marks on ${formatLength(Math.round(rimMm * um10PerMm))}`
}

/** What the shapes mean, of those that stand on the strip. */
function legend({ tiles }: RimStrip): string[] {
  const marks = tiles.flatMap((tile) => tile.marks)
  return [
    ...(marks.some(({ isSet }) => isSet) ? ['triangles: the set'] : []),
    ...(marks.some(({ isLoop }) => isLoop) ? ['rings: the loop'] : []),
  ]
}

/** What to do with the page, and the bar that is measured. */
function drawHead(pdf: TruePdf, strip: RimStrip, page: number): void {
  const { leftMm, barTopMm, correction, pages } = strip
  const left = leftMm * pt
  const width = (stripPaperMm[strip.paper].widthMm - 2 * leftMm) * pt
  const options = { width, lineBreak: false }
  pdf.fillColor(ink).fontSize(10)
  pdf.text(
    [titleOf(strip), ...legend(strip), `page ${page + 1} of ${pages}`].join(' · '),
    left,
    (barTopMm - 14) * pt,
    options,
  )
  pdf.fontSize(7.5)
  pdf.text(
    `Print at 100 %. Measure the bar: it must be ${checkBarMm} mm long from end to end. If it is not, type in what you measured and print again.`,
    left,
    (barTopMm - 9) * pt,
    options,
  )
  pdf.text(
    'Cut out the tiles and glue each over the grey lap of the one before, mark on mark; the first goes over the lap of the last.',
    left,
    (barTopMm - 5.5) * pt,
    options,
  )
  const right = (leftMm + checkBarMm * correction) * pt
  const y = barTopMm * pt
  pdf.lineWidth(0.5).strokeColor(ink)
  pdf.moveTo(left, y).lineTo(right, y)
  for (const end of [left, right]) pdf.moveTo(end, y - 1.5 * pt).lineTo(end, y + 1.5 * pt)
  pdf.stroke()
}

function drawTile(pdf: TruePdf, strip: RimStrip, tile: StripTile): void {
  const x = (positionMm: number) => (strip.leftMm + positionMm * strip.correction) * pt
  const top = tile.topMm * pt
  const height = stripHeightMm * pt
  const [start, end, lapEnd] = [x(0), x(tile.lengthMm), x(tile.lengthMm + tile.lapMm)]
  pdf.rect(end, top, lapEnd - end, height).fill(lapTint)
  pdf.lineWidth(0.25).strokeColor(hairline)
  pdf.rect(start, top, lapEnd - start, height).stroke()
  pdf
    .moveTo(end, top)
    .lineTo(end, top + height)
    .stroke()
  for (const mark of tile.marks) drawMark(pdf, strip, mark, x(mark.positionMm), top)
  pdf.fillColor(grey).fontSize(6)
  pdf.text(`Tile ${tile.number} of ${strip.tiles.length}`, start, top + height + 0.6 * pt, {
    lineBreak: false,
  })
}

function drawMark(pdf: TruePdf, strip: RimStrip, mark: StripMark, x: number, top: number): void {
  const colour = mark.isOnLap ? grey : ink
  pdf.lineWidth(mark.kind === 'plain' ? 0.35 : 0.5).strokeColor(colour)
  pdf
    .moveTo(x, top)
    .lineTo(x, top + markLengthMm[mark.kind] * pt)
    .stroke()
  // Shapes of neighbours must not touch, however fine the step.
  const half = Math.min(1, strip.stepMm * strip.correction * 0.4) * pt
  if (mark.isSet) {
    const tip = top + setShapeMm * pt
    pdf
      .moveTo(x, tip)
      .lineTo(x + half, tip + 2 * half)
      .lineTo(x - half, tip + 2 * half)
      .fill(colour)
  }
  if (mark.isLoop)
    pdf
      .lineWidth(0.35)
      .circle(x, top + loopShapeMm * pt, half)
      .stroke(colour)
  if (mark.kind !== 'plain' && !mark.isOnLap) {
    pdf.fillColor(ink).fontSize(6)
    pdf.text(String(mark.index), x + 0.6 * pt, top + (markLengthMm.plain + 0.4) * pt, { lineBreak: false })
  }
}
