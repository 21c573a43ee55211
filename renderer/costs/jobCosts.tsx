import { useState } from 'react'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import { CostDialog } from './costDialog.tsx'
import { type Cost, type JobCosts, kindWords } from './costWords.ts'
import { MarginPart } from './marginPart.tsx'
import { ReceiptDialog } from './receiptDialog.tsx'

type Open = 'change' | 'receipt' | 'remove'

/** A job's costs, planned beside paid, and what the job leaves after all. */
export function JobCostsPage({ jobId }: { readonly jobId: number }) {
  const answer = useAsk(['jobCosts', 'ofJob', jobId], () => api.jobCosts.ofJob.query({ jobId }))
  return (
    <Asked of={answer}>
      {(data) => (
        <>
          <CostsPart jobId={jobId} data={data} />
          <MarginPart data={data} />
        </>
      )}
    </Asked>
  )
}

function CostsPart({ jobId, data }: { readonly jobId: number; readonly data: JobCosts }) {
  const { studioCurrency, costs } = data
  const [isAdding, setAdding] = useState(false)
  const [open, setOpen] = useState<{ readonly what: Open; readonly cost: Cost }>()
  const close = () => setOpen(undefined)
  const columns = useColumns((what, cost) => setOpen({ what, cost }))
  return (
    <Part title="Costs" acts={<Button onClick={() => setAdding(true)}>Add a cost</Button>}>
      <Table
        caption="Costs of this job, planned and paid"
        columns={columns}
        rows={costs}
        keyOf={({ id }) => id}
        empty={
          <Empty sentence="None yet. Write down what is hired, carried, bought in or travelled for this job: planned, then as the receipt says." />
        }
      />
      {isAdding ? (
        <CostDialog jobId={jobId} currency={studioCurrency} onClose={() => setAdding(false)} />
      ) : null}
      {open?.what === 'change' ? (
        <CostDialog jobId={jobId} currency={open.cost.currency} cost={open.cost} onClose={close} />
      ) : null}
      {open?.what === 'receipt' ? <ReceiptDialog cost={open.cost} onClose={close} /> : null}
      {open?.what === 'remove' ? <RemoveCost cost={open.cost} onClose={close} /> : null}
    </Part>
  )
}

function RemoveCost({ cost, onClose }: { readonly cost: Cost; readonly onClose: () => void }) {
  const say = useNotice()
  const remove = useAct(
    () => api.jobCosts.remove.mutate({ costId: cost.id }),
    () => {
      say(`${cost.text} is taken off.`)
      onClose()
    },
  )
  return (
    <Confirm
      title={`Take ${cost.text} off?`}
      sentence="It no longer counts anywhere. The job’s history keeps that it was there, and its receipt stays in the studio."
      act="Take the cost off"
      grave
      busy={remove.busy}
      refusal={remove.refusal}
      onConfirm={() => remove.run()}
      onClose={onClose}
    />
  )
}

function useColumns(act: (what: Open, cost: Cost) => void): readonly Column<Cost>[] {
  const { today } = useStudio()
  const money = (minor: number | null, currency: string) => (minor === null ? '' : moneyText(minor, currency))
  return [
    { key: 'what', head: 'What', cell: ({ text, kind }) => `${text} (${kindWords[kind].toLowerCase()})` },
    { key: 'day', head: 'Day', cell: ({ day }) => dayText(day, today) },
    { key: 'supplier', head: 'Supplier', cell: ({ supplier }) => supplier ?? '' },
    {
      key: 'planned',
      head: 'Planned',
      figure: true,
      cell: ({ plannedMinor, currency }) => money(plannedMinor, currency),
    },
    {
      key: 'actual',
      head: 'Paid',
      figure: true,
      cell: ({ actualMinor, currency }) => money(actualMinor, currency),
    },
    {
      key: 'tax',
      head: 'Tax on it',
      figure: true,
      cell: ({ taxMinor, currency }) => (taxMinor === 0 ? '' : moneyText(taxMinor, currency)),
    },
    { key: 'passed', head: 'Passed on', cell: passedText },
    { key: 'receipt', head: 'Receipt', tight: true, cell: (cost) => <Receipt cost={cost} act={act} /> },
    {
      key: 'change',
      head: 'Change',
      isHeadSpoken: true,
      tight: true,
      cell: (cost) => <Act word="Change" cost={cost} run={() => act('change', cost)} />,
    },
    {
      key: 'remove',
      head: 'Take off',
      isHeadSpoken: true,
      tight: true,
      cell: (cost) => <Act word="Take off" cost={cost} run={() => act('remove', cost)} />,
    },
  ]
}

function passedText({ isPassedOn, actualMinor, billedMilli }: Cost): string {
  if (billedMilli >= 1000) return 'billed'
  if (!isPassedOn) return ''
  if (billedMilli > 0) return 'part is billed'
  return actualMinor === null ? 'once it is paid' : 'with the next invoice'
}

function Receipt({ cost, act }: { readonly cost: Cost; readonly act: (what: Open, cost: Cost) => void }) {
  const { receipt } = cost
  if (!receipt) {
    return <Act word="Keep" says="Keep the receipt" cost={cost} run={() => act('receipt', cost)} />
  }
  return (
    <>
      <Act word="Show" says="Show the receipt" cost={cost} run={() => openPaper(receipt.id)} />{' '}
      <Act word="Another" says="Keep another receipt" cost={cost} run={() => act('receipt', cost)} />
    </>
  )
}

function Act(props: {
  readonly word: string
  readonly says?: string
  readonly cost: Cost
  readonly run: () => void
}) {
  const { word, says = word, cost, run } = props
  return (
    <Button kind="quiet" aria-label={`${says}: ${cost.text}`} onClick={run}>
      {word}
    </Button>
  )
}
