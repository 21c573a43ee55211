import type { TrueSizePaper } from './trueSize.ts'
import { pt } from './trueSize.ts'
import type { Weight } from './typeface.ts'

/** A stretch of text in its box. Lengths in mm from the page's upper left corner, sizes of letters in points. */
export interface FittedText {
  readonly text: string
  readonly xMm: number
  readonly yMm: number
  readonly widthMm: number
  readonly heightMm: number
  readonly weight: Weight
  readonly largestPt: number
  readonly smallestPt: number
  readonly colour: string
  readonly align?: 'left' | 'center'
}

/**
 * Draws a text as large as its box takes it; where even the smallest letters do not fit, it ends in an ellipsis.
 * @returns where the drawn text ends, in mm from the upper edge
 */
export function drawFitted({ pdf, letters }: TrueSizePaper, box: FittedText): number {
  const text = letters.fit(box.text)
  const options = { width: box.widthMm * pt, align: box.align ?? 'left' } as const
  const limit = box.heightMm * pt
  pdf.font(box.weight)
  let size = box.largestPt
  const widest = () => Math.max(...text.split(/\s+/u).map((each) => pdf.widthOfString(each)))
  while (size > box.smallestPt) {
    pdf.fontSize(size)
    if (pdf.heightOfString(text, options) <= limit && widest() <= options.width) break
    size -= 0.5
  }
  pdf.fontSize(Math.max(size, box.smallestPt)).fillColor(box.colour)
  pdf.text(text, box.xMm * pt, box.yMm * pt, { ...options, height: limit, ellipsis: true })
  return pdf.y / pt
}
