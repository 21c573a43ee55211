import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './screen.module.css'

const kindWords = {
  job: 'Next job',
  quote: 'Next quote',
  delivery: 'Next delivery',
  invoice: 'Next invoice',
  'credit note': 'Next credit note',
} as const

/** The number each series gives next. */
export function NumbersSection() {
  const numbers = useAsk(['studio', 'numbers'], () => api.studio.numbers.query())
  return (
    <Part title="Numbers">
      <p className={css.note}>
        Numbers go up by one and are never given twice. Invoices and credit notes get theirs when they are
        issued, so that their series have no gaps; deposit invoices are in the series of invoices. Each series
        begins again with 0001 on the first of January.
      </p>
      <Asked of={numbers}>
        {({ next }) => (
          <Sheet>
            {(Object.keys(kindWords) as (keyof typeof kindWords)[]).map((kind) => (
              <Fact key={kind} label={kindWords[kind]}>
                <span className={words.mono}>{next.find((one) => one.kind === kind)?.number}</span>
              </Fact>
            ))}
          </Sheet>
        )}
      </Asked>
    </Part>
  )
}
