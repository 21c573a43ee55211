import { Refusal } from './refusal.ts'

/**
 * Minor-unit digits of ISO 4217 (list one, as of 2026, without metals, funds of banks and test codes). Not
 * taken from `Intl`, which rounds HUF, IDR, PKR and others to whole units where ISO 4217 keeps two digits.
 */
const codesByDigits: Readonly<Record<number, string>> = {
  0: 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF',
  2: `AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF
CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF
IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN
MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS
SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG`,
  3: 'BHD IQD JOD KWD LYD OMR TND',
  4: 'CLF UYW',
}

const digitsByCode: ReadonlyMap<string, number> = new Map(
  Object.entries(codesByDigits).flatMap(([digits, codes]) =>
    codes.split(/\s+/u).map((code): [string, number] => [code, Number(digits)]),
  ),
)

/** Every currency a studio can keep its books in, in order of code. */
export const currencyCodes: readonly string[] = [...digitsByCode.keys()].sort()

/** How many digits the currency's minor unit has: EUR 2, JPY 0, KWD 3. Refuses a code that ISO 4217 lacks. */
export function minorDigits(currency: string): number {
  const digits = digitsByCode.get(currency)
  if (digits === undefined) {
    throw new Refusal(
      'unknown-currency',
      `'${currency}' is not a currency code of ISO 4217. Enter three capital letters, such as EUR or GBP.`,
    )
  }
  return digits
}
