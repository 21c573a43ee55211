import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText, dayText, dueText, moneyText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import css from './invoices.module.css'
import { ReminderLevels } from './reminderLevels.tsx'

type Today = Answers['reminders']['today']
type Proposal = Today['proposals'][number]
type Reminded = Proposal['invoices'][number]

/** What could be reminded of today. The program sends nothing: a person does, and writes it down here. */
export function ReminderPage() {
  const today = useAsk(['reminders', 'today'], () => api.reminders.today.query())
  return (
    <Page
      title="Reminders"
      lead="What could be reminded of today by your own levels. Nothing is sent by itself: you send it, and write down here that you did."
    >
      <Asked of={today}>
        {(data) => (
          <>
            <p role="status">{leadOf(data)}</p>
            {data.proposals.length === 0 ? (
              <Empty sentence="Nobody has to be reminded today." />
            ) : (
              data.proposals.map((proposal) => (
                <OneClient
                  key={`${proposal.clientId} ${proposal.currency} ${proposal.invoices.map(({ invoiceId }) => invoiceId).join(' ')}`}
                  proposal={proposal}
                />
              ))
            )}
            <p className={css.note}>
              Interest is simple, by actual days over a year of 365, at the rate of your studio; interest and
              lump sum are a claim beside the invoice and are not booked. Whether, from when and how much may
              be asked differs by country (in the European Union after Directive 2011/7/EU on late payment):
              ask your accountant or lawyer. Rates are set under <Link to="/studio/money">Studio, Money</Link>
              .
            </p>
          </>
        )}
      </Asked>
      <ReminderLevels />
    </Page>
  )
}

function leadOf({ proposals, waiting, exhausted }: Today): string {
  const ready = proposals.reduce((sum, { invoices }) => sum + invoices.length, 0)
  return [
    `${countText(ready, 'invoice')} could be reminded of today`,
    waiting > 0 ? `${numberText(waiting)} late and not at its next level yet` : null,
    exhausted > 0 ? `${numberText(exhausted)} had the last reminder: decide what follows` : null,
  ]
    .filter(Boolean)
    .join('; ')
    .concat('.')
}

function OneClient({ proposal }: { readonly proposal: Proposal }) {
  const { currency, invoices, clientId } = proposal
  const { today } = useStudio()
  const say = useNotice()
  const [left, setLeft] = useState<ReadonlySet<number>>(new Set())
  const [interest, setInterest] = useState<Readonly<Record<number, number | null>>>(
    Object.fromEntries(invoices.map(({ invoiceId, interestMinor }) => [invoiceId, interestMinor])),
  )
  const [lumpSumMinor, setLumpSum] = useState<number | null>(proposal.lumpSumMinor)
  const chosen = invoices.filter(({ invoiceId }) => !left.has(invoiceId))
  const totalMinor = chosen.reduce(
    (sum, { invoiceId, openMinor }) => sum + openMinor + (interest[invoiceId] ?? 0),
    lumpSumMinor ?? 0,
  )
  // An amount left empty goes as null: the studio answers with the sentence for its field.
  const choice = {
    clientId,
    currency,
    invoices: chosen.map(({ invoiceId }) => ({ invoiceId, interestMinor: interest[invoiceId] })),
    lumpSumMinor,
  } as Asks['reminders']['markSent']
  const draft = useAct(
    () => api.reminders.draftPaper.mutate(choice),
    ({ paperId }) => openPaper(paperId),
  )
  const act = useAct(
    () => api.reminders.markSent.mutate(choice),
    ({ paperId }) => {
      say(`The reminder to ${proposal.clientName} is written down. Send the paper that opens.`)
      openPaper(paperId)
    },
  )
  const label = ({ number, openMinor, dueDay, level }: Reminded) =>
    `${number}: ${moneyText(openMinor, currency)}, due ${dayText(dueDay, today)}, ${dueText(dueDay, today)}. Reminder ${level}.`
  return (
    <Part title={`${proposal.clientName}: ${moneyText(totalMinor, currency)}`}>
      <Form
        onSubmit={act.run}
        refusal={act.refusal ?? draft.refusal}
        label={`Reminder to ${proposal.clientName}`}
      >
        {invoices.map((invoice) => (
          <FieldLine key={invoice.invoiceId}>
            <CheckField
              label={label(invoice)}
              checked={!left.has(invoice.invoiceId)}
              onChange={(isTicked) => {
                const next = new Set(left)
                if (isTicked) next.delete(invoice.invoiceId)
                else next.add(invoice.invoiceId)
                setLeft(next)
              }}
            />
            {invoice.interestMinor > 0 ? (
              <MoneyField
                label={`Interest on ${invoice.number}`}
                currency={currency}
                value={interest[invoice.invoiceId] ?? null}
                onChange={(minor) => setInterest({ ...interest, [invoice.invoiceId]: minor })}
              />
            ) : null}
          </FieldLine>
        ))}
        {proposal.lumpSumMinor > 0 ? (
          <MoneyField label="Lump sum" currency={currency} value={lumpSumMinor} onChange={setLumpSum} />
        ) : null}
        <ButtonRow>
          <Button busy={draft.busy} disabled={chosen.length === 0} onClick={() => draft.run()}>
            Look at the paper
          </Button>
          <Button type="submit" busy={act.busy} disabled={chosen.length === 0}>
            {chosen.length === 1 ? 'Mark it as sent' : `Mark one reminder of ${chosen.length} as sent`}
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}
