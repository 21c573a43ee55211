import words from '../look/words.module.css'
import { durationText } from '../parts/format.ts'
import { Fact, Sheet } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'
import { changeText, type Figure, figureName, figureText } from './comparedWords.ts'
import css from './comparison.module.css'

/** What a compared revision is called: `Tall glass, revision 3`. */
export interface Compared {
  readonly id: number
  readonly name: string
}

/**
 * Two revisions beside each other. What differs is lit, and said in a column of its own, so that it is not colour
 * alone; `only` leaves out what they share.
 */
export function Comparison(props: {
  readonly before: Compared
  readonly after: Compared
  readonly only: boolean
}) {
  const { before, after, only } = props
  const answer = useCompared(before.id, after.id)
  const rows = answer.data?.figures.filter(({ differs }) => differs || !only)
  const lit = ({ differs }: Figure, text: string) =>
    differs ? <strong className={css.lit}>{text}</strong> : <span className={words.quiet}>{text}</span>
  return (
    <Table
      caption={`What differs between ${before.name} and ${after.name}`}
      rows={rows}
      keyOf={({ field, light }) => `${light?.before ?? ''} ${light?.after ?? ''} ${field}`}
      columns={[
        { key: 'what', head: 'Figure', cell: figureName },
        {
          key: 'before',
          head: before.name,
          figure: true,
          cell: (figure) => lit(figure, figureText(figure.field, figure.before)),
        },
        {
          key: 'after',
          head: after.name,
          figure: true,
          cell: (figure) => lit(figure, figureText(figure.field, figure.after)),
        },
        {
          key: 'differs',
          head: 'Differs',
          tight: true,
          cell: ({ differs }) => (differs ? 'differs' : ''),
        },
      ]}
      empty={<p>No figure differs between the two; only what was noted.</p>}
    />
  )
}

/** What the change from one to the other is made of, and how long it takes by the studio's own times. */
export function Changeover({ before, after }: { readonly before: Compared; readonly after: Compared }) {
  const items = useCompared(before.id, after.id).data?.changeover
  if (!items) return null
  if (items.length === 0) return <p>Nothing has to be moved from one to the other.</p>
  return (
    <>
      <p>
        {`From ${before.name} to ${after.name}: ${durationText(items.reduce((sum, { ms }) => sum + ms, 0) / 60_000)}, by the studio’s own times.`}
      </p>
      <Sheet figures>
        {items.map((item) => (
          <Fact key={changeText(item)} label={changeText(item)}>
            {durationText(item.ms / 60_000)}
          </Fact>
        ))}
      </Sheet>
    </>
  )
}

function useCompared(before: number, after: number) {
  return useAsk(['rigs', 'compare', before, after], () => api.rigs.compare.query({ before, after }))
}
