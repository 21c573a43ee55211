import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { printMarkTable } from '../../main/papers/markTable.ts'
import { um10FromMm } from '../../main/trade/length.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const writtenAt = '2026-03-02T00:00:00.000Z'
const um10 = (mm: number) => um10FromMm(mm, 'The rim')

/** Pairs of frame and reading in the order of the file, headings left out. */
function marksOf(page: string): [number, string][] {
  return [...page.matchAll(/(?<![\d.,])(\d+) +([\d,]+(?:\.\d+)?)(?= |$)/g)].map(([, frame, mark]) => [
    Number(frame),
    mark ?? '',
  ])
}

describe('the mark table', () => {
  it('has every frame with its reading, rounded from the start', async () => {
    const pdf = printMarkTable({
      rimUm10: um10(1220),
      divisionUm10: um10(1),
      views: [{ viewAngleDeg: 5, frames: 240, overlap: 3 }],
      paper: 'A4',
      writtenAt,
    })
    const { pages, title } = await readPdf(pdf)
    expect(title).toBe('Marks: 240 frames a turn on 1,220 mm')
    expect(pages).toHaveLength(1)
    const page = pages[0] ?? ''
    expect(page).toContain('Row 1 at 5°: 240 frames, then the first 3 marks once more')
    const marks = new Map(marksOf(page.slice(page.indexOf('once more'))))
    expect(marks.size).toBeGreaterThanOrEqual(240)
    // Arithmetic: mark k of 240 on 1220 mm is k × 61 ÷ 12, to whole mm.
    for (const frame of [1, 2, 10, 121, 240]) {
      const mm = Math.round(((frame - 1) * 61) / 12)
      expect(marks.get(frame)).toBe(mm.toLocaleString('en-GB'))
    }
  })

  it('writes half millimetres where the tape has them', async () => {
    const { pages } = await readPdf(
      printMarkTable({
        rimUm10: um10(1220),
        divisionUm10: um10(0.5),
        views: [{ viewAngleDeg: null, frames: 8, overlap: 0 }],
        paper: 'Letter',
        writtenAt,
      }),
    )
    // 1220 ÷ 8 = 152.5.
    expect(pages[0]).toContain('Row 1: 8 frames')
    for (const mark of ['0.0', '152.5', '305.0', '457.5', '610.0', '762.5', '915.0', '1,067.5']) {
      expect(pages[0]).toContain(mark)
    }
  })

  it('prints a block for every view that differs, and equal ones together', async () => {
    const { pages } = await readPdf(
      printMarkTable({
        rimUm10: um10(1220),
        divisionUm10: um10(1),
        views: [
          { viewAngleDeg: 0, frames: 36, overlap: 0 },
          { viewAngleDeg: 20, frames: 36, overlap: 0 },
          { viewAngleDeg: 45, frames: 24, overlap: 1 },
        ],
        paper: 'A4',
        writtenAt,
      }),
    )
    expect(pages[0]).toContain('Row 1 at 0°, row 2 at 20°: 36 frames')
    expect(pages[0]).toContain('Row 3 at 45°: 24 frames, then mark 1 once more')
  })

  it('goes on over pages for a fine turn and loses no mark', async () => {
    const { pages } = await readPdf(
      printMarkTable({
        rimUm10: um10(6000),
        divisionUm10: um10(1),
        views: [{ viewAngleDeg: 0, frames: 720, overlap: 0 }],
        paper: 'Letter',
        writtenAt,
      }),
    )
    expect(pages.length).toBeGreaterThan(1)
    const found = new Set(pages.flatMap((page) => marksOf(page).map(([frame]) => frame)))
    for (let frame = 1; frame <= 720; frame += 1) expect(found.has(frame)).toBe(true)
    expect(pages.at(-1)).toContain(`page ${pages.length} of ${pages.length}`)
  })
})

