import type { Answers } from '../../main/api/types.ts'
import { nameWithVariant } from '../../main/trade/productName.ts'
import words from '../look/words.module.css'
import { massText, numberText, withUnit } from '../parts/format.ts'
import type { Column } from '../parts/table.tsx'

export type ProductLine = Answers['products']['list']['lines'][number]

/** Width × depth × height in mm, a dash where one is not known; empty where none is. */
export function sizesText(size: Pick<ProductLine, 'widthMm' | 'depthMm' | 'heightMm'>): string {
  const sides = [size.widthMm, size.depthMm, size.heightMm]
  if (sides.every((side) => side === null)) return ''
  const figures = sides.map((side) => (side === null ? '–' : numberText(side, 3)))
  return `${figures.join('\u00a0×\u00a0')}\u00a0mm`
}

const columns = {
  code: {
    key: 'code',
    head: 'Code',
    sort: 'code',
    tight: true,
    cell: ({ code }) => <span className={words.mono}>{code}</span>,
  },
  name: {
    key: 'name',
    head: 'Product',
    sort: 'name',
    cell: ({ name, variant }) =>
      variant === null || nameWithVariant(name, variant) === name ? (
        name
      ) : (
        <>
          {name} <span className={words.quiet}>{variant}</span>
        </>
      ),
  },
  client: { key: 'client', head: 'Client', sort: 'client', cell: ({ clientName }) => clientName },
  family: { key: 'family', head: 'Family', cell: ({ familyName }) => familyName },
  size: { key: 'size', head: 'W × D × H', sort: 'size', figure: true, tight: true, cell: sizesText },
  swept: {
    key: 'swept',
    head: 'Swept',
    figure: true,
    tight: true,
    cell: ({ sweptWidthMm }) => (sweptWidthMm === null ? '' : withUnit(sweptWidthMm, 'mm', 0)),
  },
  class: {
    key: 'class',
    head: 'Class',
    tight: true,
    cell: ({ sizeClass, sizeKnown }) =>
      sizeKnown ? sizeClass : <span className={words.quiet}>{`${sizeClass}, a guess`}</span>,
  },
  mass: {
    key: 'mass',
    head: 'Mass',
    figure: true,
    tight: true,
    cell: ({ massG }) => (massG === null ? '' : massText(massG)),
  },
  finish: { key: 'finish', head: 'Finish', tight: true, cell: ({ finish }) => finish },
  spins: { key: 'spins', head: 'Spins', figure: true, tight: true, cell: ({ spins }) => numberText(spins) },
} satisfies Record<string, Column<ProductLine>>

/** The columns of a list of products, by their keys and in their order. */
export function productColumns(keys: readonly (keyof typeof columns)[]): readonly Column<ProductLine>[] {
  return keys.map((key) => columns[key])
}
