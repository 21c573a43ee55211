import type { ReactNode } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { countText, massText, numberText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { columnWords } from './importColumns.tsx'
import { sizesText } from './productColumns.tsx'
import css from './products.module.css'

type Preview = Answers['productImport']['preview']
type Bad = Preview['bad'][number] & { readonly key: string }
type First = Preview['first'][number]

/** What taking the list would do: counts, every bad row with its reason, the first good rows. */
export function ImportPreview(props: { readonly preview: Preview; readonly clientName: string }) {
  const { preview } = props
  const { added, updated, unchanged, bad, badRows, newFamilies, first } = preview
  const counts: readonly (readonly [string, number])[] = [
    ['new', added],
    ['change what is there', updated],
    ['already as listed', unchanged],
    ['cannot be taken', badRows],
  ]
  return (
    <div className={css.parts}>
      <Part title={`What it would do for ${props.clientName}`}>
        <dl className={css.counts}>
          {counts.map(([word, count]) => (
            <div key={word}>
              <dt>{word}</dt>
              <dd className={words.figure}>{numberText(count)}</dd>
            </div>
          ))}
        </dl>
        {newFamilies.length > 0 ? (
          <p>{`New families: ${newFamilies.slice(0, 12).join(', ')}${newFamilies.length > 12 ? ` and ${newFamilies.length - 12} more` : ''}.`}</p>
        ) : null}
      </Part>
      {bad.length > 0 ? (
        <Part title={`${countText(badRows, 'row')} that cannot be taken`}>
          <p>
            What is wrong can be put right in the file, which is then picked again. The good rows can be taken
            now.
          </p>
          <Scroll label="Rows that cannot be taken">
            <Table
              caption="Rows that cannot be taken"
              columns={badColumns}
              rows={bad.map((row, index) => ({ ...row, key: `${row.line} ${index}` }))}
              keyOf={({ key }) => key}
              empty={null}
            />
          </Scroll>
        </Part>
      ) : null}
      <Part
        title={
          first.length < added + updated + unchanged ? `The first ${first.length} good rows` : 'Good rows'
        }
      >
        <Scroll label="Good rows">
          <Table
            caption="Good rows"
            columns={goodColumns}
            rows={first}
            keyOf={({ line }) => line}
            empty={
              <Empty sentence="No row can be taken yet. Look at the reasons above, or at what the columns are taken as." />
            }
          />
        </Scroll>
      </Part>
    </div>
  )
}

/** A long table in a window of its own, which the arrow keys move once it has the focus. */
function Scroll(props: { readonly label: string; readonly children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: without the focus the keyboard could not scroll it
    <section className={css.scroll} aria-label={props.label} tabIndex={0}>
      {props.children}
    </section>
  )
}

const badColumns: readonly Column<Bad>[] = [
  { key: 'line', head: 'Line', figure: true, tight: true, cell: ({ line }) => numberText(line) },
  {
    key: 'code',
    head: 'Code',
    tight: true,
    cell: ({ code }) => <span className={words.mono}>{code.slice(0, 40)}</span>,
  },
  {
    key: 'column',
    head: 'Column',
    tight: true,
    cell: ({ column }) => (column === null ? 'the whole row' : columnWords[column]),
  },
  { key: 'reason', head: 'Why', cell: ({ reason }) => reason },
]

const doesWords = { added: 'new', updated: 'changed', unchanged: 'as it is' }

const goodColumns: readonly Column<First>[] = [
  { key: 'line', head: 'Line', figure: true, tight: true, cell: ({ line }) => numberText(line) },
  {
    key: 'does',
    head: 'Will be',
    tight: true,
    cell: ({ does }) => <span className={words.quiet}>{doesWords[does]}</span>,
  },
  { key: 'code', head: 'Code', tight: true, cell: ({ code }) => <span className={words.mono}>{code}</span> },
  { key: 'name', head: 'Product', cell: ({ name, variant }) => (variant ? `${name}, ${variant}` : name) },
  { key: 'family', head: 'Family', cell: ({ family }) => family },
  { key: 'size', head: 'W × D × H', figure: true, tight: true, cell: sizesText },
  { key: 'plan', head: 'Plan', tight: true, cell: ({ plan }) => plan },
  {
    key: 'mass',
    head: 'Mass',
    figure: true,
    tight: true,
    cell: ({ massG }) => (massG === null ? '' : massText(massG)),
  },
  { key: 'finish', head: 'Finish', tight: true, cell: ({ finish }) => finish },
]
