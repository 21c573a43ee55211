import type { ProductSize } from '../trade/product.ts'
import { grey, ink } from './drawing.ts'
import { drawQr, qrCode, quietModules } from './qr.ts'
import { drawStartSketch } from './startSketch.ts'
import { drawFitted } from './ticketText.ts'
import { addPageMm, beginTrueSize, endTrueSize, pt, type TrueSizePaper } from './trueSize.ts'

/** What stands on a ticket or a slate; all figures are text already. */
export interface PrintedTicket {
  /** What the square code says. */
  readonly scanText: string
  /** The client's codes, one of each product. */
  readonly codes: readonly string[]
  readonly name: string
  readonly startPose: string | null
  readonly direction: 'clockwise' | 'anticlockwise'
  /** The product seen from above; null for a set of several. */
  readonly size: ProductSize | null
  /** Frames, a line for each row. */
  readonly frames: readonly string[]
  readonly jobNumber: string
  readonly clientName: string
}

/** ISO 216: A4 is 210 × 297 mm, A5 and A6 its halves and quarters. */
const paperMm = { A4: [210, 297], A5: [148, 210], A6: [105, 148] } as const

/** The side of a ticket's code without the white round it, as large as its sheet can hold to be read from afar. */
export const ticketCodeMm = 90

const edgeMm = 7.5

/**
 * Tickets as a true-size PDF, an A6 page each: the square code of 90 mm below, what it stands for above. Nothing
 * is drawn within four modules of the code; beside it the sheet itself ends sooner (DEVELOPERS.md tells why the
 * code is not made smaller for it).
 * @param writtenAt  the document's own instant
 */
export function printTickets(tickets: readonly PrintedTicket[], writtenAt: string): Buffer {
  const paper = beginTrueSize(titleOf('Ticket', tickets), writtenAt)
  for (const ticket of tickets) drawTicket(paper, ticket)
  return endTrueSize(paper)
}

function titleOf(word: string, tickets: readonly PrintedTicket[]): string {
  const [first] = tickets
  return tickets.length === 1 && first
    ? `${word}: ${first.codes.join(', ')} ${first.name}`
    : `${word}s: ${tickets.length} spins`
}

function drawTicket(paper: TrueSizePaper, ticket: PrintedTicket): void {
  const [widthMm, heightMm] = paperMm.A6
  addPageMm(paper, widthMm, heightMm)
  const code = qrCode(ticket.scanText)
  const topMm = heightMm - edgeMm - ticketCodeMm
  drawQr(paper.pdf, code, { xMm: edgeMm, yMm: topMm, sideMm: ticketCodeMm })
  const textMm = topMm - quietModules * (ticketCodeMm / code.size) - 5
  const sketchMm = textMm
  drawStartSketch(paper, ticket, { xMm: widthMm - edgeMm - sketchMm, yMm: 5, sideMm: sketchMm })
  drawHeadings(paper, ticket, { widthMm: widthMm - 2 * edgeMm - sketchMm - 3, heightMm: textMm })
}

function drawHeadings(
  paper: TrueSizePaper,
  ticket: PrintedTicket,
  { widthMm, heightMm }: { widthMm: number; heightMm: number },
): void {
  const box = { xMm: edgeMm, widthMm, colour: ink }
  const codeEndMm = drawFitted(paper, {
    ...box,
    text: ticket.codes.join(', '),
    yMm: 5,
    heightMm: 7,
    weight: 'semibold',
    largestPt: 15,
    smallestPt: 7,
  })
  const nameEndMm = drawFitted(paper, {
    ...box,
    text: ticket.name,
    yMm: codeEndMm,
    heightMm: 5 + heightMm - codeEndMm - 11,
    weight: 'medium',
    largestPt: 10,
    smallestPt: 6.5,
  })
  drawFitted(paper, {
    ...box,
    text: [
      ...wayWords(ticket),
      ticket.frames.join('; '),
      `${ticket.jobNumber}, ${ticket.clientName}`,
      ticket.scanText,
    ].join('\n'),
    yMm: nameEndMm + 0.6,
    heightMm: 5 + heightMm - nameEndMm - 0.6,
    weight: 'regular',
    largestPt: 7.5,
    smallestPt: 5,
  })
}

function wayWords({ startPose, direction }: PrintedTicket): string[] {
  return [startPose === null ? `Turns ${direction}` : `Start: ${startPose}; turns ${direction}`]
}

/**
 * Slates as a true-size PDF, a page each: the code as large as the sheet takes it with the white round it, and
 * the product's name in letters to be read across the room.
 * @param writtenAt  the document's own instant
 */
export function printSlates(tickets: readonly PrintedTicket[], size: 'A4' | 'A5', writtenAt: string): Buffer {
  const paper = beginTrueSize(titleOf('Slate', tickets), writtenAt)
  for (const ticket of tickets) drawSlate(paper, ticket, paperMm[size])
  return endTrueSize(paper)
}

function drawSlate(
  paper: TrueSizePaper,
  ticket: PrintedTicket,
  [widthMm, heightMm]: readonly [number, number],
): void {
  addPageMm(paper, widthMm, heightMm)
  const code = qrCode(ticket.scanText)
  const moduleMm = widthMm / (code.size + 2 * quietModules)
  const quietMm = quietModules * moduleMm
  drawQr(paper.pdf, code, {
    xMm: quietMm,
    yMm: heightMm - widthMm + quietMm,
    sideMm: code.size * moduleMm,
  })
  const textMm = heightMm - widthMm - 12
  const box = { xMm: 12, widthMm: widthMm - 24, align: 'center' as const }
  const codeEndMm = drawFitted(paper, {
    ...box,
    text: ticket.codes.join(', '),
    yMm: 10,
    heightMm: textMm * 0.45,
    weight: 'semibold',
    largestPt: 44,
    smallestPt: 12,
    colour: ink,
  })
  drawFitted(paper, {
    ...box,
    text: ticket.name,
    yMm: codeEndMm + 1,
    heightMm: Math.max(6, 10 + textMm - codeEndMm - 7),
    weight: 'medium',
    largestPt: 26,
    smallestPt: 9,
    colour: ink,
  })
  const { pdf, letters } = paper
  pdf.font('regular').fontSize(8).fillColor(grey)
  pdf.text(
    letters.fit(`${ticket.jobNumber}, ${ticket.clientName} · ${ticket.scanText}`),
    12 * pt,
    (10 + textMm - 4) * pt,
    { width: (widthMm - 24) * pt, align: 'center', height: 10, ellipsis: true },
  )
}
