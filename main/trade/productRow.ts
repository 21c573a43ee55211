import { readDecimal } from './decimal.ts'
import { checkedGtin } from './gtin.ts'
import type { Finish, Plan } from './product.ts'
import type { ColumnMatch, MassUnit, ProductColumn, SizeUnit } from './productColumns.ts'
import { Refusal } from './refusal.ts'

/** A product as a row of a list describes it: lengths in micrometres, mass in grams, null where unknown. */
export interface ProductDraft {
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly family: string | null
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly plan: Plan
  readonly massG: number | null
  readonly finish: Finish
  readonly gtin: string | null
}

/** What keeps a row from being taken: the column and a sentence. */
export interface RowProblem {
  readonly column: ProductColumn
  readonly reason: string
}

export type ReadRow =
  | { readonly product: ProductDraft; readonly problems?: undefined }
  | { readonly product?: undefined; readonly problems: readonly RowProblem[] }

/** How the file writes what its headers do not say. */
export interface RowReading {
  readonly sizeUnit: SizeUnit
  readonly massUnit: MassUnit
  readonly mark: '.' | ','
}

/**
 * Reads one row of a product list. A unit in the cell ('12,5 cm') goes before that of the header, and that
 * before the file's. A row without a name is named by its code; finish and plan are matt and box where the
 * row says nothing, and round where it gives a diameter. A row with problems gives all of them at once.
 */
export function readProductRow(cells: readonly string[], columns: ColumnMatch, reading: RowReading): ReadRow {
  const problems: RowProblem[] = []
  const cell = (column: ProductColumn) => cells[columns[column]?.index ?? -1]?.trim() ?? ''
  function read<T>(column: ProductColumn, reader: (text: string) => T): T | null {
    const text = cell(column)
    if (text === '') return null
    try {
      return reader(text)
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      problems.push({ column, reason: error.message })
      return null
    }
  }
  const size = (column: ProductColumn) =>
    read(column, (text) => readSize(text, column, columns[column]?.unit ?? null, reading))

  const code = cell('code')
  if (code === '')
    problems.push({
      column: 'code',
      reason: 'The code is missing. Every product needs the client’s own code.',
    })
  const diameterUm = size('diameter')
  const product: ProductDraft = {
    code,
    name: cell('name') || code,
    variant: cell('variant') || null,
    family: cell('family') || null,
    widthUm: size('width') ?? diameterUm,
    depthUm: size('depth') ?? diameterUm,
    heightUm: size('height'),
    plan: read('plan', readPlan) ?? (diameterUm === null ? 'box' : 'round'),
    massG: read('mass', (text) => readMass(text, columns.mass?.unit ?? null, reading)),
    finish: read('finish', readFinish) ?? 'matt',
    gtin: read('gtin', checkedGtin),
  }
  return problems.length > 0 ? { problems } : { product }
}

/** The file's decimal mark: a comma where some number can only be read with one ('12,5'), else a point. */
export function guessDecimalMark(cells: readonly string[]): '.' | ',' {
  const comma = cells.some(
    (cell) => /^\s*\d+,(?:\d{1,2}|\d{4,})\s*[a-z]*\s*$/iu.test(cell) || /^\s*\d{1,3}\.\d{3},\d/u.test(cell),
  )
  const point = cells.some(
    (cell) => /^\s*\d+\.(?:\d{1,2}|\d{4,})\s*[a-z]*\s*$/iu.test(cell) || /^\s*\d{1,3},\d{3}\.\d/u.test(cell),
  )
  return comma && !point ? ',' : '.'
}

const umPer: Record<SizeUnit, bigint> = { mm: 1000n, cm: 10_000n, in: 25_400n }
const gPer: Record<MassUnit, bigint> = { g: 1n, kg: 1000n }

function readSize(
  text: string,
  column: ProductColumn,
  header: SizeUnit | MassUnit | null,
  reading: RowReading,
): number {
  const { number, unit } = splitUnit(text)
  const known = unit ?? header ?? reading.sizeUnit
  if (!(known in umPer)) throw new Refusal('bad-unit', `'${text}' is no length. Give it in mm, cm or in.`)
  const um = scaled(number, umPer[known as SizeUnit], reading.mark, `The ${column}`)
  // From 0.1 mm to 10 m: what lies outside is a wrong unit or a slipped mark.
  if (um < 100 || um > 10_000_000) {
    throw new Refusal(
      'size-out-of-range',
      `The ${column}, ${text}, comes to ${um / 1000} mm. Check its unit; sizes go from 0.1 mm to 10 m.`,
    )
  }
  return um
}

