import zlib from 'node:zlib'
import jsQR from 'jsqr'

/** A filled rectangle of a page, in mm from its upper left corner. */
export interface DrawnRect {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export interface DrawnSheet {
  readonly widthMm: number
  readonly heightMm: number
  readonly rects: readonly DrawnRect[]
}

const inMm = (points: string | undefined) => (Number(points) * 25.4) / 72

/** The pages of a PDF by their own operators (PDF 32000-1, 8.5.2.1: `x y w h re` is a rectangle). */
export function drawnSheets(pdf: Buffer): readonly DrawnSheet[] {
  const text = pdf.toString('latin1')
  const boxes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)]
  const contents = [...text.matchAll(/\/Contents (\d+) 0 R/g)]
  return contents.map(([, id], page) => {
    const object = text.indexOf(`\n${id} 0 obj`)
    const from = text.indexOf('stream\n', object) + 'stream\n'.length
    const content = zlib.inflateSync(pdf.subarray(from, text.indexOf('\nendstream', from))).toString('latin1')
    const n = '(-?[\\d.]+)'
    const rects = [...content.matchAll(new RegExp(`^${n} ${n} ${n} ${n} re$`, 'gm'))]
    return {
      widthMm: inMm(boxes[page]?.[1]),
      heightMm: inMm(boxes[page]?.[2]),
      rects: rects.map(([, x, y, width, height]) => ({
        x: inMm(x),
        y: inMm(y),
        width: inMm(width),
        height: inMm(height),
      })),
    }
  })
}

/** The smallest box round rectangles. */
export function boundsOf(rects: readonly DrawnRect[]): DrawnRect {
  const x = Math.min(...rects.map((rect) => rect.x))
  const y = Math.min(...rects.map((rect) => rect.y))
  return {
    x,
    y,
    width: Math.max(...rects.map((rect) => rect.x + rect.width)) - x,
    height: Math.max(...rects.map((rect) => rect.y + rect.height)) - y,
  }
}

/** Reads the square code that rectangles draw, as a camera would see them: the sheet laid out in pixels. */
export function readDrawn(rects: readonly DrawnRect[], pixelsPerMm = 6): string | undefined {
  const { x: left, y: top, width, height } = boundsOf(rects)
  const quiet = 20 * 4
  const [w, h] = [Math.ceil(width * pixelsPerMm) + 2 * quiet, Math.ceil(height * pixelsPerMm) + 2 * quiet]
  const pixels = new Uint8ClampedArray(w * h * 4).fill(255)
  for (const rect of rects) {
    const [x0, y0] = [Math.round((rect.x - left) * pixelsPerMm), Math.round((rect.y - top) * pixelsPerMm)]
    const [x1, y1] = [
      Math.round((rect.x - left + rect.width) * pixelsPerMm),
      Math.round((rect.y - top + rect.height) * pixelsPerMm),
    ]
    for (let y = y0; y < y1; y += 1) {
      for (let x = x0; x < x1; x += 1)
        pixels.fill(0, ((y + quiet) * w + x + quiet) * 4, ((y + quiet) * w + x + quiet) * 4 + 3)
    }
  }
  return jsQR(pixels, w, h)?.data
}
