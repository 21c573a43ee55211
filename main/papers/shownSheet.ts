import { studioLogo } from '../../db/logo.ts'
import type { Db } from '../../db/open.ts'
import { darkRuns, qrCode } from './qr.ts'
import type { Block, Payment, Sheet } from './sheet.ts'

/** A QR code to be drawn on a screen: its dark modules as runs along their lines, of a square of `size`. */
export interface ShownCode {
  readonly size: number
  readonly dark: readonly { readonly column: number; readonly line: number; readonly length: number }[]
}

/** How to pay, with the code's modules in place of its text. */
export interface ShownPayment extends Omit<Payment, 'code'> {
  readonly code: ShownCode | null
}

export type ShownBlock = Exclude<Block, Payment> | ShownPayment

/** A sheet for a screen: the same that is printed, with pictures in the form a page can draw. */
export interface ShownSheet extends Omit<Sheet, 'blocks' | 'logo'> {
  readonly blocks: readonly ShownBlock[]
  /** The logo's file among the studio's files; null for none. */
  readonly logoSha256: string | null
}

/** The sheet that `printOnLetterhead` prints, to be shown before it is. */
export function shownSheet(db: Db, { logo: _, ...sheet }: Sheet): ShownSheet {
  return {
    ...sheet,
    blocks: sheet.blocks.map((block) => (block.kind === 'payment' ? shownPayment(block) : block)),
    logoSha256: studioLogo(db)?.sha256 ?? null,
  }
}

function shownPayment(payment: Payment): ShownPayment {
  if (payment.code === null) return { ...payment, code: null }
  const code = qrCode(payment.code)
  return { ...payment, code: { size: code.size, dark: darkRuns(code) } }
}
