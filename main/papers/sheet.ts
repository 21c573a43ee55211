import PDFDocument from 'pdfkit'
import { type PaperLanguage, paperTexts } from '../trade/texts/paperTexts.ts'
import { type Drawing, grey, hairline } from './drawing.ts'
import { drawGlance, drawHeading, drawSignature } from './sheetBlocks.ts'
import { drawFacts, drawHead, drawRecipient, drawTitle } from './sheetHead.ts'
import { drawPayment } from './sheetPayment.ts'
import { drawTable } from './sheetTable.ts'
import { drawParagraph, drawTotals } from './sheetText.ts'
import { lettersOf, typeface } from './typeface.ts'

/** Who writes: the top of the first page and the foot of every page. */
export interface Sender {
  readonly name: string
  /** Street, town and country, one line each. */
  readonly address: readonly string[]
  /** Small print of the foot: tax number, bank account, e-mail. */
  readonly foot: readonly string[]
}

/** A column; widths share the page in proportion, figures stand right. */
export interface Column {
  readonly label: string
  readonly width: number
  readonly align: 'left' | 'right'
}

/** A table; its header is repeated on every page, and a row is never torn in two. */
export interface Table {
  readonly kind: 'table'
  readonly columns: readonly Column[]
  readonly rows: readonly (readonly string[])[]
}

/** Sums under a table, right-aligned; a strong one is the sum that counts. Kept together on one page. */
export interface Totals {
  readonly kind: 'totals'
  readonly rows: readonly { readonly label: string; readonly value: string; readonly strong?: boolean }[]
}

export interface Paragraph {
  readonly kind: 'paragraph'
  readonly heading?: string
  readonly text: string
}

/** The heading of a part; it stays with the first lines of what follows, which take `keepWith` points. */
export interface Heading {
  readonly kind: 'heading'
  readonly text: string
  /** Said beside it, smaller. */
  readonly aside?: string
  readonly keepWith: number
}

/** The few figures one looks for first, side by side: each with a word over it. */
export interface Glance {
  readonly kind: 'glance'
  readonly figures: readonly { readonly label: string; readonly value: string }[]
}

/** Lines to sign on, with boxes to tick where there is something to choose; kept together on one page. */
export interface Signature {
  readonly kind: 'signature'
  readonly heading: string
  readonly text: string
  readonly boxes: readonly string[]
  readonly lines: readonly string[]
}

/** How to pay: what a bank's program reads and the same in words beside it; kept together on one page. */
export interface Payment {
  readonly kind: 'payment'
  readonly text: string
  readonly rows: readonly { readonly label: string; readonly value: string }[]
  /** The text of a QR code; null where there is none. */
  readonly code: string | null
  /** What the code is, said under the rows; null where there is none. */
  readonly codeText: string | null
}

export type Block = Table | Totals | Paragraph | Heading | Glance | Signature | Payment

/** A paper as what stands on it; all figures are text already, so that paper and screen cannot differ. */
export interface Sheet {
  readonly paper: 'A4' | 'Letter'
  readonly language: PaperLanguage
  /** The document's own instant: its creation date, so that the same rows always give the same file. */
  readonly writtenAt: string
  readonly title: string
  readonly sender: Sender
  /** The address of the recipient, one line each; empty on a paper for the studio itself. */
  readonly recipient: readonly string[]
  /** What stands beside the address: number, day, order number. */
  readonly facts: readonly (readonly [label: string, value: string])[]
  readonly blocks: readonly Block[]
  /** The studio's logo, a PNG without transparency; null or left out for none. */
  readonly logo?: Buffer | null
}

const mm = 72 / 25.4
const margins = { left: 25 * mm, right: 20 * mm, top: 20 * mm, bottom: 28 * mm }

/**
 * The sheet as a PDF: embedded fonts, text that can be selected and searched, numbered pages. The same sheet
 * always gives the same bytes. Letters that the typeface lacks are printed as `missingLetter`; `unprintable`
 * names them beforehand.
 */
