import zlib from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { printRimStrip } from '../../main/papers/rimStrip.ts'
import { um10FromMm } from '../../main/trade/length.ts'
import {
  markLengthMm,
  type RimStrip,
  rimStrip,
  type StripPaper,
  stripCorrection,
  stripPaperMm,
} from '../../main/trade/turn/strip.ts'
import { readPdf } from './readPdf.ts'

const writtenAt = '2026-03-02T08:00:00.000Z'

function aStrip(differs: Partial<Parameters<typeof rimStrip>[0]> = {}): RimStrip {
  return rimStrip({
    rimUm10: um10FromMm(1220, 'The rim'),
    frames: 240,
    setFrames: 24,
    loopFrames: 120,
    paper: 'A4',
    marginMm: 10,
    lapMm: 12,
    correction: 1,
    ...differs,
  })
}

interface Line {
  readonly x: number
  readonly y: number
  readonly toX: number
  readonly toY: number
}

/** What a page draws, in mm from its upper left corner: lines, and the tips of filled triangles. */
interface DrawnPage {
  readonly lines: readonly Line[]
  readonly tips: readonly { readonly x: number; readonly y: number }[]
  readonly rings: number
}

/** The pages' own drawing operators, inflated (PDF 32000-1, 8.5.2: m moves, l draws a line, c a curve). */
function drawnPages(pdf: Buffer): DrawnPage[] {
  const text = pdf.toString('latin1')
  const contents = [...text.matchAll(/\/Contents (\d+) 0 R/g)].map(([, id]) => {
    const object = text.indexOf(`\n${id} 0 obj`)
    const from = text.indexOf('stream\n', object) + 'stream\n'.length
    return zlib.inflateSync(pdf.subarray(from, text.indexOf('\nendstream', from))).toString('latin1')
  })
  return contents.map((content) => {
    // pdfkit turns the page upside down first, so that y runs down from the upper edge.
    expect(content).toMatch(/^1 0 0 -1 0 [\d.]+ cm/)
    const n = '(-?[\\d.]+)'
    const inMm = (value: string | undefined) => (Number(value) * 25.4) / 72
    const lines = [
      ...content.matchAll(new RegExp(`${n} ${n} m\\n${n} ${n} l\\n(?=S|-?[\\d.]+ -?[\\d.]+ m)`, 'g')),
    ]
    const tips = [...content.matchAll(new RegExp(`${n} ${n} m\\n${n} ${n} l\\n${n} ${n} l\\n`, 'g'))]
    return {
      lines: lines.map(([, x, y, toX, toY]) => ({ x: inMm(x), y: inMm(y), toX: inMm(toX), toY: inMm(toY) })),
      tips: tips.map(([, x, y]) => ({ x: inMm(x), y: inMm(y) })),
      // A circle is four curves.
      rings: (content.match(/ c\n/g) ?? []).length / 4,
    }
  })
}

/** Upright lines that begin at a height on the page and are as long as a mark, from the left. */
function marksAt(page: DrawnPage | undefined, topMm: number) {
  const lengths = Object.values(markLengthMm)
  return (page?.lines ?? [])
    .filter((line) => Math.abs(line.y - topMm) < 0.01 && Math.abs(line.x - line.toX) < 1e-6)
    .map((line) => ({ x: line.x, lengthMm: line.toY - line.y }))
    .filter(({ lengthMm }) => lengths.some((length) => Math.abs(length - lengthMm) < 0.01))
    .sort((a, b) => a.x - b.x)
}

const strips: readonly (readonly [string, RimStrip])[] = [
  ['240 marks on 1220 mm, A4', aStrip()],
  [
    '244 marks, Letter, a printer 0.4 % short',
    aStrip({ frames: 244, paper: 'Letter', correction: stripCorrection(199.2, 1) }),
  ],
  [
    '8 marks on 6000 mm, three tiles from mark to mark',
    aStrip({ rimUm10: um10FromMm(6000, 'The rim'), frames: 8, setFrames: 8, loopFrames: 8 }),
  ],
  [
    '720 marks on 1885.4 mm',
    aStrip({ rimUm10: um10FromMm(1885.4, 'The rim'), frames: 720, setFrames: null, loopFrames: null }),
  ],
]

