import jsQR from 'jsqr'
import { ticketPixels } from './checkPicture.ts'

/** The smallest QR code has so many modules along a side (ISO/IEC 18004, version 1; from memory). */
const leastModules = 21

/**
 * The text of a square code in a frame, whosever it is.
 * @returns null where there is none, or none that can be read
 */
export async function readTicketText(folder: string, files: readonly string[]): Promise<string | null> {
  const pixels = await ticketPixels(folder, files)
  if (!pixels || Math.min(pixels.widthPx, pixels.heightPx) < leastModules) return null
  try {
    // Paper is dark on light; the other way round would cost as long again.
    const found = jsQR(pixels.rgba, pixels.widthPx, pixels.heightPx, { inversionAttempts: 'dontInvert' })
    return found?.data || null
  } catch {
    // The decoder throws on some patterns that only look like a code.
    return null
  }
}
