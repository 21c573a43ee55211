import { useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextArea, TextField } from '../parts/field.tsx'
import { FieldGroup, FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Page } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { DraftAdjustments } from './draftAdjustments.tsx'
import { DraftLines } from './draftLines.tsx'
import { sentDraft, type TypedDraft, typedDraft, typedTotals } from './draftValue.ts'
import css from './invoices.module.css'
import { type InvoicePageData, titleOf } from './invoiceWords.ts'
import { IssueDialog } from './issueDialog.tsx'
import { JobLinks } from './jobLinks.tsx'
import { LinesTable } from './linesTable.tsx'
import { useTaxChoices } from './taxChoices.ts'
import { Totals } from './totals.tsx'

/** A draft: its lines and words are changed here, then it is issued or thrown away. */
export function DraftInvoice({ data }: { readonly data: InvoicePageData }) {
  const { invoice } = data
  const draft = useDraft<TypedDraft>(typedDraft(data))
  const [open, setOpen] = useState<'issue' | 'discard'>()
  const say = useNotice()
  const save = useAct(
    (_then: 'stay' | 'issue') => api.invoices.changeDraft.mutate(sentDraft(invoice.id, draft.values)),
    (_, then) => {
      draft.reset(draft.values)
      if (then === 'issue') setOpen('issue')
      else say('The draft is saved.')
    },
  )
  const paper = useAct(
    () => api.invoices.paper.mutate({ invoiceId: invoice.id }),
    ({ paperId }) => openPaper(paperId),
  )
  return (
    <Page
      title={titleOf(data)}
      lead={<Lead data={data} />}
      acts={
        <ButtonRow>
          <Button kind="grave" onClick={() => setOpen('discard')}>
            Throw the draft away
          </Button>
          <Button busy={paper.busy} disabled={draft.touched} onClick={() => paper.run()}>
            Paper as a draft
          </Button>
        </ButtonRow>
      }
    >
      {paper.refusal ? <FormRefusal sentence={paper.refusal.sentence} /> : null}
      <Form onSubmit={() => save.run('stay')} refusal={save.refusal}>
        <DraftFields data={data} draft={draft.values} patch={draft.patch} />
        <ButtonRow>
          <Button
            kind="main"
            busy={save.busy && save.input === 'issue'}
            onClick={() => (draft.touched ? save.run('issue') : setOpen('issue'))}
          >
            Issue it
          </Button>
          <Button type="submit" busy={save.busy && save.input === 'stay'} disabled={!draft.touched}>
            Save the draft
          </Button>
        </ButtonRow>
      </Form>
      <LeaveGuard when={draft.touched} />
      {open === 'issue' ? <IssueDialog data={data} onClose={() => setOpen(undefined)} /> : null}
      {open === 'discard' ? <Discard data={data} onClose={() => setOpen(undefined)} /> : null}
    </Page>
  )
}

function Lead({
  data: { invoice, jobNumber, jobs, deliveries, corrects },
}: {
  readonly data: InvoicePageData
}) {
  return (
    <>
      {invoice.jobId === null ? null : (
        <>
          {'Job '}
          <Link to={`/jobs/${invoice.jobId}/invoice`}>{jobNumber}</Link>
          {corrects ? ', corrects ' : '. '}
        </>
      )}
      {invoice.jobId === null && jobs.length > 0 ? (
        <>
          {'Jobs '}
          <JobLinks jobs={jobs} />
          {'. '}
        </>
      ) : null}
      {deliveries.length > 0 ? `Bills ${deliveries.join(', ')}. ` : null}
      {corrects ? (
        <>
          {invoice.jobId === null ? 'Corrects ' : null}
          <Link to={`/invoices/${corrects.id}`}>{corrects.number}</Link>
          {'. '}
        </>
      ) : null}
      {'Not issued: it has no number and can be changed.'}
    </>
  )
}

