import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { nameWithVariant } from '../../main/trade/productName.ts'
import { movesAllowed, type SampleMove, sampleStateWords } from '../../main/trade/samples.ts'
import { useGoodsReceipt } from '../clientPapers/jobPapers.tsx'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayIn, dayText, moneyText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Selection, useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { LabelsButton } from '../scan/printTickets.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { MoveDialog, moveWords } from './moveDialog.tsx'
import { PromiseLines } from './promiseLines.tsx'
import { AgreeDialog, CustodyDialog, WithoutDialog } from './sampleDialogs.tsx'

export type Sample = Answers['samples']['list'][number]

/** The job's expected list: what has come, in what state and where, and what becomes of it. */
export function JobSamples({ jobId }: { readonly jobId: number }) {
  const job = useAsk(['jobs', 'one', jobId], () => api.jobs.one.query({ jobId }))
  const receipt = useGoodsReceipt(jobId)
  const samples = useAsk(['samples', 'list', jobId], () => api.samples.list.query({ jobId }))
  return (
    <Part
      title="Samples"
      acts={
        <Button busy={receipt.busy} onClick={() => receipt.run()}>
          Goods receipt
        </Button>
      }
    >
      {receipt.refusal ? <FormRefusal sentence={receipt.refusal.sentence} /> : null}
      <PromiseLines jobId={jobId} />
      <Asked of={job}>
        {(whole) => (
          <Asked of={samples}>
            {(list) => <Samples jobId={jobId} currency={whole.job.currency} samples={list} />}
          </Asked>
        )}
      </Asked>
    </Part>
  )
}

function Samples(props: {
  readonly jobId: number
  readonly currency: string
  readonly samples: readonly Sample[]
}) {
  const { samples, currency } = props
  const { today, timeZone } = useStudio()
  const selection = useSelection<number>()
  return (
    <>
      {samples.length > 0 ? <Acts {...props} selection={selection} /> : null}
      <Table
        caption="Samples of the job"
        columns={columnsFor(today, timeZone, currency)}
        rows={samples}
        keyOf={({ id }) => id}
        selection={selection}
        total={samples.length}
        counted={['sample', 'samples']}
        empty={
          <Empty sentence="No sample is expected yet. Each product that is added to the job’s spins comes onto this list." />
        }
      />
    </>
  )
}

function columnsFor(today: string, timeZone: string, currency: string): readonly Column<Sample>[] {
  const dayOf = (instant: string | null) =>
    instant ? dayText(dayIn(timeZone, new Date(instant)), today) : ''
  return [
    {
      key: 'code',
      head: 'Code',
      tight: true,
      cell: ({ code }) => <span className={words.mono}>{code}</span>,
    },
    { key: 'name', head: 'Product', cell: ({ name, variant }) => nameWithVariant(name, variant) },
    { key: 'state', head: 'Stands', cell: (sample) => <State sample={sample} /> },
    {
      key: 'expected',
      head: 'Expected',
      figure: true,
      tight: true,
      cell: ({ expectedDay, state }) =>
        expectedDay === null ? null : (
          <span className={state === 'expected' && expectedDay < today ? words.late : undefined}>
            {dayText(expectedDay, today)}
          </span>
        ),
    },
    {
      key: 'arrived',
      head: 'Came',
      figure: true,
      tight: true,
      cell: ({ arrivedAt }) => dayOf(arrivedAt),
    },
    { key: 'place', head: 'Place', tight: true, cell: ({ place }) => place },
    { key: 'condition', head: 'Condition', cell: ({ condition }) => condition },
    {
      key: 'value',
      head: 'Value',
      figure: true,
      tight: true,
      cell: ({ valueMinor }) => (valueMinor === null ? '' : moneyText(valueMinor, currency)),
    },
    { key: 'fate', head: 'Afterwards', tight: true, cell: ({ fate }) => fate },
    {
      key: 'gone',
      head: 'Left',
      figure: true,
      tight: true,
      cell: ({ goneAt }) => dayOf(goneAt),
    },
  ]
}

function State({ sample }: { readonly sample: Sample }) {
  const more = [
    !sample.isNeeded && 'no longer needed',
    sample.state !== 'in' && sample.withoutReason && `spun without it: ${sample.withoutReason}`,
  ].filter(Boolean)
  return (
    <>
      {sampleStateWords[sample.state]}
      {more.length > 0 ? <span className={words.quiet}>{` ${more.join(', ')}`}</span> : null}
    </>
  )
}

