import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { qrCode } from '../../main/papers/qr.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { beginsTicket, isTicketLike, readTicket, ticketText } from '../../main/trade/ticketCode.ts'

const keys = fc.string({ unit: fc.constantFrom(...'0123456789ABCDEF'), minLength: 4, maxLength: 4 })
const codes = fc.record({
  studioKey: keys,
  shootId: fc.integer({ min: 1, max: 999_999_999 }),
  product: fc.option(fc.integer({ min: 1, max: 20 })),
})

function codeOf(work: () => unknown): string {
  try {
    work()
  } catch (error) {
    if (error instanceof Refusal) return error.code
    throw error
  }
  return 'no refusal'
}

describe('the code of a ticket', () => {
  it('is read back as what was written, in capitals or small letters, with blanks round it', () => {
    fc.assert(
      fc.property(codes, fc.boolean(), (code, isSmall) => {
        const text = ticketText(code)
        expect(readTicket(isSmall ? ` ${text.toLowerCase()} ` : text, code.studioKey)).toEqual(code)
      }),
    )
  })

  it('begins with every beginning of itself, and with nothing else', () => {
    fc.assert(
      fc.property(codes, fc.nat(), (code, at) => {
        const text = ticketText(code)
        const part = text.slice(0, 1 + (at % text.length))
        expect(beginsTicket(part)).toBe(true)
        expect(beginsTicket(`4${part}`)).toBe(false)
      }),
    )
    expect(beginsTicket('')).toBe(false)
  })

  it('of another studio is refused, and says so', () => {
    fc.assert(
      fc.property(codes, keys, (code, ours) => {
        fc.pre(ours !== code.studioKey)
        expect(codeOf(() => readTicket(ticketText(code), ours))).toBe('ticket-of-another-studio')
      }),
    )
  })

  it('refuses whatever is no ticket, and shows it', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        fc.pre(!isTicketLike(text))
        expect(codeOf(() => readTicket(text, '1A2F'))).toBe('no-ticket')
      }),
    )
    // GS1 General Specifications: 4006381333931 is a well-known sound EAN-13; the check digit is reckoned in gtin.
    expect(() => readTicket('4006381333931', '1A2F')).toThrow('“4006381333931” is no ticket')
  })

  it.each([
    'TURNSHEET.',
    'TURNSHEET.1A2F',
    'TURNSHEET.1A2F.',
    'TURNSHEET.1A2F.0',
    'TURNSHEET.1A2F.12x',
    'TURNSHEET.1A2F.1.0',
    'TURNSHEET.1A2.12',
  ])('that was not read whole is refused: %s', (text) => {
    expect(codeOf(() => readTicket(text, '1A2F'))).toBe('ticket-not-whole')
  })

  it('fits the smallest code up to spin 99,999, whose modules are the largest', () => {
    // ISO/IEC 18004, from memory: version 1 has 21 modules a side and holds 20 letters at level M, version 2 has 25 and
    // holds 38; letters of the alphanumeric set alone.
    const size = (shootId: number) => qrCode(ticketText({ studioKey: 'FFFF', shootId, product: null })).size
    expect(size(99_999)).toBe(21)
    expect(size(100_000)).toBe(25)
    expect(size(999_999_999_999)).toBe(25)
  })
})
