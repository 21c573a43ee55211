import jsQR from 'jsqr'
import { ticketPixels } from './checkPicture.ts'

/**
 * The text of a square code in a frame, whosever it is.
 * @returns null where there is none, or none that can be read
 */
export async function readTicketText(folder: string, files: readonly string[]): Promise<string | null> {
  const pixels = await ticketPixels(folder, files)
  if (!pixels) return null
  // Paper is dark on light; the other way round would cost as long again.
  const found = jsQR(pixels.rgba, pixels.widthPx, pixels.heightPx, { inversionAttempts: 'dontInvert' })
  return found?.data || null
}