describe('prints', () => {
  const read = async ({ db, folder }: TestStudio, paperId: number) => {
    const kept = attachmentById(db, paperId)
    if (!kept) throw new Error('The print was not kept.')
    return { kept, pdf: await readPdf(fs.readFileSync(attachmentPath(folder, kept.sha256))) }
  }
  const strip = {
    rimMm: 1220,
    tapeMm: 0.5,
    paperMm: 0.1,
    frames: 244,
    setFrames: 24,
    loopFrames: null,
    paper: 'A4' as const,
    lastPrint: null,
  }

  it('keep the mark table as a paper of the studio, once a day', async () => {
    const studio = aStudio()
    const input = {
      rimMm: 1220,
      divisionMm: 1,
      views: [{ viewAngleDeg: 0, frames: 244, overlap: 3 }],
      paper: 'A4' as const,
    }
    const first = await studio.api.prints.markTable(input)
    const { kept, pdf } = await read(studio, first.paperId)
    expect(kept).toMatchObject({ name: 'Marks 244 on 1220 mm.pdf', mediaType: 'application/pdf' })
    expect(pdf.title).toContain('244 frames')
    studio.setNow('2026-03-02T15:00:00.000Z')
    expect((await studio.api.prints.markTable(input)).paperId).toBe(first.paperId)
  })

  it('cut the strip shorter than the tape by π times what it is thinner', async () => {
    const studio = aStudio()
    const { paperId } = await studio.api.prints.rimStrip(strip)
    // 1220 − π × 0.4 = 1218.7434 mm.
    expect((await read(studio, paperId)).pdf.title).toBe('Rim strip: 244 marks on 1,218.7434 mm')
  })

  it('put a printer right from the measured check bar, and go on from the last correction', async () => {
    const { api } = aStudio()
    const first = await api.prints.rimStrip({ ...strip, lastPrint: { measuredMm: 199.2, correction: 1 } })
    // 200 ÷ 199.2.
    expect(first.correction).toBeCloseTo(1.004016, 6)
    const second = await api.prints.rimStrip({
      ...strip,
      lastPrint: { measuredMm: 200.2, correction: first.correction },
    })
    expect(second.correction).toBeCloseTo((200 / 199.2) * (200 / 200.2), 9)
  })

  it('refuse a bar that no printer makes, marks too close to read, and a set larger than its turn', async () => {
    const { api } = aStudio()
    await expect(
      api.prints.rimStrip({ ...strip, lastPrint: { measuredMm: 150, correction: 1 } }),
    ).rejects.toThrow(/should be 200 mm/)
    await expect(api.prints.rimStrip({ ...strip, frames: 1300 })).rejects.toThrow(/too close to read/)
    await expect(api.prints.rimStrip({ ...strip, frames: 12 })).rejects.toThrow(/cannot be taken/)
    await expect(
      api.prints.markTable({
        rimMm: 1220,
        divisionMm: 5,
        views: [{ viewAngleDeg: 0, frames: 300, overlap: 0 }],
        paper: 'A4',
      }),
    ).rejects.toThrow(/finer than the tape/)
  })

  const table = {
    rimMm: 1220,
    divisionMm: 1,
    views: [{ viewAngleDeg: 0, frames: 244, overlap: 3 }],
    paper: 'A4' as const,
  }
  const rowOf = (row: object) => ({ views: [{ viewAngleDeg: 0, frames: 244, overlap: 3, ...row }] })

  it.each([
    ['a rim of nothing', { rimMm: 0 }, 'at least 100 mm'],
    ['NaN for a rim', { rimMm: Number.NaN }, 'The rim is missing'],
    ['a rim in words', { rimMm: 'round' }, 'The rim is missing'],
    ['a division of nothing', { divisionMm: 0 }, 'at least 0.1 mm'],
    ['a division over the rim’s half', { rimMm: 120, divisionMm: 100 }, 'finer than the tape'],
    ['a turn of one frame', rowOf({ frames: 1 }), 'at least 2 frames'],
    ['half a frame', rowOf({ frames: 2.5 }), 'whole number'],
    ['an overlap below nothing', rowOf({ overlap: -1 }), 'below 0'],
    ['a view from below the floor', rowOf({ viewAngleDeg: 95 }), 'between -90° and 90°'],
    ['NaN for a view', rowOf({ viewAngleDeg: Number.NaN }), 'between -90° and 90°'],
    ['no row', { views: [] }, 'At least one row'],
  ])('refuse a mark table with %s in a sentence', async (_what, wrong, sentence) => {
    const { api } = aStudio()
    await expect(api.prints.markTable({ ...table, ...wrong } as typeof table)).rejects.toThrow(sentence)
  })

  it.each([
    ['a rim of nothing', { rimMm: 0 }, 'at least 100 mm'],
    ['NaN for a rim', { rimMm: Number.NaN }, 'The rim is missing'],
    ['one frame', { frames: 1 }, 'at least 2 frames'],
    ['a tape below nothing', { tapeMm: -0.5 }, '0 mm or more'],
    ['a strip in words', { paperMm: 'thin' }, 'is not a number'],
    ['a set of no frames', { setFrames: 0 }, 'at least 1 frame'],
    ['a loop of more frames than the turn', { loopFrames: 300 }, 'cannot be taken'],
    ['NaN for the bar', { lastPrint: { measuredMm: Number.NaN, correction: 1 } }, 'is not a number'],
  ])('refuse a rim strip with %s in a sentence', async (_what, wrong, sentence) => {
    const { api } = aStudio()
    await expect(api.prints.rimStrip({ ...strip, ...wrong } as typeof strip)).rejects.toThrow(sentence)
  })
})
