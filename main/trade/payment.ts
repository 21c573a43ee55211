import { isCountryCode } from './countries.ts'
import { Refusal } from './refusal.ts'

/**
 * IBAN lengths of the countries of the single euro payments area (ISO 13616 registry). Other countries are
 * checked by their check digits alone, since a length typed wrong here would refuse a good account.
 */
const ibanLengths: Readonly<Record<string, number>> = {
  AD: 24,
  AT: 20,
  BE: 16,
  BG: 22,
  CH: 21,
  CY: 28,
  CZ: 24,
  DE: 22,
  DK: 18,
  EE: 20,
  ES: 24,
  FI: 18,
  FR: 27,
  GB: 22,
  GI: 23,
  GR: 27,
  HR: 21,
  HU: 28,
  IE: 22,
  IS: 26,
  IT: 27,
  LI: 21,
  LT: 20,
  LU: 20,
  LV: 21,
  MC: 27,
  MT: 31,
  NL: 18,
  NO: 15,
  PL: 28,
  PT: 25,
  RO: 24,
  SE: 24,
  SI: 19,
  SK: 24,
  SM: 27,
  VA: 22,
}

/** The account number in its compact form; refuses what is no IBAN (ISO 13616), saying why. */
export function checkedIban(text: string): string {
  const iban = text.replace(/[\s\u00a0]/gu, '').toUpperCase()
  const field = { field: 'iban' }
  if (!/^[A-Z]{2}\d{2}[A-Z0-9]{11,30}$/u.test(iban)) {
    throw new Refusal(
      'bad-iban',
      `'${text.trim()}' is no IBAN. It begins with two letters and two digits, such as DE89.`,
      field,
    )
  }
  const country = iban.slice(0, 2)
  const length = ibanLengths[country]
  if (length !== undefined && iban.length !== length) {
    throw new Refusal(
      'bad-iban',
      `An IBAN of ${country} has ${length} characters; this has ${iban.length}. Compare it again.`,
      field,
    )
  }
  if (mod97(iban.slice(4) + iban.slice(0, 4)) !== 1) {
    throw new Refusal(
      'bad-iban',
      `The check digits of IBAN ${formatIban(iban)} do not fit. A character is wrong or swapped.`,
      field,
    )
  }
  return iban
}

/**
 * A BIC in its compact form (ISO 9362): four letters or digits, the country, two for the place, three more for a branch.
 * Refuses what is none, saying why; whether a bank has it only the bank knows.
 */
export function checkedBic(text: string): string {
  const bic = text.replace(/[\s\u00a0]/gu, '').toUpperCase()
  const field = { field: 'bic' }
  if (!/^[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}([A-Z0-9]{3})?$/u.test(bic)) {
    throw new Refusal(
      'bad-bic',
      `'${text.trim()}' is no BIC. It has 8 or 11 letters and digits, such as ABCDDEFF.`,
      field,
    )
  }
  const country = bic.slice(4, 6)
  // XK is no code of ISO 3166-1, but banks of Kosovo bear it.
  if (!isCountryCode(country) && country !== 'XK') {
    throw new Refusal(
      'bad-bic',
      `BIC ${bic} names a country ${country} that there is not, in its fifth and sixth place. Compare it again.`,
      field,
    )
  }
  return bic
}

/** True of an account in a country of the single euro payments area, which SEPA credit transfers reach. */
export function isSepaIban(iban: string): boolean {
  return ibanLengths[iban.slice(0, 2)] === iban.length
}

/** An IBAN in groups of four, as it is printed. */
export function formatIban(iban: string): string {
  return iban.replace(/(.{4})(?=.)/gu, '$1 ')
}

/**
 * A structured creditor reference (ISO 11649) of letters and digits: 'RF', two check digits, the reference.
 * Everything else in the text is left out: 'INV-2026/0042' becomes 'RF73INV20260042'. Refuses a reference that
 * leaves nothing or more than 21 characters.
 */
export function creditorReference(text: string): string {
  const reference = text.toUpperCase().replace(/[^A-Z0-9]/gu, '')
  if (reference.length < 1 || reference.length > 21) {
    throw new Refusal(
      'bad-reference',
      `A payment reference is made of 1 to 21 letters and digits; '${text}' has ${reference.length}. Shorten the number's pattern.`,
    )
  }
  const check = 98 - mod97(`${reference}RF00`)
  return `RF${String(check).padStart(2, '0')}${reference}`
}

/** True where the text, without its spaces, is a creditor reference with fitting check digits (ISO 11649). */
export function isCreditorReference(text: string): boolean {
  const compact = text.replace(/\s/gu, '').toUpperCase()
  return /^RF\d{2}[A-Z0-9]{1,21}$/u.test(compact) && mod97(compact.slice(4) + compact.slice(0, 4)) === 1
}

/**
 * The remainder by 97 of a text of digits and letters, A as 10 to Z as 35 (ISO 7064 MOD 97-10). Worked piece
 * by piece, because the number is too long for exact floating point.
 */
function mod97(text: string): number {
  let remainder = 0
  for (const character of text) {
    for (const digit of Number.parseInt(character, 36).toString()) {
      remainder = (remainder * 10 + Number(digit)) % 97
    }
  }
  return remainder
}
