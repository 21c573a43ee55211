import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clientFigures, paperLocale } from '../../main/trade/paperFigures.ts'

/** With plain spaces and apostrophes, so that a change of the kind of no-break space is no change of meaning. */
function plain(text: string): string {
  return text.replaceAll(/\s/gu, ' ').replaceAll('’', "'")
}

describe('figures on a client’s paper', () => {
  // Unicode CLDR, common/main: de, de_AT, de_CH, en_GB, en_US; patterns of currencies, percent and long dates.
  it.each([
    ['de', 'DE', '1.234,50 €', '2,5', '7,7 %', '3. Mai 2026'],
    ['de', 'AT', '€ 1.234,50', '2,5', '7,7 %', '3. Mai 2026'],
    ['de', 'CH', "EUR 1'234.50", '2.5', '7.7%', '3. Mai 2026'],
    ['en', 'GB', '€1,234.50', '2.5', '7.7%', '3 May 2026'],
    ['en', 'US', '€1,234.50', '2.5', '7.7%', 'May 3, 2026'],
  ] as const)('are written for %s in %s as is usual there', (language, country, money, two, rate, day) => {
    const figures = clientFigures({ language, country })
    expect(plain(figures.money(123_450, 'EUR'))).toBe(money)
    expect(figures.quantity(2500)).toBe(two)
    expect(plain(figures.percent(77_000))).toBe(rate)
    expect(plain(figures.day('2026-05-03'))).toBe(day)
  })

  it('use one decimal mark for money, quantities and rates, wherever the client is', () => {
    const countries = ['DE', 'FR', 'NL', 'CH', 'PL', 'FI', 'SE', 'ZA', 'JP', 'US', 'GB', 'AT', 'IN', 'BR']
    fc.assert(
      fc.property(
        fc.constantFrom('en' as const, 'de' as const),
        fc.constantFrom(...countries),
        (language, country) => {
          const { money, quantity, percent } = clientFigures({ language, country })
          const marks = [money(50, 'EUR'), quantity(500), percent(5000)].map(
            (text) => /\d([.,])\d/u.exec(text)?.[1],
          )
          expect(new Set(marks).size).toBe(1)
        },
      ),
    )
  })

  it('fall back on British English where English money and quantities disagree', () => {
    // CLDR 48: en_DE writes '€1,234.50' and '1,5'.
    expect(paperLocale({ language: 'en', country: 'DE' })).toBe('en-GB')
    expect(paperLocale({ language: 'en', country: 'US' })).toBe('en-US')
  })

  it('say of a stretch of days once what both share', () => {
    // CLDR 48, intervalFormats of d MMMM y.
    expect(plain(clientFigures({ language: 'en', country: 'GB' }).days('2026-03-01', '2026-03-31'))).toBe(
      '1 – 31 March 2026',
    )
    expect(plain(clientFigures({ language: 'de', country: 'DE' }).days('2026-03-01', '2026-05-31'))).toBe(
      '1. März – 31. Mai 2026',
    )
  })

  it('keep every digit of the largest quantity, and write a true minus', () => {
    const { quantity } = clientFigures({ language: 'en', country: 'GB' })
    expect(quantity(Number.MAX_SAFE_INTEGER)).toBe('9,007,199,254,740.991')
    expect(quantity(-1500)).toBe('−1.5')
  })
})
