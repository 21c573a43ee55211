import { Refusal } from './refusal.ts'

/** What the square code of a ticket, a label or a slate says: whose spin it is, and which. */
export interface TicketCode {
  /** The mark of the studio that printed it. */
  readonly studioKey: string
  readonly shootId: number
  /** Which product of a set a label stands on, from 1; null on a ticket, a slate, or a spin of one product. */
  readonly product: number | null
}

const word = 'TURNSHEET'
const shape = new RegExp(`^${word}\\.([0-9A-F]{4})\\.([1-9][0-9]{0,14})(?:\\.([1-9][0-9]?))?$`, 'u')

/**
 * The text of the square code. Capitals, digits and dots alone: a QR code packs them densest (alphanumeric mode,
 * ISO/IEC 18004, from memory), so that up to spin 99,999 its modules are the largest there are; and a hand scanner
 * that types them types the same letters on the keyboards of most languages.
 */
export function ticketText({ studioKey, shootId, product }: TicketCode): string {
  return [word, studioKey, shootId, product].filter((part) => part !== null).join('.')
}

/** Whether a text begins as a ticket's does, whole or not: what is typed by a hand scanner, before it is read. */
export function isTicketLike(text: string): boolean {
  return text.trim().toUpperCase().startsWith(`${word}.`)
}

/** Whether a text is a beginning of a ticket's, from its first letter on. */
export function beginsTicket(text: string): boolean {
  const typed = text.toUpperCase()
  return typed !== '' && (typed.startsWith(`${word}.`) || `${word}.`.startsWith(typed))
}

const longestShown = 40

/**
 * Reads a scanned or typed code. Capitals or not is all the same: a scanner at a keyboard with its capitals on
 * types small letters. Refuses a code of somebody else's, one that was not read whole, and one of another studio.
 * @param studioKey  the mark of the studio that is open
 */
export function readTicket(text: string, studioKey: string): TicketCode {
  const typed = text.trim()
  if (!isTicketLike(typed)) {
    const shown = typed.length > longestShown ? `${typed.slice(0, longestShown)}…` : typed
    throw new Refusal(
      'no-ticket',
      `“${shown}” is no ticket of this program. Scan the square code of a ticket, a label or a slate.`,
    )
  }
  const [, key = '', shootId = '', product] = shape.exec(typed.toUpperCase()) ?? []
  if (key === '') {
    throw new Refusal('ticket-not-whole', `The ticket was not read whole: “${typed}”. Scan it again.`)
  }
  if (key !== studioKey) {
    throw new Refusal(
      'ticket-of-another-studio',
      `This ticket was printed by another studio: its mark is ${key}, this studio’s is ${studioKey}. Print a ticket here, or open the studio that it belongs to.`,
    )
  }
  return { studioKey: key, shootId: Number(shootId), product: product === undefined ? null : Number(product) }
}