export function printSheet(sheet: Sheet): Buffer {
  const { pdf } = draw(sheet)
  pdf.end()
  // pdfkit pushes everything before `end` returns, as long as no image is decoded.
  return pdf.read() as Buffer
}

/** The letters of a sheet that its typeface lacks, each once; empty when all can be printed. */
export function unprintable(sheet: Sheet): readonly string[] {
  return draw(sheet).letters.replaced()
}

function draw(sheet: Sheet): Drawing {
  const drawing = begin(sheet)
  drawHead(drawing, sheet.sender, sheet.logo ?? null)
  drawRecipient(drawing, sheet.sender, sheet.recipient)
  drawFacts(drawing, sheet.facts)
  drawTitle(drawing, sheet.title)
  for (const block of sheet.blocks) {
    switch (block.kind) {
      case 'table':
        drawTable(drawing, block)
        break
      case 'totals':
        drawTotals(drawing, block)
        break
      case 'paragraph':
        drawParagraph(drawing, block)
        break
      case 'heading':
        drawHeading(drawing, block)
        break
      case 'glance':
        drawGlance(drawing, block)
        break
      case 'signature':
        drawSignature(drawing, block)
        break
      case 'payment':
        drawPayment(drawing, block)
        break
    }
  }
  drawFeet(drawing, sheet)
  return drawing
}

function begin(sheet: Sheet): Drawing {
  const written = new Date(sheet.writtenAt)
  const pdf = new PDFDocument({
    size: sheet.paper === 'A4' ? 'A4' : 'LETTER',
    // Feet stand below the body, so pdfkit itself must not turn the page there.
    margins: { ...margins, bottom: 0 },
    bufferPages: true,
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang: sheet.language,
    displayTitle: true,
    font: typeface('regular') as unknown as string,
    info: {
      Title: sheet.title,
      Author: sheet.sender.name,
      Creator: 'Turnsheet',
      CreationDate: written,
      ModDate: written,
    },
  })
  pdf.registerFont('regular', typeface('regular'))
  pdf.registerFont('medium', typeface('medium'))
  pdf.registerFont('semibold', typeface('semibold'))
  pdf.font('regular').addPage()
  return {
    pdf,
    letters: lettersOf(pdf),
    left: margins.left,
    width: pdf.page.width - margins.left - margins.right,
    bottom: pdf.page.height - margins.bottom,
    y: margins.top,
    newPage() {
      pdf.addPage()
      this.y = drawContinuation(this, sheet)
    },
  }
}

/** What every page but the first begins with, so that a loose page is known; gives where the body goes on. */
function drawContinuation({ pdf, letters, left, width }: Drawing, sheet: Sheet): number {
  pdf.font('regular').fontSize(8.5).fillColor(grey)
  pdf.text(letters.fit(`${sheet.title} · ${sheet.sender.name}`), left, margins.top, {
    width,
    height: 12,
    ellipsis: true,
  })
  return margins.top + 24
}

/** The foot of every page, once it is known how many there are. */
function drawFeet(drawing: Drawing, sheet: Sheet): void {
  const { pdf, letters, left, width, bottom } = drawing
  const { start, count } = pdf.bufferedPageRange()
  const words = paperTexts[sheet.language].sheet
  for (let index = 0; index < count; index += 1) {
    pdf.switchToPage(start + index)
    pdf
      .moveTo(left, bottom + 14)
      .lineTo(left + width, bottom + 14)
      .lineWidth(0.5)
      .stroke(hairline)
    pdf.font('regular').fontSize(7.5).fillColor(grey)
    pdf.text(letters.fit(sheet.sender.foot.join(' · ')), left, bottom + 20, { width: width - 90, height: 30 })
    pdf.text(letters.fit(words.page(index + 1, count)), left + width - 80, bottom + 20, {
      width: 80,
      align: 'right',
      lineBreak: false,
    })
  }
}
