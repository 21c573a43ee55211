import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { JobPapers, useOrderConfirmation } from '../clientPapers/jobPapers.tsx'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, dayText, dueText, moneyText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { kindWords, quantityText, standingWords } from './invoiceWords.ts'

type OfJob = Answers['invoices']['ofJob']
type OrderLine = OfJob['order'][number]
type JobsInvoice = OfJob['invoices'][number]

/** A job's bill: what was ordered, what of it is delivered and billed, and the job's invoices. */
export function JobInvoice({ jobId }: { readonly jobId: number }) {
  const job = useAsk(['jobs', 'one', jobId], () => api.jobs.one.query({ jobId }))
  const ofJob = useAsk(['invoices', 'ofJob', jobId], () => api.invoices.ofJob.query({ jobId }))
  return (
    <Asked of={job}>
      {({ job: { currency } }) => (
        <Asked of={ofJob}>{(data) => <Bill jobId={jobId} currency={currency} data={data} />}</Asked>
      )}
    </Asked>
  )
}

function Bill(props: { readonly jobId: number; readonly currency: string; readonly data: OfJob }) {
  const { jobId, currency, data } = props
  const [isDepositOpen, setDepositOpen] = useState(false)
  const navigate = useNavigate()
  const [upTo, setUpTo] = useState('')
  const draft = useAct(
    () => api.invoices.draft.mutate({ jobId, deliveryId: upTo === '' ? null : Number(upTo) }),
    ({ invoiceId }) => void navigate(`/invoices/${invoiceId}`),
  )
  const confirmation = useOrderConfirmation(jobId)
  const refusal = draft.refusal ?? confirmation.refusal
  const hasOrder = data.order.length > 0
  return (
    <>
      <Part
        title="The order"
        acts={
          hasOrder ? (
            <ButtonRow>
              <Button busy={confirmation.busy} onClick={() => confirmation.run()}>
                Order confirmation
              </Button>
              <Button onClick={() => setDepositOpen(true)}>Draft a deposit</Button>
              <Button kind="main" busy={draft.busy} onClick={() => draft.run()}>
                Draft the invoice
              </Button>
            </ButtonRow>
          ) : undefined
        }
      >
        {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
        {data.deliveries.length > 1 ? (
          <SelectField
            label="The invoice bills"
            empty="all that went out"
            value={upTo}
            options={data.deliveries
              .slice(0, -1)
              .map(({ id, number }) => ({ value: String(id), label: `what went out up to ${number}` }))}
            onChange={setUpTo}
          />
        ) : null}
        <Table
          caption="The order: what is delivered and billed of it"
          columns={orderColumns(currency)}
          rows={data.order}
          keyOf={({ source, lineId }) => `${source} ${lineId}`}
          empty={
            <Empty sentence="There is nothing to bill yet: no quote is accepted. Have the quote accepted first." />
          }
        />
      </Part>
      <Part title="Invoices of this job">
        <Table
          caption="Invoices of this job"
          columns={invoiceColumns(data.today)}
          rows={data.invoices}
          keyOf={({ id }) => id}
          to={({ id }) => `/invoices/${id}`}
          empty={
            <Empty sentence="None yet. What is delivered can be billed; a deposit can be asked before." />
          }
        />
      </Part>
      <Part title="Other papers to the client">
        <JobPapers jobId={jobId} />
      </Part>
      {isDepositOpen ? <DepositDialog jobId={jobId} onClose={() => setDepositOpen(false)} /> : null}
    </>
  )
}

function orderColumns(currency: string): readonly Column<OrderLine>[] {
  return [
    { key: 'text', head: 'What', cell: ({ text }) => text },
    {
      key: 'ordered',
      head: 'Ordered',
      figure: true,
      cell: ({ quantityMilli, unit }) => quantityText(quantityMilli, unit),
    },
    {
      key: 'delivered',
      head: 'Delivered',
      figure: true,
      cell: ({ spins, spinsDelivered }) =>
        spins === 0 ? '' : `${spinsDelivered} of ${countText(spins, 'spin')}`,
    },
    { key: 'net', head: 'Before tax', figure: true, cell: ({ netMinor }) => moneyText(netMinor, currency) },
    {
      key: 'billed',
      head: 'Billed',
      figure: true,
      cell: ({ billedNetMinor }) => moneyText(billedNetMinor, currency),
    },
    {
      key: 'left',
      head: 'Left to bill',
      figure: true,
      cell: ({ netMinor, billedNetMinor }) => moneyText(netMinor - billedNetMinor, currency),
    },
  ]
}

function invoiceColumns(today: string): readonly Column<JobsInvoice>[] {
  return [
    { key: 'number', head: 'Number', cell: ({ number }) => number ?? 'Draft' },
    { key: 'kind', head: 'Kind', cell: ({ kind }) => kindWords[kind] },
    {
      key: 'issued',
      head: 'Issued',
      cell: ({ issueDay }) => (issueDay ? dayText(issueDay, today) : ''),
    },
    {
      key: 'standing',
      head: 'Stands',
      cell: ({ standing, dueDay }) => (
        <span className={standing === 'overdue' ? words.late : undefined}>
          {dueDay && (standing === 'due' || standing === 'overdue')
            ? dueText(dueDay, today)
            : standingWords[standing]}
        </span>
      ),
    },
    {
      key: 'total',
      head: 'Total',
      figure: true,
      cell: ({ kind, totalMinor, currency }) =>
        moneyText(kind === 'credit note' ? -totalMinor : totalMinor, currency),
    },
    {
      key: 'open',
      head: 'Open',
      figure: true,
      cell: ({ openMinor, currency }) => (openMinor === 0 ? '' : moneyText(openMinor, currency)),
    },
  ]
}

function DepositDialog(props: { readonly jobId: number; readonly onClose: () => void }) {
  const { jobId } = props
  const studio = useAsk(['studio', 'one'], () => api.studio.one.query())
  const [typedPpm, setTypedPpm] = useState<number | null>()
  // What the studio usually asks, until the person types something else.
  const usualPpm = studio.data?.studio.depositPpm || null
  const depositPpm = typedPpm === undefined ? usualPpm : typedPpm
  const navigate = useNavigate()
  const draft = useAct(
    () => api.invoices.draftDeposit.mutate({ jobId, depositPpm } as Asks['invoices']['draftDeposit']),
    ({ invoiceId }) => void navigate(`/invoices/${invoiceId}`),
  )
  return (
    <Dialog title="Draft a deposit" onClose={props.onClose}>
      <Form onSubmit={draft.run} refusal={draft.refusal}>
        <p>
          A deposit is an invoice of its own, with tax; the next invoice of the job deducts it. Whether and
          when tax is due on it differs by country: ask your accountant.
        </p>
        <NumberField
          label="Of the quote before tax"
          name="depositPpm"
          unit="%"
          places={4}
          value={depositPpm}
          onChange={setTypedPpm}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={draft.busy}>
            Draft the deposit
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
