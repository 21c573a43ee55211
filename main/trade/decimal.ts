import { Refusal } from './refusal.ts'

type Mark = '.' | ','

const groupSpaces = /(?<=\d)[\s\u00a0\u202f'’](?=\d)/gu

/**
 * Reads a typed decimal number exactly, as a whole number of the last allowed place: `readDecimal('2.5', 3,
 * 'The quantity')` is 2500. Takes '52', '1,234.50', '1.234,50', '12,5', '1 234', '−3'. One separator that is
 * not the decimal mark and has exactly three digits after it parts thousands ('1,220' is 1220); anything
 * else it is taken for the mark.
 * Refuses what is no number, more places than `places` (zeros at the end are free) and what is too large to
 * be held exactly.
 * @param places  how many places after the mark may carry a digit
 * @param what    how the sentence names the value: 'The price'
 * @param mark    the decimal mark where both readings are possible
 */
export function readDecimal(text: string, places: number, what: string, mark: Mark = '.'): number {
  const typed = text.trim()
  const [, sign = '', body = ''] = /^([-+−]?)\s*(.*)$/su.exec(typed) ?? []
  const [whole, part] = splitAtMark(body.replace(groupSpaces, ''), mark) ?? notANumber(typed, what)
  const used = part.replace(/0+$/u, '')
  if (used.length > places) {
    const allowed = places === 0 ? 'none' : `at most ${places}`
    throw new Refusal(
      'too-many-places',
      `${what}, ${typed}, has ${used.length} digits after the decimal mark; ${allowed} can be kept. Round it first.`,
    )
  }
  const units = Number(`${whole}${used.padEnd(places, '0')}`)
  if (!Number.isSafeInteger(units)) {
    throw new Refusal(
      'too-large',
      `${what}, ${typed}, is too large to be held exactly. Enter a smaller number.`,
    )
  }
  return (sign === '-' || sign === '−') && units !== 0 ? -units : units
}

/** The digits before and after the decimal mark, or nothing where the text is no plain number. */
function splitAtMark(body: string, mark: Mark): [string, string] | undefined {
  if (!/^[\d.,]+$/u.test(body) || !/\d/u.test(body)) return undefined
  const lastDot = body.lastIndexOf('.')
  const lastComma = body.lastIndexOf(',')
  const last = Math.max(lastDot, lastComma)
  if (last < 0) return [body, '']
  const separator = body[last] as Mark
  const other: Mark = separator === '.' ? ',' : '.'
  const partsThousands =
    !body.includes(other) &&
    (body.indexOf(separator) !== last || (separator !== mark && /^[1-9]\d{0,2}[.,]\d{3}$/u.test(body)))
  const whole = partsThousands ? body : body.slice(0, last)
  const grouping = partsThousands ? separator : other
  const plain = ungroup(whole, grouping)
  if (plain === undefined) return undefined
  return [plain, partsThousands ? '' : body.slice(last + 1)]
}

/** The digits without their thousands separator, or nothing where a group is not three digits long. */
function ungroup(whole: string, separator: Mark): string | undefined {
  if (/^\d*$/u.test(whole)) return whole
  const groups = whole.split(separator)
  const wellGrouped = groups.every((group, index) => (index === 0 ? /^\d{1,3}$/u : /^\d{3}$/u).test(group))
  return wellGrouped ? groups.join('') : undefined
}

function notANumber(typed: string, what: string): never {
  throw new Refusal(
    'not-a-number',
    typed === ''
      ? `${what} is missing. Enter a number such as 12.5.`
      : `${what}, '${typed}', is not a number. Enter digits with at most one decimal mark, such as 1,234.50.`,
  )
}

/**
 * Writes a whole number of the last place as a decimal for the screen: `formatDecimal(12_205, 1)` is
 * '1,220.5'. Zeros at the end are dropped down to `minPlaces`; thousands are parted by commas, and the minus
 * is the true one (U+2212), which is as wide as a digit.
 */
export function formatDecimal(units: number, places: number, minPlaces = 0): string {
  const digits = String(Math.abs(units)).padStart(places + 1, '0')
  const whole = digits.slice(0, digits.length - places).replace(/\B(?=(\d{3})+$)/gu, ',')
  let part = places === 0 ? '' : digits.slice(-places)
  while (part.length > minPlaces && part.endsWith('0')) part = part.slice(0, -1)
  return `${units < 0 ? '−' : ''}${whole}${part === '' ? '' : `.${part}`}`
}
