/** The columns of a product list that can be read, in the order in which a person is asked about them. */
export const productColumns = [
  'code',
  'name',
  'variant',
  'family',
  'width',
  'depth',
  'height',
  'diameter',
  'mass',
  'plan',
  'finish',
  'gtin',
] as const
export type ProductColumn = (typeof productColumns)[number]

export type SizeUnit = 'mm' | 'cm' | 'in'
export type MassUnit = 'g' | 'kg'

/** Where a column stands in the file (from 0), and its unit where the header names one. */
export interface MatchedColumn {
  readonly index: number
  readonly unit: SizeUnit | MassUnit | null
}

export type ColumnMatch = Readonly<Partial<Record<ProductColumn, MatchedColumn>>>

/** Headers in English and German, without units, capitals, accents and punctuation. */
const headers: Readonly<Record<ProductColumn, readonly string[]>> = {
  code: [
    'code',
    'product code',
    'item code',
    'article',
    'article number',
    'article no',
    'item',
    'item number',
    'item no',
    'sku',
    'artikelnummer',
    'artikelnr',
    'artikel nr',
    'artikel',
    'artnr',
    'art nr',
    'nummer',
  ],
  name: [
    'name',
    'product',
    'product name',
    'title',
    'description',
    'item name',
    'bezeichnung',
    'artikelbezeichnung',
    'produkt',
    'produktname',
    'beschreibung',
    'titel',
  ],
  variant: [
    'variant',
    'colour',
    'color',
    'size',
    'version',
    'variante',
    'farbe',
    'grosse',
    'groesse',
    'ausfuhrung',
    'ausfuehrung',
  ],
  family: [
    'family',
    'range',
    'group',
    'product family',
    'product group',
    'collection',
    'line',
    'familie',
    'produktfamilie',
    'serie',
    'gruppe',
    'warengruppe',
    'kollektion',
    'linie',
  ],
  width: ['width', 'w', 'breite', 'b'],
  depth: ['depth', 'length', 'd', 'l', 'tiefe', 'lange', 'laenge', 't'],
  height: ['height', 'h', 'hohe', 'hoehe'],
  diameter: ['diameter', 'dia', 'o', 'durchmesser', 'dm'],
  mass: ['mass', 'weight', 'net weight', 'gross weight', 'masse', 'gewicht', 'nettogewicht', 'bruttogewicht'],
  plan: ['plan', 'shape', 'outline', 'plan shape', 'grundriss', 'form'],
  finish: ['finish', 'surface', 'oberflache', 'oberflaeche'],
  gtin: ['gtin', 'ean', 'ean 13', 'ean13', 'upc', 'gtin 13', 'barcode', 'ean code', 'strichcode'],
}

const units: Readonly<Record<string, SizeUnit | MassUnit>> = {
  mm: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  cm: 'cm',
  centimetre: 'cm',
  centimetres: 'cm',
  centimeter: 'cm',
  zentimeter: 'cm',
  in: 'in',
  inch: 'in',
  inches: 'in',
  zoll: 'in',
  g: 'g',
  gr: 'g',
  gram: 'g',
  grams: 'g',
  gramm: 'g',
  kg: 'kg',
  kilogram: 'kg',
  kilograms: 'kg',
  kilo: 'kg',
  kilogramm: 'kg',
}

/**
 * Matches the headers of a product list to the columns Turnsheet knows, each at most once and the first that
 * fits; what matches nothing is left for the person to match by hand. A unit in the header ('Width (mm)',
 * 'Breite [cm]', 'weight_kg', 'Height in') is taken where it fits the column.
 */
export function matchColumns(fileHeaders: readonly string[]): ColumnMatch {
  const match: Partial<Record<ProductColumn, MatchedColumn>> = {}
  fileHeaders.forEach((header, index) => {
    const { words, unit } = plainHeader(header)
    const column = productColumns.find((each) => match[each] === undefined && headers[each].includes(words))
    if (column) match[column] = { index, unit: unit !== null && unitFits(column, unit) ? unit : null }
  })
  return match
}

/** True for lengths in a size column and masses in the mass column. */
export function unitFits(column: ProductColumn, unit: SizeUnit | MassUnit): boolean {
  if (column === 'mass') return unit === 'g' || unit === 'kg'
  return isSizeColumn(column) && unit !== 'g' && unit !== 'kg'
}

export function isSizeColumn(column: ProductColumn): boolean {
  return column === 'width' || column === 'depth' || column === 'height' || column === 'diameter'
}

function plainHeader(header: string): { words: string; unit: SizeUnit | MassUnit | null } {
  const words = header
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[øØ]/gu, 'o')
    .toLowerCase()
    .replace(/ß/gu, 'ss')
    .replace(/["”″]/gu, ' in')
    .split(/[^a-z0-9]+/u)
    .filter((word) => word !== '')
  const unit = words.length > 1 ? (units[words.at(-1) ?? ''] ?? null) : null
  if (unit === null) return { words: words.join(' '), unit }
  // 'height in cm': the word before the unit is only the bridge to it.
  const bare = words.slice(0, -1)
  if (bare.length > 1 && bare.at(-1) === 'in') bare.pop()
  return { words: bare.join(' '), unit }
}
