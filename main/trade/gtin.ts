import { Refusal } from './refusal.ts'

/** The check digit that completes a GTIN of 8, 12, 13 or 14 digits: weights 3 and 1 from the right (GS1). */
export function gtinCheckDigit(digits: string): number {
  if (!/^\d{7,17}$/u.test(digits)) throw new Error(`gtinCheckDigit: '${digits}'`)
  const sum = [...digits]
    .reverse()
    .reduce((total, digit, index) => total + Number(digit) * (index % 2 === 0 ? 3 : 1), 0)
  return (10 - (sum % 10)) % 10
}

/** The article number in its compact form; refuses what is no GTIN (8, 12, 13 or 14 digits with a fitting check digit). */
export function checkedGtin(text: string): string {
  const gtin = text.replace(/[\s-]/gu, '')
  const field = { field: 'gtin' }
  if (/^\d[.,]\d+e\+?\d+$/iu.test(gtin)) {
    throw new Refusal(
      'bad-gtin',
      `'${text}' has lost digits: a spreadsheet rounded it. Format the column as text and export it again.`,
      field,
    )
  }
  if (!/^(?:\d{8}|\d{12,14})$/u.test(gtin)) {
    throw new Refusal(
      'bad-gtin',
      `'${text}' is no article number (GTIN). It has 8, 12, 13 or 14 digits.`,
      field,
    )
  }
  const check = gtinCheckDigit(gtin.slice(0, -1))
  if (check !== Number(gtin.at(-1))) {
    throw new Refusal(
      'bad-gtin',
      `The last digit of article number ${gtin} should be ${check}. A digit is wrong or swapped.`,
      field,
    )
  }
  return gtin
}

/** True where the text is a GTIN in its compact form: 8, 12, 13 or 14 digits, the last of them fitting. */
export function isGtin(text: string): boolean {
  return /^(?:\d{8}|\d{12,14})$/u.test(text) && gtinCheckDigit(text.slice(0, -1)) === Number(text.at(-1))
}