function DraftFields(props: {
  readonly data: InvoicePageData
  readonly draft: TypedDraft
  readonly patch: (some: Partial<TypedDraft>) => void
}) {
  const { data, draft, patch } = props
  const { invoice } = data
  const taxes = useTaxChoices([...draft.lines, ...draft.adjustments])
  const isCredit = invoice.kind === 'credit note'
  return (
    <>
      <FieldGroup legend="Lines">
        {isCredit ? (
          // What is credited is chosen on the invoice: a credit note never holds more than that has.
          <LinesTable lines={data.lines} currency={invoice.currency} />
        ) : (
          <DraftLines
            lines={draft.lines}
            currency={invoice.currency}
            taxes={taxes}
            onChange={(lines) => patch({ lines })}
          />
        )}
      </FieldGroup>
      {isCredit ? null : (
        <FieldGroup legend="On the whole document">
          <DraftAdjustments
            adjustments={draft.adjustments}
            currency={invoice.currency}
            taxes={taxes}
            usual={draft.lines[0]}
            onChange={(adjustments) => patch({ adjustments })}
          />
        </FieldGroup>
      )}
      <DraftSums data={data} draft={draft} />
      <FieldGroup legend="Words on the paper">
        <FieldLine>
          <TextField
            label="The client’s order number"
            name="orderNumber"
            hint={
              data.orderNumberNeeded && !isCredit
                ? `${data.clientName} needs it on every invoice.`
                : undefined
            }
            value={draft.orderNumber}
            onChange={(orderNumber) => patch({ orderNumber })}
          />
          <TextField
            label="The client’s reference"
            name="buyerReference"
            hint={
              data.referenceNeeded && !isCredit ? `${data.clientName} needs it on every invoice.` : undefined
            }
            value={draft.buyerReference}
            onChange={(buyerReference) => patch({ buyerReference })}
          />
          <TextField
            label="Cost centre"
            name="costCentre"
            hint={
              data.costCentreNeeded && !isCredit ? `${data.clientName} needs it on every invoice.` : undefined
            }
            value={draft.costCentre}
            onChange={(costCentre) => patch({ costCentre })}
          />
        </FieldLine>
        <FieldLine>
          <DateField
            label="Service from"
            name="serviceFrom"
            value={draft.serviceFrom}
            onChange={(serviceFrom) => patch({ serviceFrom })}
          />
          <DateField
            label="Service until"
            name="serviceTo"
            value={draft.serviceTo}
            onChange={(serviceTo) => patch({ serviceTo })}
          />
        </FieldLine>
        <TextArea
          label={isCredit ? 'Why it is credited' : 'A note on the paper'}
          name="note"
          value={draft.note}
          onChange={(note) => patch({ note })}
        />
      </FieldGroup>
    </>
  )
}

/** The sums of what is typed, so that nobody has to save to see them. */
function DraftSums({ data, draft }: { readonly data: InvoicePageData; readonly draft: TypedDraft }) {
  const { invoice, deposits } = data
  const totals = typedTotals(draft, invoice.prepaidMinor, data.cashStepMinor)
  if (typeof totals === 'string') return <p className={css.note}>{totals}</p>
  return (
    <Totals
      isCredit={invoice.kind === 'credit note'}
      today={data.today}
      sums={{
        currency: invoice.currency,
        linesMinor: totals.netMinor,
        allowanceMinor: totals.allowanceMinor,
        chargeMinor: totals.chargeMinor,
        netMinor: totals.taxExclusiveMinor,
        totalMinor: totals.taxInclusiveMinor,
        roundingMinor: totals.roundingMinor,
        payableMinor: totals.payableMinor,
        taxes: totals.taxes,
        deposits,
      }}
    />
  )
}

function Discard({ data, onClose }: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { invoice, corrects } = data
  const navigate = useNavigate()
  const say = useNotice()
  const discard = useAct(
    () => api.invoices.discard.mutate({ invoiceId: invoice.id }),
    () => {
      say('The draft is thrown away.')
      const back = corrects
        ? `/invoices/${corrects.id}`
        : invoice.jobId
          ? `/jobs/${invoice.jobId}/invoice`
          : '/invoices'
      void navigate(back, { state: saved, replace: true })
    },
  )
  return (
    <Confirm
      title="Throw the draft away?"
      sentence="Its lines and words are lost. It has no number yet, so that none is missing afterwards."
      act="Throw the draft away"
      grave
      busy={discard.busy}
      refusal={discard.refusal}
      onConfirm={() => discard.run()}
      onClose={onClose}
    />
  )
}
