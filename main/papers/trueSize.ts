import PDFDocument from 'pdfkit'
import { type Letters, lettersOf, typeface } from './typeface.ts'

export type TruePdf = InstanceType<typeof PDFDocument>

/** Points in a millimetre: lengths on true-size papers are said in mm and drawn in points (PDF 32000-1, 8.3.2.3). */
export const pt = 72 / 25.4

/** A paper whose lengths are true: it asks the program that prints it not to scale. */
export interface TrueSizePaper {
  readonly pdf: TruePdf
  readonly letters: Letters
}

/**
 * Begins a paper without pages and margins that is to be printed at 100 %. The same content and instant always
 * give the same bytes.
 * @param writtenAt  the document's own instant
 */
export function beginTrueSize(title: string, writtenAt: string): TrueSizePaper {
  const written = new Date(writtenAt)
  const pdf = new PDFDocument({
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    font: typeface('regular') as unknown as string,
    info: { Title: title, Creator: 'Turnsheet', CreationDate: written, ModDate: written },
  })
  pdf.registerFont('regular', typeface('regular'))
  pdf.registerFont('medium', typeface('medium'))
  pdf.registerFont('semibold', typeface('semibold'))
  // pdfkit has no option for it; PDF 32000-1, 12.2: a viewer then offers to print at 100 %.
  const { ViewerPreferences: wishes } = (
    pdf as unknown as { _root: { data: { ViewerPreferences: { data: Record<string, unknown> } } } }
  )._root.data
  wishes.data.PrintScaling = 'None'
  return { pdf, letters: lettersOf(pdf) }
}

export function addPageMm({ pdf }: TrueSizePaper, widthMm: number, heightMm: number): void {
  pdf.addPage({ size: [widthMm * pt, heightMm * pt], margin: 0 })
}

/** The bytes of a paper that is drawn. */
export function endTrueSize({ pdf }: TrueSizePaper): Buffer {
  pdf.end()
  // pdfkit pushes everything before `end` returns, as long as no image is decoded.
  return pdf.read() as Buffer
}
