import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { ticketKey } from '../../db/tickets.ts'
import { qrCode } from '../../main/papers/qr.ts'
import { type PrintedTicket, printSlates, printTickets, ticketCodeMm } from '../../main/papers/ticket.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { aClient, aProduct } from '../builders.ts'
import { aJob, jobDraft } from '../jobs/aJob.ts'
import { placedText, readPdf } from '../papers/readPdf.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { boundsOf, type DrawnRect, drawnSheets, readDrawn } from './drawnCodes.ts'

const writtenAt = '2026-03-02T00:00:00.000Z'

const plain: PrintedTicket = {
  scanText: 'TURNSHEET.1A2F.12345',
  codes: ['KN-01'],
  name: 'Kettle, copper',
  startPose: 'handle to the right',
  direction: 'clockwise',
  size: { plan: 'box', widthMm: 220, depthMm: 160, heightMm: 240, sweptMm: null },
  frames: ['row 1 from 5°: 244 frames and 3 more', 'row 2 from 30°: 82 frames and 2 more'],
  jobNumber: 'J-2026-0042',
  clientName: 'Halvorsen Lamps',
}

function bytesOf({ db, folder }: TestStudio, paperId: number): Buffer {
  const paper = attachmentById(db, paperId)
  if (!paper) throw new Error('The paper was not kept.')
  return fs.readFileSync(attachmentPath(folder, paper.sha256))
}

/** The code's own box, widened by the four modules of white that ISO/IEC 18004 asks for (from memory). */
function quietBox(rects: readonly DrawnRect[], modules: number): DrawnRect {
  const { x, y, width, height } = boundsOf(rects)
  const quiet = (4 * width) / modules
  return { x: x - quiet, y: y - quiet, width: width + 2 * quiet, height: height + 2 * quiet }
}

describe('a printed ticket', () => {
  it('is an A6 page at true size with a square code of at least 90 mm', () => {
    const [sheet] = drawnSheets(printTickets([plain], writtenAt))
    // ISO 216: A6 is 105 × 148 mm.
    expect(sheet?.widthMm).toBeCloseTo(105, 1)
    expect(sheet?.heightMm).toBeCloseTo(148, 1)
    const code = boundsOf(sheet?.rects ?? [])
    expect(code.width).toBeCloseTo(ticketCodeMm, 2)
    expect(code.width).toBeGreaterThanOrEqual(90 - 0.001)
    expect(code.height).toBeCloseTo(code.width, 3)
    // Most printers leave 5 mm of a sheet's edge white (common practice, no published source).
    expect(code.x).toBeGreaterThan(5)
    expect(code.y + code.height).toBeLessThan(148 - 5)
    expect(printTickets([plain], writtenAt).toString('latin1')).toContain('/PrintScaling /None')
  })

  it('is read from its own rectangles as its text', () => {
    const [sheet] = drawnSheets(printTickets([plain], writtenAt))
    expect(readDrawn(sheet?.rects ?? [])).toBe(plain.scanText)
  })

  it('keeps four modules round its code clear of every letter', async () => {
    for (const ticket of [
      plain,
      {
        ...plain,
        scanText: 'TURNSHEET.1A2F.123456',
        codes: ['A-VERY-LONG-CODE-OF-A-CLIENT-0001', 'AND-ANOTHER-ONE-0002'],
        name: 'A name that goes on for longer than anybody would ever want to read on a ticket at a bench',
        startPose: 'handle to the right, spout to the camera, lid shut, label straight, tag tucked in behind',
      },
    ]) {
      const pdf = printTickets([ticket], writtenAt)
      const [sheet] = drawnSheets(pdf)
      const quiet = quietBox(sheet?.rects ?? [], qrCode(ticket.scanText).size)
      const [items] = await placedText(pdf)
      expect(items?.length).toBeGreaterThan(3)
      for (const { bottomMm, text } of items ?? []) {
        expect(`${text}: ${bottomMm < quiet.y}`).toBe(`${text}: true`)
      }
    }
  })

  it('says code, name, start, way of turning, frames, job and client', async () => {
    const { pages, title } = await readPdf(printTickets([plain], writtenAt))
    expect(title).toBe('Ticket: KN-01 Kettle, copper')
    for (const text of [
      'KN-01',
      'Kettle, copper',
      'Start: handle to the right; turns clockwise',
      'row 1 from 5°: 244 frames and 3 more',
      'row 2 from 30°: 82 frames',
      'J-2026-0042, Halvorsen Lamps',
      'camera',
    ]) {
      expect(pages[0]?.replaceAll(/\s+/g, ' ')).toContain(text)
    }
  })

  it('gives the same bytes for the same ticket', () => {
    expect(printTickets([plain], writtenAt).equals(printTickets([plain], writtenAt))).toBe(true)
  })
})

