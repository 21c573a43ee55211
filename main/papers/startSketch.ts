import { type ProductSize, sweptWidthMm } from '../trade/product.ts'
import { grey, hairline, ink } from './drawing.ts'
import { pt, type TrueSizePaper } from './trueSize.ts'

export interface StartSketch {
  /** The product; null for a set of several, of which only the circle and the way of turning are drawn. */
  readonly size: ProductSize | null
  readonly direction: 'clockwise' | 'anticlockwise'
}

/**
 * The start of a turn from above: the product's outline true to its proportions in the circle that it sweeps, its
 * front towards the camera below, and the way the platter turns. Lengths in mm from the page's upper left corner.
 */
export function drawStartSketch(
  paper: TrueSizePaper,
  { size, direction }: StartSketch,
  at: { xMm: number; yMm: number; sideMm: number },
): void {
  const { pdf } = paper
  const cameraMm = 3.4
  const radius = ((at.sideMm - cameraMm) / 2 - 1.8) * pt
  const [x, y] = [(at.xMm + at.sideMm / 2) * pt, (at.yMm + (at.sideMm - cameraMm) / 2) * pt]
  pdf.lineWidth(0.4).circle(x, y, radius).dash(2, { space: 2 }).stroke(grey).undash()
  drawOutline(paper, size, { x, y, radius })
  pdf.lineWidth(0.4)
  pdf
    .moveTo(x - 3, y)
    .lineTo(x + 3, y)
    .moveTo(x, y - 3)
    .lineTo(x, y + 3)
  pdf.stroke(grey)
  drawWay(paper, direction, { x, y, radius: radius + 1.2 * pt })
  pdf.lineWidth(0.4)
  pdf
    .moveTo(x, y + radius + 0.6 * pt)
    .lineTo(x, y + radius + 2.2 * pt)
    .stroke(hairline)
  pdf.font('regular').fontSize(5.5).fillColor(grey)
  pdf.text('camera', at.xMm * pt, (at.yMm + at.sideMm - 2.2) * pt, {
    width: at.sideMm * pt,
    align: 'center',
    lineBreak: false,
  })
}

interface Circle {
  readonly x: number
  readonly y: number
  readonly radius: number
}

function drawOutline({ pdf }: TrueSizePaper, size: ProductSize | null, { x, y, radius }: Circle): void {
  const sweptMm = size && sweptWidthMm(size)
  if (!size || !sweptMm || size.widthMm === null || size.depthMm === null) return
  const scale = (2 * radius) / sweptMm
  const [width, depth] = [size.widthMm * scale, size.depthMm * scale]
  pdf.lineWidth(0.9)
  if (size.plan === 'round') pdf.ellipse(x, y, width / 2, depth / 2)
  else {
    const [left, right, back, front] = [x - width / 2, x + width / 2, y - depth / 2, y + depth / 2]
    pdf.polygon([left, back], [right, back], [right, front], [left, front])
  }
  pdf.stroke(ink)
  // The front, which a box of equal sides would not tell: a stronger edge towards the camera.
  if (size.plan !== 'round') {
    pdf
      .lineWidth(1.8)
      .moveTo(x - width / 2, y + depth / 2)
      .lineTo(x + width / 2, y + depth / 2)
    pdf.stroke(ink)
  }
}

/** An arc outside the circle with a head at the end it turns to. On paper y runs down, so clockwise is as seen. */
function drawWay(
  { pdf }: TrueSizePaper,
  direction: 'clockwise' | 'anticlockwise',
  { x, y, radius }: Circle,
): void {
  const sign = direction === 'clockwise' ? 1 : -1
  const place = (degrees: number, r = radius) => {
    const angle = ((degrees - 90) * Math.PI) / 180
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)] as const
  }
  const [from, to] = [-50 * sign, 50 * sign]
  pdf.lineWidth(0.9).moveTo(...place(from))
  for (let part = 1; part <= 20; part += 1) pdf.lineTo(...place(from + ((to - from) * part) / 20))
  pdf.stroke(ink)
  pdf
    .moveTo(...place(to + 9 * sign))
    .lineTo(...place(to - 2 * sign, radius + 0.9 * pt))
    .lineTo(...place(to - 2 * sign, radius - 0.9 * pt))
    .fill(ink)
}
