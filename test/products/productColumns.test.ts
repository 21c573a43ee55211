import { describe, expect, it } from 'vitest'
import { matchColumns } from '../../main/trade/productColumns.ts'
import { guessDecimalMark, type RowReading, readProductRow } from '../../main/trade/productRow.ts'

const metric: RowReading = { sizeUnit: 'mm', massUnit: 'g', mark: '.' }

describe('matching the headers of a product list', () => {
  it('knows English headers with their units', () => {
    expect(
      matchColumns([
        'SKU',
        'Product name',
        'Width (mm)',
        'depth_cm',
        'Height in',
        'Weight [kg]',
        'EAN-13',
        'Notes',
      ]),
    ).toEqual({
      code: { index: 0, unit: null },
      name: { index: 1, unit: null },
      width: { index: 2, unit: 'mm' },
      depth: { index: 3, unit: 'cm' },
      height: { index: 4, unit: 'in' },
      mass: { index: 5, unit: 'kg' },
      gtin: { index: 6, unit: null },
    })
  })

  it('knows German headers', () => {
    expect(
      matchColumns([
        'Artikel-Nr.',
        'Bezeichnung',
        'Breite in cm',
        'Tiefe',
        'Höhe (mm)',
        'Gewicht, g',
        'Oberfläche',
        'Serie',
        'Ø [mm]',
      ]),
    ).toEqual({
      code: { index: 0, unit: null },
      name: { index: 1, unit: null },
      width: { index: 2, unit: 'cm' },
      depth: { index: 3, unit: null },
      height: { index: 4, unit: 'mm' },
      mass: { index: 5, unit: 'g' },
      finish: { index: 6, unit: null },
      family: { index: 7, unit: null },
      diameter: { index: 8, unit: 'mm' },
    })
  })

  it('takes each column once, the first that fits, and no unit that does not fit', () => {
    expect(matchColumns(['Name', 'Product', 'Width kg'])).toEqual({
      name: { index: 0, unit: null },
      width: { index: 2, unit: null },
    })
    expect(matchColumns(['', '???', 'Price'])).toEqual({})
  })
})

describe('reading a row', () => {
  const columns = matchColumns(['code', 'name', 'width', 'depth', 'height', 'mass', 'finish', 'plan', 'gtin'])

  it('makes a product of it', () => {
    const row = ['TK-104', 'Teapot', '220', '140.5', '16 cm', '1.2 kg', 'glossy', 'round', '4006381333931']
    expect(readProductRow(row, columns, metric).product).toEqual({
      code: 'TK-104',
      name: 'Teapot',
      variant: null,
      family: null,
      widthUm: 220_000,
      depthUm: 140_500,
      heightUm: 160_000,
      plan: 'round',
      massG: 1200,
      finish: 'gloss',
      gtin: '4006381333931',
    })
  })

  it('reads sizes in inches, as decimals and as fractions, by the definition of the inch', () => {
    // 1 in = 25.4 mm exactly: 3 1/2 in = 88.9 mm, 1/2 in = 12.7 mm, 3.5 in = 88.9 mm, 1 1/16 in = 26.9875 mm.
    const width = (text: string) =>
      readProductRow(['A', '', text], columns, { ...metric, sizeUnit: 'in' }).product?.widthUm
    expect(['3 1/2', '3-1/2', '1/2', '3.5', '3 1/2"', '1 1/16'].map(width)).toEqual([
      88_900, 88_900, 12_700, 88_900, 88_900, 26_988,
    ])
  })

  it('reads decimals with a comma where the file is German', () => {
    const width = (text: string, mark: '.' | ',') =>
      readProductRow(['A', '', text], columns, { ...metric, sizeUnit: 'cm', mark }).product?.widthUm
    expect(width('12,5', '.')).toBe(125_000)
    expect(width('1.205', ',')).toBeUndefined()
    expect(width('1,205', ',')).toBe(12_050)
    expect(guessDecimalMark(['Topf', '12,5', '1.205'])).toBe(',')
    expect(guessDecimalMark(['12.5', '1,205'])).toBe('.')
    expect(guessDecimalMark(['12,5', '12.5'])).toBe('.')
    expect(guessDecimalMark([])).toBe('.')
  })

  it('takes a diameter for a round product', () => {
    const round = matchColumns(['code', 'diameter mm', 'height mm'])
    expect(readProductRow(['G-1', '80', '240'], round, metric).product).toMatchObject({
      widthUm: 80_000,
      depthUm: 80_000,
      heightUm: 240_000,
      plan: 'round',
      name: 'G-1',
    })
  })

  it('leaves unknown what the row does not say', () => {
    expect(readProductRow(['TK-1'], columns, metric).product).toMatchObject({
      widthUm: null,
      heightUm: null,
      massG: null,
      gtin: null,
      plan: 'box',
      finish: 'matt',
    })
  })

  it('tells all that is wrong with a row, by column', () => {
    const row = ['', 'Teapot', 'wide', '99999', '0', '5 cm', 'furry', 'star', '4006381333932']
    const { problems = [] } = readProductRow(row, columns, metric)
    expect(problems.map(({ column }) => column).sort()).toEqual(
      ['code', 'width', 'depth', 'height', 'mass', 'finish', 'plan', 'gtin'].sort(),
    )
    const reason = (column: string) => problems.find((problem) => problem.column === column)?.reason
    expect(reason('width')).toContain("The width, 'wide', is not a number")
    expect(reason('depth')).toContain('comes to 99999 mm')
    expect(reason('mass')).toContain('Give it in g or kg')
    expect(reason('finish')).toContain('matt, satin, gloss, mirror, clear, textile')
  })

  it('refuses negative sizes and division by 0', () => {
    const reasons = (text: string) =>
      readProductRow(['A', '', text], columns, metric).problems?.map(({ reason }) => reason)
    expect(reasons('-5')?.[0]).toContain('Check its unit')
    expect(reasons('1/0')?.[0]).toContain('divides by 0')
  })
})
