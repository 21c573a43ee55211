import fc from 'fast-check'
import jsQR from 'jsqr'
import { describe, expect, it } from 'vitest'
import { qrCode } from '../../main/papers/qr.ts'
import { epcPayload, type TransferToPay } from '../../main/trade/epcQr.ts'
import { creditorReference } from '../../main/trade/payment.ts'

const aTransfer: TransferToPay = {
  name: 'Kürbis & Söhne',
  // The example of the registry of ISO 13616.
  iban: 'DE89370400440532013000',
  bic: 'COBADEFFXXX',
  currency: 'EUR',
  amountMinor: 113_400,
  reference: creditorReference('I20260001'),
}

/** What a reader of another maker sees in the code, four pixels a module in the white that ISO/IEC 18004 asks for. */
function readBack(payload: string): string | undefined {
  const { size, isDark } = qrCode(payload)
  const [scale, quiet] = [4, 4]
  const side = (size + 2 * quiet) * scale
  const pixels = new Uint8ClampedArray(side * side * 4).fill(255)
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      const [column, line] = [Math.floor(x / scale) - quiet, Math.floor(y / scale) - quiet]
      if (column < 0 || line < 0 || column >= size || line >= size || !isDark(column, line)) continue
      pixels.fill(0, (y * side + x) * 4, (y * side + x) * 4 + 3)
    }
  }
  const read = jsQR(pixels, side, side)
  return read ? new TextDecoder().decode(new Uint8Array(read.binaryData)) : undefined
}

describe('the code by which a transfer in euro is started', () => {
  it('holds its elements in their order', () => {
    // EPC069-12 version 002, from memory: service tag, version, character set, identification, BIC, name, IBAN,
    // amount, purpose, structured reference.
    expect(epcPayload(aTransfer)?.split('\n')).toEqual([
      'BCD',
      '002',
      '1',
      'SCT',
      'COBADEFFXXX',
      'Kürbis & Söhne',
      'DE89370400440532013000',
      'EUR1134.00',
      '',
      aTransfer.reference,
    ])
  })

  it('is read back to the letter, and is no larger than version 13', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }).filter((name) => name.trim() !== ''),
        fc.integer({ min: 1, max: 99_999_999_999 }),
        (name, amountMinor) => {
          const payload = epcPayload({ ...aTransfer, name, amountMinor })
          if (payload === null) throw new Error('This can be paid.')
          // ISO/IEC 18004: version v has 17 + 4v modules a side.
          expect(qrCode(payload).size).toBeLessThanOrEqual(17 + 4 * 13)
          expect(readBack(payload)).toBe(payload)
        },
      ),
      { numRuns: 25, endOnFailure: true },
    )
  })

  it('is left out where a transfer in euro could not carry it', () => {
    // From memory: 0.01 to 999,999,999.99 euro; accounts of the single euro payments area.
    const cases: readonly Partial<TransferToPay>[] = [
      { amountMinor: 0 },
      { amountMinor: -100 },
      { amountMinor: 100_000_000_000 },
      { currency: 'CHF' },
      { iban: null },
      { iban: 'AE070331234567890123456' },
    ]
    for (const part of cases) expect(epcPayload({ ...aTransfer, ...part })).toBeNull()
    expect(epcPayload({ ...aTransfer, amountMinor: 99_999_999_999 })).toContain('\nEUR999999999.99\n')
  })

  it('does without a BIC and a reference, and cuts a name that is too long', () => {
    const bare = epcPayload({ ...aTransfer, bic: null, reference: null, name: 'ß'.repeat(80) })
    expect(bare?.split('\n').slice(4)).toEqual(['', 'ß'.repeat(70), 'DE89370400440532013000', 'EUR1134.00'])
    const wide = epcPayload({ ...aTransfer, name: '\u{20000}'.repeat(70) }) ?? ''
    // What version 13 holds at level M in octets (ISO/IEC 18004, from memory).
    expect(new TextEncoder().encode(wide).length).toBeLessThanOrEqual(331)
    expect(readBack(wide)).toBe(wide)
  })
})