describe('the printed rim strip', () => {
  it.each(strips)('has every mark where the geometry puts it: %s', (_, strip) => {
    const pages = drawnPages(printRimStrip(strip, writtenAt))
    expect(pages).toHaveLength(strip.pages)
    for (const tile of strip.tiles) {
      const drawn = marksAt(pages[tile.page], tile.topMm)
      expect(drawn).toHaveLength(tile.marks.length)
      tile.marks.forEach((mark, k) => {
        const expected = strip.leftMm + mark.positionMm * strip.correction
        expect(Math.abs((drawn[k]?.x ?? Number.NaN) - expected)).toBeLessThan(0.01)
        expect(drawn[k]?.lengthMm).toBeCloseTo(markLengthMm[mark.kind], 2)
      })
    }
    const all = strip.tiles.flatMap(({ marks }) => marks)
    expect(pages.flatMap(({ tips }) => tips)).toHaveLength(all.filter(({ isSet }) => isSet).length)
    expect(pages.reduce((sum, { rings }) => sum + rings, 0)).toBe(all.filter(({ isLoop }) => isLoop).length)
  })

  it('measures N equal gaps and the whole rim on paper, tile glued to tile', () => {
    // Mathematics: 1220 ÷ 240 = 5.08333… mm, read from the PDF alone; laps left out by the tile's own length.
    const strip = aStrip()
    const pages = drawnPages(printRimStrip(strip, writtenAt))
    let fromMm = 0
    const places = strip.tiles.flatMap((tile) => {
      const here = marksAt(pages[tile.page], tile.topMm)
        .map(({ x }) => x - strip.leftMm)
        .filter((x) => x < tile.lengthMm)
        .map((x) => fromMm + x)
      fromMm += tile.lengthMm
      return here
    })
    expect(places).toHaveLength(240)
    const gaps = places.map((place, k) => (places[k + 1] ?? (places[0] ?? 0) + 1220) - place)
    for (const gap of gaps) expect(Math.abs(gap - 1220 / 240)).toBeLessThan(0.01)
  })

  it('puts set marks as triangles under the right marks', () => {
    const strip = aStrip()
    const [page] = drawnPages(printRimStrip(strip, writtenAt))
    const tile = strip.tiles[0]
    const expected = (tile?.marks ?? []).filter(({ isSet }) => isSet).map(({ positionMm }) => positionMm + 10)
    const drawn = (page?.tips ?? []).filter(({ y }) => y > (tile?.topMm ?? 0) && y < (tile?.topMm ?? 0) + 20)
    expect(drawn).toHaveLength(expected.length)
    expect(drawn.length).toBeGreaterThan(1)
    expected.forEach((x, k) => {
      expect(Math.abs((drawn[k]?.x ?? Number.NaN) - x)).toBeLessThan(0.01)
    })
  })

  it('has a check bar of 200 mm on every page, longer by the correction', () => {
    for (const correction of [1, 200 / 199.2]) {
      for (const page of drawnPages(printRimStrip(aStrip({ correction, frames: 610 }), writtenAt))) {
        const bars = page.lines.filter((line) => Math.abs(line.y - line.toY) < 1e-6)
        expect(bars).toHaveLength(1)
        expect(Math.abs((bars[0]?.toX ?? 0) - (bars[0]?.x ?? 0) - 200 * correction)).toBeLessThan(0.01)
      }
    }
  })

  it('is on true paper and asks not to be scaled', () => {
    const sizes: Record<StripPaper, readonly [number, number]> = { A4: [297, 210], Letter: [279.4, 215.9] }
    for (const paper of ['A4', 'Letter'] as const) {
      const pdf = printRimStrip(aStrip({ paper }), writtenAt).toString('latin1')
      const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? []
      // ISO 216: A4 is 210 × 297 mm; US Letter is 8.5 × 11 in.
      expect((Number(width) * 25.4) / 72).toBeCloseTo(sizes[paper][0], 2)
      expect((Number(height) * 25.4) / 72).toBeCloseTo(sizes[paper][1], 2)
      expect([stripPaperMm[paper].widthMm, stripPaperMm[paper].heightMm]).toEqual(sizes[paper])
      expect(pdf).toContain('/PrintScaling /None')
    }
  })

  it('can be read back by another program, page by page, and is the same every time', async () => {
    const strip = aStrip({ rimUm10: um10FromMm(6000, 'The rim'), frames: 720, loopFrames: null })
    const pdf = printRimStrip(strip, writtenAt)
    expect(printRimStrip(strip, writtenAt).equals(pdf)).toBe(true)
    const { pages, title } = await readPdf(pdf)
    expect(title).toBe('Rim strip: 720 marks on 6,000 mm')
    expect(pages).toHaveLength(strip.pages)
    pages.forEach((page, index) => {
      expect(page).toContain(`page ${index + 1} of ${strip.pages}`)
      expect(page).toContain('must be 200 mm long')
      expect(page).toContain('triangles: the set')
      expect(page).not.toContain('rings')
    })
    for (const { number } of strip.tiles)
      expect(pages.join(' ')).toContain(`Tile ${number} of ${strip.tiles.length}`)
  })
})