describe('a printed slate', () => {
  it.each([
    ['A5', 148, 210],
    ['A4', 210, 297],
  ] as const)('on %s has its code and the white round it as wide as the sheet', (size, widthMm, heightMm) => {
    const [sheet] = drawnSheets(printSlates([plain], size, writtenAt))
    expect(sheet?.widthMm).toBeCloseTo(widthMm, 1)
    expect(sheet?.heightMm).toBeCloseTo(heightMm, 1)
    const quiet = quietBox(sheet?.rects ?? [], 21)
    expect(quiet.width).toBeCloseTo(widthMm, 1)
    expect(quiet.x).toBeGreaterThanOrEqual(-0.01)
    expect(quiet.y + quiet.height).toBeLessThanOrEqual(heightMm + 0.01)
    expect(readDrawn(sheet?.rects ?? [])).toBe(plain.scanText)
  })
})

describe('tickets of a job', () => {
  it('are printed forty at once, each with the code of its own spin, cancelled ones left out', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const codes = Array.from({ length: 41 }, (_, k) => `KN-${k + 1}`)
    const { jobId, shootIds } = await aJob(studio, { codes })
    await api.spins.cancel({ shootIds: shootIds.slice(40), reason: 'not wanted' })
    const { paperId, printed } = await api.prints.tickets({ of: { jobId } })
    expect(printed).toBe(40)
    const sheets = drawnSheets(bytesOf(studio, paperId))
    expect(sheets.map(({ rects }) => readDrawn(rects))).toEqual(
      shootIds
        .slice(0, 40)
        .map((shootId) => ticketText({ studioKey: ticketKey(db), shootId, product: null })),
    )
  })

  it('are refused for a cancelled spin that is named, and for a job with nothing to turn', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await aJob(studio, { codes: ['KN-01'] })
    await api.spins.cancel({ shootIds, reason: 'not wanted' })
    await expect(api.prints.tickets({ of: { shootIds } })).rejects.toThrow('Kettle KN-01 is cancelled')
    await expect(api.prints.tickets({ of: { jobId } })).rejects.toThrow('no spin to be turned')
    await expect(api.prints.labels({ of: { jobId }, paper: 'A4' })).rejects.toThrow('No sample of this job')
  })
})

describe('labels of samples', () => {
  it('stand eight to a sheet, the code and its white as high as the label', async () => {
    const studio = aStudio()
    const { jobId } = await aJob(studio, { codes: Array.from({ length: 9 }, (_, k) => `KN-${k + 1}`) })
    for (const [paper, labelMm] of [
      ['A4', 297 / 4],
      ['Letter', 279.4 / 4],
    ] as const) {
      const { paperId, printed } = await studio.api.prints.labels({ of: { jobId }, paper })
      expect(printed).toBe(9)
      const sheets = drawnSheets(bytesOf(studio, paperId))
      expect(sheets).toHaveLength(2)
      const first = (sheets[0]?.rects ?? []).filter(({ x, y }) => x < labelMm && y < labelMm)
      expect(quietBox(first, 21).height).toBeCloseTo(labelMm, 1)
      const read = await readPdf(bytesOf(studio, paperId))
      expect(read.pages[0]).toContain('Halvorsen Lamps')
    }
  })

  it('name their own product of a set, so that each box comes in on its own', async () => {
    const studio = aStudio()
    const { api } = studio
    const { clientId } = await api.clients.add(aClient())
    const productIds = await Promise.all(
      ['CUP', 'SAUCER'].map(
        async (code) => (await api.products.add({ clientId, product: aProduct({ code }) })).productId,
      ),
    )
    const { jobId } = await api.jobs.add({
      clientId,
      job: jobDraft(),
      spins: [{ productIds, name: 'Cup and saucer' }],
    })
    const { paperId } = await api.prints.labels({ of: { jobId }, paper: 'A4' })
    const rects = drawnSheets(bytesOf(studio, paperId))[0]?.rects ?? []
    const codes = [0, 1].map((k) => readDrawn(rects.filter(({ x }) => (x < 105 ? 0 : 1) === k)) ?? '')
    expect((await api.tickets.read({ code: codes[1] ?? '' })).samples.map(({ code }) => code)).toEqual([
      'SAUCER',
    ])
    expect(new Set(codes).size).toBe(2)
  })
})
