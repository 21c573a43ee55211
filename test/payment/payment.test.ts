import fc from 'fast-check'
import { getCountrySpecifications, isValidBIC, isValidIBAN } from 'ibantools'
import iso11649 from 'iso-11649'
import { describe, expect, it } from 'vitest'
import {
  checkedBic,
  checkedIban,
  creditorReference,
  formatIban,
  isCreditorReference,
} from '../../main/trade/payment.ts'

describe('IBAN', () => {
  it('takes the examples of the registry', () => {
    // ISO 13616 IBAN registry, examples of six countries (gocardless/ibandit, data/raw/IBAN_Registry.txt), and
    // the Dutch one worked by hand on micronations.wiki.
    for (const iban of [
      'GB29NWBK60161331926819',
      'DE89370400440532013000',
      'IE29AIBK93115212345678',
      'NL91ABNA0417164300',
      'BE68539007547034',
      'MT84MALT011000012345MTLCAST001S',
      'NL20INGB0001234567',
    ]) {
      expect(checkedIban(formatIban(iban).toLowerCase())).toBe(iban)
    }
    expect(formatIban('DE89370400440532013000')).toBe('DE89 3704 0044 0532 0130 00')
  })

  it('finds every single wrong digit and every swap of neighbours in the British example', () => {
    // ISO 7064 MOD 97-10 finds all single errors and swaps of neighbours.
    const good = 'GB29NWBK60161331926819'
    const at = fc.integer({ min: 8, max: good.length - 1 })
    fc.assert(
      fc.property(at, fc.integer({ min: 0, max: 9 }), (index, digit) => {
        fc.pre(good[index] !== String(digit))
        expect(() => checkedIban(good.slice(0, index) + digit + good.slice(index + 1))).toThrow(
          'check digits',
        )
      }),
    )
    for (let i = 8; i < good.length - 1; i += 1) {
      const swapped = good.slice(0, i) + good[i + 1] + good[i] + good.slice(i + 2)
      if (swapped !== good) expect(() => checkedIban(swapped)).toThrow('check digits')
    }
  })

  it('agrees with the reference library in every country of the registry', () => {
    // ibantools 4.5.4 passes all 89 examples of the registry (ISO 13616); its table gives each country's form.
    const registry = Object.entries(getCountrySpecifications()).filter(([, { IBANRegistry }]) => IBANRegistry)
    expect(registry.length).toBeGreaterThanOrEqual(85)
    for (const [countryCode, { chars, bban_regexp: form }] of registry) {
      const bban = fc.stringMatching(new RegExp(`^(?:${form?.replace(/^\^|\$$/gu, '')})$`, 'u'))
      fc.assert(
        fc.property(bban, fc.nat(chars ?? 34), fc.constantFrom(...'0123456789'), (text, at, digit) => {
          const iban = ibanOf(countryCode, text)
          expect(iban, countryCode).toHaveLength(chars ?? 0)
          expect(checkedIban(formatIban(iban))).toBe(iban)
          // A wrong digit is found by both, or by neither where it was the right one.
          const other = iban.slice(0, at) + digit + iban.slice(at + 1)
          if (isValidIBAN(other)) expect(checkedIban(other)).toBe(other)
          if (at >= 4 && /\d/u.test(iban[at] ?? '') && iban[at] !== digit) {
            expect(() => checkedIban(other)).toThrow('check digits')
          }
        }),
        { numRuns: 20 },
      )
    }
  })

  it('knows the length of every country of the single euro payments area', () => {
    for (const [country, { chars = 0, SEPA, IBANRegistry }] of Object.entries(getCountrySpecifications())) {
      if (!SEPA || !IBANRegistry || !chars) continue
      const long = `${country}00${'0'.repeat(chars - 3)}`
      expect(() => checkedIban(long), country).toThrow(`has ${chars} characters; this has ${chars + 1}`)
    }
  })

  it('says what is wrong', () => {
    expect(() => checkedIban('DE8937040044053201300')).toThrow('An IBAN of DE has 22 characters; this has 21')
    expect(() => checkedIban('12345')).toThrow('is no IBAN')
    expect(() => checkedIban('')).toThrow('is no IBAN')
  })
})

/** The account number with its check digits, by ISO 7064 in whole numbers: 98 less the remainder by 97. */
function ibanOf(country: string, bban: string): string {
  const digits = [...`${bban}${country}00`].map((each) => Number.parseInt(each, 36)).join('')
  return `${country}${String(98n - (BigInt(digits) % 97n)).padStart(2, '0')}${bban}`
}

describe('BIC', () => {
  it('is what the reference library takes for one, of a country that there is', () => {
    // ISO 9362 as ibantools 4.5.4 reads it.
    const part = (length: number, letters: string) =>
      fc.string({ minLength: length, maxLength: length, unit: fc.constantFrom(...letters) })
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'
    const countries = fc.constantFrom('DE', 'IE', 'CH', 'US', 'GB', 'XK', 'ZZ', 'QQ', 'FR', 'JP')
    fc.assert(
      fc.property(
        fc.tuple(part(4, letters), countries, part(2, `${letters}23456789`)),
        fc.option(part(3, `${letters}0123456789`)),
        ([bank, country, place], branch) => {
          const bic = `${bank}${country}${place}${branch ?? ''}`
          if (isValidBIC(bic)) expect(checkedBic(bic.toLowerCase())).toBe(bic)
          else expect(() => checkedBic(bic)).toThrow('that there is not')
        },
      ),
    )
    expect(() => checkedBic('ABC')).toThrow('is no BIC')
  })
})

describe('creditor references', () => {
  it('have the published check digits', () => {
    // ISO 11649 annex B.1 as quoted by the wiki of homebeaver/ungueltig: 2348231 → RF712348231.
    expect(creditorReference('2348231')).toBe('RF712348231')
    // Agree with the packages iso-11649 1.0.1 and node-iso11649 2.1.2.
    expect(creditorReference('20260042')).toBe('RF8820260042')
    expect(creditorReference('INV-2026/0042')).toBe('RF73INV20260042')
    expect(creditorReference('1')).toBe('RF741')
    expect(creditorReference('9'.repeat(21)).slice(0, 4)).toBe('RF12')
  })

  it('are told from wrong ones', () => {
    // RF18… valid, RF17… invalid: python-stdnum, module iso11649; RF2012345678: maric.info.
    expect(isCreditorReference('RF18 5390 0754 7034')).toBe(true)
    expect(isCreditorReference('RF17 5390 0754 7034')).toBe(false)
    expect(isCreditorReference('RF2012345678')).toBe(true)
    expect(isCreditorReference('RF18')).toBe(false)
    expect(isCreditorReference('')).toBe(false)
  })

  it('fit whatever number they are made of', () => {
    const text = fc.string({
      minLength: 1,
      maxLength: 21,
      unit: fc.constantFrom(...'0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'),
    })
    fc.assert(
      fc.property(text, (reference) => {
        const made = creditorReference(reference)
        expect(isCreditorReference(made)).toBe(true)
        // Reference: iso-11649 1.0.1.
        expect(iso11649.validate(made)).toBe(true)
      }),
    )
    expect(() => creditorReference('--')).toThrow('has 0')
    expect(() => creditorReference('1'.repeat(22))).toThrow('has 22')
  })
})
