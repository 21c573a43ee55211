import type PDFDocument from 'pdfkit'
import type { Letters } from './typeface.ts'

/** What the drawing functions share. `y` runs down the page; lengths in points. */
export interface Drawing {
  readonly pdf: InstanceType<typeof PDFDocument>
  readonly letters: Letters
  readonly left: number
  readonly width: number
  /** Where the body of a page must end. */
  readonly bottom: number
  y: number
  /** Begins a page and puts `y` at its top. */
  newPage(): void
}

export const grey = '#5f5f5c'
export const ink = '#1a1a19'
export const hairline = '#bdbdb8'