function readMass(text: string, header: SizeUnit | MassUnit | null, reading: RowReading): number {
  const { number, unit } = splitUnit(text)
  const known = unit ?? header ?? reading.massUnit
  if (!(known in gPer)) throw new Refusal('bad-unit', `'${text}' is no mass. Give it in g or kg.`)
  const grams = scaled(number, gPer[known as MassUnit], reading.mark, 'The mass')
  if (grams < 0 || grams > 2_000_000) {
    throw new Refusal(
      'mass-out-of-range',
      `The mass, ${text}, comes to ${grams / 1000} kg. Check its unit; masses go up to 2,000 kg.`,
    )
  }
  return grams
}

function splitUnit(text: string): { number: string; unit: SizeUnit | MassUnit | null } {
  const [, number = text, unit] = /^(.*?)\s*(mm|cm|in|kg|g|["”″])$/iu.exec(text) ?? []
  if (unit === undefined) return { number, unit: null }
  return { number, unit: /["”″]/u.test(unit) ? 'in' : (unit.toLowerCase() as SizeUnit | MassUnit) }
}

/** A decimal ('12,5') or a mixed fraction ('3 1/2') times a unit, rounded once to the smaller unit. */
function scaled(text: string, per: bigint, mark: '.' | ',', what: string): number {
  const [, whole, over, under] = /^(?:(\d{1,6})[\s-]+)?(\d{1,6})\s*[/⁄]\s*(\d{1,6})$/u.exec(text) ?? []
  const denominator = over === undefined ? 1_000_000n : BigInt(under ?? 0)
  if (denominator === 0n)
    throw new Refusal('not-a-number', `${what}, '${text}', divides by 0. Enter it as a decimal.`)
  const numerator =
    over === undefined
      ? BigInt(readDecimal(text, 6, what, mark))
      : BigInt(whole ?? 0) * denominator + BigInt(over)
  return Number((2n * numerator * per + denominator) / (2n * denominator))
}

const finishWords: Readonly<Record<Finish, readonly string[]>> = {
  matt: ['matt', 'matte', 'mat', 'rough', 'rau'],
  satin: ['satin', 'semi matt', 'semi-matt', 'silk', 'seidenmatt', 'seidig'],
  gloss: ['gloss', 'glossy', 'shiny', 'lacquered', 'glanz', 'glänzend', 'glaenzend', 'lackiert'],
  mirror: ['mirror', 'chrome', 'polished', 'spiegel', 'spiegelnd', 'verchromt', 'poliert'],
  clear: ['clear', 'glass', 'transparent', 'klar', 'glas', 'durchsichtig'],
  textile: ['textile', 'fabric', 'cloth', 'textil', 'stoff'],
}

const planWords: Readonly<Record<Exclude<Plan, 'measured'>, readonly string[]>> = {
  round: ['round', 'circular', 'circle', 'cylinder', 'rund', 'kreis', 'zylinder'],
  box: ['box', 'square', 'rectangular', 'rectangle', 'eckig', 'quadratisch', 'rechteckig', 'quader'],
}

function readFinish(text: string): Finish {
  return wordIn(finishWords, text) ?? refuseWord('finish', text, Object.keys(finishWords))
}

function readPlan(text: string): Plan {
  return wordIn(planWords, text) ?? refuseWord('plan shape', text, Object.keys(planWords))
}

function wordIn<T extends string>(
  words: Readonly<Record<T, readonly string[]>>,
  text: string,
): T | undefined {
  const wanted = text.toLowerCase()
  return (Object.keys(words) as T[]).find((key) => words[key].includes(wanted))
}

function refuseWord(what: string, text: string, known: readonly string[]): never {
  throw new Refusal(
    'unknown-word',
    `'${text}' is no ${what} known here. Use ${known.join(', ')}, or leave it empty.`,
  )
}
