import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, massText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { BenchDialog } from './benchDialog.tsx'
import { Closures } from './closures.tsx'
import css from './screen.module.css'

export type Bench = Answers['benches']['list'][number]

/** The benches with their opening hours, and the days on which they, or the whole studio, are closed. */
export function BenchesSection() {
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query())
  const gone = useAsk(['benches', 'list', 'gone'], () => api.benches.list.query({ gone: true }))
  const [open, setOpen] = useState<Bench | 'new'>()
  return (
    <div className={css.parts}>
      <Part
        title="Benches and hours"
        acts={
          <Button kind="main" onClick={() => setOpen('new')}>
            Add a bench
          </Button>
        }
      >
        <p className={css.note}>
          Nothing is booked outside these hours. Promises to clients count the days on which a bench opens.
        </p>
        <Table
          caption="Benches"
          columns={columns(setOpen)}
          rows={benches.data}
          keyOf={({ id }) => id}
          empty={<Empty sentence="There is no bench. Add the one where your platter stands." />}
        />
        {gone.data && gone.data.length > 0 ? <GoneBenches benches={gone.data} /> : null}
      </Part>
      <Closures benches={benches.data ?? []} />
      {open ? (
        <BenchDialog bench={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
    </div>
  )
}

function columns(open: (bench: Bench) => void): readonly Column<Bench>[] {
  return [
    { key: 'name', head: 'Bench', cell: ({ name }) => name },
    {
      key: 'place',
      head: 'Stands',
      cell: ({ place, address }) => (place === 'ours' ? 'with us' : `at a client’s: ${address ?? ''}`),
    },
    { key: 'open', head: 'Open', cell: ({ openings }) => openText(openings) },
    {
      key: 'load',
      head: 'Load limit',
      figure: true,
      cell: ({ loadLimitG }) => (loadLimitG === null ? '' : massText(loadLimitG)),
    },
    {
      key: 'act',
      head: 'Change',
      isHeadSpoken: true,
      tight: true,
      cell: (bench) => (
        <Button kind="quiet" aria-label={`Change ${bench.name}`} onClick={() => open(bench)}>
          Change
        </Button>
      ),
    },
  ]
}

/** '38.8 h on 5 days a week'. */
function openText(openings: Bench['openings']): string {
  if (openings.length === 0) return 'never'
  const minutes = openings.reduce((sum, { fromMinute, toMinute }) => sum + toMinute - fromMinute, 0)
  const days = new Set(openings.map(({ weekday }) => weekday)).size
  return `${(minutes / 60).toFixed(1).replace('.0', '')} h on ${countText(days, 'day')} a week`
}

function GoneBenches({ benches }: { readonly benches: readonly Bench[] }) {
  const back = useAct((benchId: number) => api.benches.retire.mutate({ benchId, gone: false }))
  return (
    <>
      {benches.map(({ id, name }) => (
        <p key={id} className={css.note}>
          {`${name} is given up. `}
          <Button kind="quiet" busy={back.busy} onClick={() => back.run(id)}>
            {`Use ${name} again`}
          </Button>
        </p>
      ))}
      {back.refusal ? <FormRefusal sentence={back.refusal.sentence} /> : null}
    </>
  )
}