type Open = { readonly which: SampleMove } | { readonly which: 'agree' | 'without' | 'custody' }

function Acts(props: {
  readonly jobId: number
  readonly currency: string
  readonly samples: readonly Sample[]
  readonly selection: Selection<number>
}) {
  const { jobId, samples, selection } = props
  const [open, setOpen] = useState<Open>()
  const chosen = samples.filter(({ id }) => selection.has(id))
  const allowed = movesAllowed(chosen.map(({ state }) => state))
  const close = () => {
    setOpen(undefined)
    selection.clear()
  }
  const expected = samples.filter(({ state, isNeeded }) => state === 'expected' && isNeeded)
  const here = samples.filter(({ state }) => state === 'in')
  const [only] = chosen.length === 1 ? chosen : []
  return (
    <>
      <ButtonRow>
        {expected.length > 0 && chosen.length === 0 ? (
          <Button kind="main" onClick={() => selection.choose(expected.map(({ id }) => id))}>
            {`Choose all ${expected.length} that are expected`}
          </Button>
        ) : null}
        {expected.length === 0 && here.length > 0 && chosen.length === 0 ? (
          <Button onClick={() => selection.choose(here.map(({ id }) => id))}>
            {`Choose all ${here.length} that are here`}
          </Button>
        ) : null}
        {allowed.map((move) => (
          <Button
            key={move}
            kind={move === 'arrive' ? 'main' : 'plain'}
            onClick={() => setOpen({ which: move })}
          >
            {moveWords[move].act}
          </Button>
        ))}
        {chosen.length > 0 ? (
          <>
            <Button onClick={() => setOpen({ which: 'agree' })}>Agree on them</Button>
            <WithoutButton jobId={jobId} chosen={chosen} onOpen={() => setOpen({ which: 'without' })} />
          </>
        ) : null}
        <LabelsButton jobId={jobId} sampleIds={chosen.map(({ id }) => id)} />
        {only ? (
          <Button kind="quiet" onClick={() => setOpen({ which: 'custody' })}>
            Its moves
          </Button>
        ) : null}
      </ButtonRow>
      {chosen.length === 0 ? <p className={words.quiet}>Tick samples to say what happened to them.</p> : null}
      {chosen.length > 0 && allowed.length === 0 ? (
        <p>What you chose is in different states; no one thing can have happened to all of it.</p>
      ) : null}
      {open ? <OpenDialog open={open} {...props} chosen={chosen} onClose={close} /> : null}
    </>
  )
}

function OpenDialog(props: {
  readonly open: Open
  readonly jobId: number
  readonly currency: string
  readonly chosen: readonly Sample[]
  readonly onClose: () => void
}) {
  const { open, chosen, onClose } = props
  switch (open.which) {
    case 'agree':
      return <AgreeDialog samples={chosen} currency={props.currency} onClose={onClose} />
    case 'without':
      return <WithoutDialog jobId={props.jobId} samples={chosen} onClose={onClose} />
    case 'custody':
      return chosen[0] ? <CustodyDialog sample={chosen[0]} onClose={onClose} /> : null
    default:
      return <MoveDialog samples={chosen} move={open.which} onClose={onClose} />
  }
}

function WithoutButton(props: {
  readonly jobId: number
  readonly chosen: readonly Sample[]
  readonly onOpen: () => void
}) {
  const { jobId, chosen } = props
  const spins = useAsk(['spins', 'list', jobId], () => api.spins.list.query({ jobId }))
  const shootIds = spinsOf(spins.data ?? [], chosen)
  const wait = useAct(() => api.samples.goWithout.mutate({ shootIds, reason: null }))
  return chosen.every(({ withoutReason }) => withoutReason !== null) ? (
    <Button busy={wait.busy} onClick={() => wait.run()}>
      Wait for them again
    </Button>
  ) : (
    <Button disabled={shootIds.length === 0} onClick={props.onOpen}>
      Go on without
    </Button>
  )
}

/** The spins that show one of these products and are not cancelled. */
export function spinsOf(spins: Answers['spins']['list'], samples: readonly Sample[]): number[] {
  const productIds = new Set(samples.map(({ productId }) => productId))
  return spins
    .filter((spin) => spin.cancelledAt === null && spin.products.some(({ id }) => productIds.has(id)))
    .map(({ id }) => id)
}
