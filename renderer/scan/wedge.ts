import { beginsTicket } from '../../main/trade/ticketCode.ts'

/** What has been typed without a rest, and when its last key was heard. */
export interface Wedge {
  readonly text: string
  readonly lastAtMs: number
}

export const quietWedge: Wedge = { text: '', lastAtMs: Number.NEGATIVE_INFINITY }

/**
 * Hand scanners type a key every 1 to 30 ms; the quickest hands rest more than 50 ms at least once in every eight
 * keys (common practice, no published source).
 */
export const longestGapMs = 50
/** The shortest code that is taken for one: an EAN-8 has eight digits. */
export const shortestScan = 8

export interface Heard {
  readonly wedge: Wedge
  /** The whole code, once its Enter was heard. */
  readonly scanned: string | undefined
  /** Whether the key belongs to a ticket that is being scanned, so that it must not do what it does by itself. */
  readonly isOurs: boolean
}

/**
 * Hears a key outside of every field. A hand scanner is a keyboard that types a code at once and ends it with
 * Enter; what a person types is never taken for one, because somewhere among eight keys a hand rests.
 * @param key   as the browser names it
 * @param atMs  when it was pressed, on any one clock
 */
export function hearKey(wedge: Wedge, key: string, atMs: number): Heard {
  // A scanner holds Shift for its capitals; it is no key of the code.
  if (key === 'Shift' || key === 'CapsLock') return { wedge, scanned: undefined, isOurs: false }
  const isFast = atMs - wedge.lastAtMs <= longestGapMs
  if (key === 'Enter') {
    const scanned = isFast && wedge.text.length >= shortestScan ? wedge.text : undefined
    return { wedge: quietWedge, scanned, isOurs: scanned !== undefined }
  }
  if (key.length !== 1) return { wedge: quietWedge, scanned: undefined, isOurs: false }
  const text = isFast ? wedge.text + key : key
  return {
    wedge: { text, lastAtMs: atMs },
    scanned: undefined,
    isOurs: text.length > 1 && beginsTicket(text),
  }
}
