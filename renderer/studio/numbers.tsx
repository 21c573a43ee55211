import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './screen.module.css'

type Series = Answers['studio']['numbers']['next'][number]

const kindWords = {
  job: 'Next job',
  quote: 'Next quote',
  delivery: 'Next delivery',
  invoice: 'Next invoice',
  'credit note': 'Next credit note',
} as const

/** The number each series gives next, and where it starts in a studio that goes on from other books. */
export function NumbersSection() {
  const numbers = useAsk(['studio', 'numbers'], () => api.studio.numbers.query())
  const [open, setOpen] = useState<Series>()
  return (
    <Part title="Numbers">
      <p className={css.note}>
        Numbers go up by one and are never given twice. Invoices and credit notes get theirs when they are
        issued, so that their series have no gaps; deposit invoices are in the series of invoices. Each series
        begins again with 0001 on the first of January. If you bring books from elsewhere, say before the
        first number of a year where its series goes on.
      </p>
      <Asked of={numbers}>
        {({ next }) => (
          <Sheet>
            {(Object.keys(kindWords) as (keyof typeof kindWords)[]).map((kind) => {
              const series = next.find((one) => one.kind === kind)
              return series ? (
                <Fact key={kind} label={kindWords[kind]}>
                  <span className={words.mono}>{series.number}</span>
                  {series.isBegun ? null : (
                    <Button
                      kind="quiet"
                      aria-label={`Start elsewhere: ${kindWords[kind]}`}
                      onClick={() => setOpen(series)}
                    >
                      Start elsewhere
                    </Button>
                  )}
                </Fact>
              ) : null
            })}
          </Sheet>
        )}
      </Asked>
      {open ? <StartDialog series={open} onClose={() => setOpen(undefined)} /> : null}
    </Part>
  )
}

function StartDialog({ series, onClose }: { readonly series: Series; readonly onClose: () => void }) {
  const [first, setFirst] = useState<number | null>(series.next)
  const say = useNotice()
  const start = useAct(
    // Left empty it goes as null: the studio answers with the sentence for its field.
    () => api.studio.startNumbers.mutate({ kind: series.kind, first: first as number }),
    () => {
      say('Saved. The series goes on from there.')
      onClose()
    },
  )
  return (
    <Dialog title={`${kindWords[series.kind]} of this year`} onClose={onClose}>
      <Form onSubmit={() => start.run()} refusal={start.refusal}>
        <NumberField
          label="Goes on with number"
          name="first"
          hint="It can be set only until the first number of the year is given."
          value={first}
          onChange={setFirst}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={start.busy}>
            Save
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
