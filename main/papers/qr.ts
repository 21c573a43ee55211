import bwip from 'bwip-js/node'
import { ink } from './drawing.ts'
import { pt, type TruePdf } from './trueSize.ts'

/** White round a QR code that a reader may count on, in modules (ISO/IEC 18004, quiet zone; from memory). */
export const quietModules = 4

/** A QR code as its dark modules, line by line; the white round it is not in it. */
export interface QrCode {
  /** Modules along a side. */
  readonly size: number
  readonly isDark: (column: number, line: number) => boolean
}

/**
 * The smallest QR code (ISO/IEC 18004) that holds a text, whose modules are then the largest on paper; 15 % of it may
 * be dirty or covered (level M).
 */
export function qrCode(text: string): QrCode {
  const [symbol] = bwip.raw('qrcode', text, 'eclevel=M')
  if (!symbol || !('pixs' in symbol)) throw new Error('The encoder gave no modules.')
  const { pixs, pixx: size } = symbol
  return { size, isDark: (column, line) => pixs[line * size + column] === 1 }
}

/**
 * Draws a QR code as filled rectangles, one for each run of dark modules of a line, so that it is exact at any
 * size. The white round it must be kept free by the caller. Lengths in mm from the page's upper left corner.
 * @param sideMm  the side of the code itself, without the white round it
 */
export function drawQr(pdf: TruePdf, code: QrCode, at: { xMm: number; yMm: number; sideMm: number }): void {
  const module = at.sideMm / code.size
  for (const { column, line, length } of darkRuns(code)) {
    pdf.rect(
      (at.xMm + column * module) * pt,
      (at.yMm + line * module) * pt,
      length * module * pt,
      module * pt,
    )
  }
  // One path, filled once: rectangles filled one by one may leave hairs of white between them.
  pdf.fill(ink)
}

/** The dark modules as runs along their lines. */
export function darkRuns({ size, isDark }: QrCode): { column: number; line: number; length: number }[] {
  const runs: { column: number; line: number; length: number }[] = []
  for (let line = 0; line < size; line += 1) {
    for (let column = 0; column < size; column += 1) {
      if (!isDark(column, line)) continue
      const last = runs.at(-1)
      if (last && last.line === line && last.column + last.length === column) last.length += 1
      else runs.push({ column, line, length: 1 })
    }
  }
  return runs
}
