import { useState } from 'react'
import { Link } from 'react-router'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayText, dueText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Fact, Page, Part, Sheet } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { CreditDialog } from './creditDialog.tsx'
import css from './invoices.module.css'
import { type InvoicePageData, standingWords, titleOf } from './invoiceWords.ts'
import { JobLinks } from './jobLinks.tsx'
import { LinesTable } from './linesTable.tsx'
import { PayBackDialog } from './payBackDialog.tsx'
import { PaymentDialog } from './paymentDialog.tsx'
import { Payments } from './payments.tsx'
import { sumsOf, Totals } from './totals.tsx'
import { WriteOffDialog, WriteOffs } from './writeOffs.tsx'

/** An issued document: its paper, what was paid, what is open, and the credit notes on it. */
export function IssuedInvoice({ data }: { readonly data: InvoicePageData }) {
  const { invoice, openMinor, credit, creditNotes } = data
  const isCredit = invoice.kind === 'credit note'
  const [open, setOpen] = useState<'pay' | 'credit' | 'write off' | 'pay back'>()
  const say = useNotice()
  const paper = useAct(
    () => api.invoices.paper.mutate({ invoiceId: invoice.id }),
    ({ paperId }) => openPaper(paperId),
  )
  const ubl = useAct(
    () => api.invoices.ubl.mutate({ invoiceId: invoice.id }),
    ({ paperId }) => openPaper(paperId),
  )
  const useCredit = useAct(
    () => api.invoices.useCredit.mutate({ invoiceId: invoice.id }),
    () => say(`The client’s credit is set against ${invoice.number}.`),
  )
  const refusal = paper.refusal ?? ubl.refusal ?? useCredit.refusal
  const hasDraftCredit = creditNotes.some(({ state }) => state === 'draft')
  const leftToCredit = creditNotes.reduce((left, { totalMinor }) => left - totalMinor, invoice.totalMinor)
  return (
    <Page
      title={titleOf(data)}
      lead={<Standing data={data} />}
      acts={
        <ButtonRow>
          <Button busy={paper.busy} onClick={() => paper.run()}>
            Open the paper
          </Button>
          <Button busy={ubl.busy} onClick={() => ubl.run()}>
            Electronic invoice (UBL)
          </Button>
          {isCredit || hasDraftCredit || leftToCredit <= 0 ? null : (
            <Button onClick={() => setOpen('credit')}>Write a credit note</Button>
          )}
          {!isCredit && credit > 0 && openMinor > 0 ? (
            <Button busy={useCredit.busy} onClick={() => useCredit.run()}>
              {`Use the client’s credit of ${moneyText(credit, invoice.currency)}`}
            </Button>
          ) : null}
          {!isCredit && openMinor > 0 ? (
            <Button onClick={() => setOpen('write off')}>Write off</Button>
          ) : null}
          {!isCredit && openMinor < 0 ? (
            <Button onClick={() => setOpen('pay back')}>Enter what was paid back</Button>
          ) : null}
          {isCredit ? null : (
            <Button kind={openMinor > 0 ? 'main' : 'plain'} onClick={() => setOpen('pay')}>
              Enter a payment
            </Button>
          )}
        </ButtonRow>
      }
    >
      {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
      <Columns aside>
        <div>
          <LinesTable lines={data.lines} currency={invoice.currency} />
          <Totals
            sums={sumsOf(data)}
            isCredit={isCredit}
            today={data.today}
            {...(isCredit ? {} : { settled: { openMinor, how: settledBy(data) } })}
          />
        </div>
        <div className={css.aside}>
          <Facts data={data} />
          <p className={css.note}>
            The electronic invoice is UBL 2.1 after EN 16931, the European core. What a country or a network
            asks for besides is not checked: ask whoever receives it.
          </p>
        </div>
      </Columns>
      {isCredit ? null : (
        <Part title="Payments">
          <Payments data={data} />
        </Part>
      )}
      {data.writeOffs.length > 0 ? (
        <Part title="Written off">
          <WriteOffs data={data} />
        </Part>
      ) : null}
      {open === 'write off' ? <WriteOffDialog data={data} onClose={() => setOpen(undefined)} /> : null}
      {open === 'pay back' ? (
        <PayBackDialog
          clientId={invoice.clientId}
          clientName={data.clientName}
          currency={invoice.currency}
          atMostMinor={-openMinor}
          invoiceId={invoice.id}
          onClose={() => setOpen(undefined)}
        />
      ) : null}
      {open === 'pay' ? <PaymentDialog data={data} onClose={() => setOpen(undefined)} /> : null}
      {open === 'credit' ? <CreditDialog data={data} onClose={() => setOpen(undefined)} /> : null}
    </Page>
  )
}

/** In a sentence: whose it is, what is open, and since when. */
function Standing({ data }: { readonly data: InvoicePageData }) {
  const { invoice, standing, openMinor, clientName, today } = data
  const money = moneyText(Math.abs(openMinor), invoice.currency)
  if (standing === 'due' || standing === 'overdue') {
    return (
      <>
        {`${clientName}: `}
        <span className={standing === 'overdue' ? words.late : undefined}>
          {`${money} open, ${dueText(invoice.dueDay ?? today, today)}`}
        </span>
      </>
    )
  }
  if (standing === 'overpaid') return <>{`${clientName}: ${money} more was paid or credited than is due`}</>
  if (standing === 'paid') return <>{`${clientName}: ${settledBy(data)}`}</>
  return <>{`${clientName}: ${standingWords[standing]}`}</>
}

/** How an invoice came to owe less or nothing: `paid, credited and written off`. */
function settledBy({ payments, creditNotes, writeOffs }: InvoicePageData): string {
  const paidMinor = payments.reduce((sum, { shareMinor }) => sum + shareMinor, 0)
  const writtenOffMinor = writeOffs.reduce((sum, { amountMinor }) => sum + amountMinor, 0)
  const ways = [
    paidMinor === 0 ? [] : 'paid',
    creditNotes.some(({ state }) => state === 'issued') ? 'credited' : [],
    writtenOffMinor === 0 ? [] : 'written off',
  ].flat()
  return ways.length === 0 ? 'paid' : new Intl.ListFormat('en-GB').format(ways)
}

function Facts({ data }: { readonly data: InvoicePageData }) {
  const { invoice, corrects, creditNotes, jobNumber, jobs, deliveries, today } = data
  return (
    <Sheet>
      {invoice.jobId === null ? null : (
        <Fact label="Job">
          <Link to={`/jobs/${invoice.jobId}/invoice`}>{jobNumber}</Link>
        </Fact>
      )}
      {invoice.jobId === null && jobs.length > 0 ? (
        <Fact label="Jobs">
          <JobLinks jobs={jobs} />
        </Fact>
      ) : null}
      {deliveries.length > 0 ? <Fact label="Bills">{deliveries.join(', ')}</Fact> : null}
      <Fact label="Client">
        <Link to={`/invoices/accounts/${invoice.clientId}`}>{`Account of ${data.clientName}`}</Link>
      </Fact>
      {data.reminders.map(({ level, day, paperId }) => (
        <Fact key={level} label={`Reminder ${level}`}>
          {dayText(day, today)}
          {paperId === null ? null : (
            <Button kind="quiet" onClick={() => openPaper(paperId)}>
              Open it
            </Button>
          )}
        </Fact>
      ))}
      <Fact label="Issued">{invoice.issueDay ? dayText(invoice.issueDay, today) : ''}</Fact>
      {invoice.kind === 'credit note' ? null : (
        <Fact label="Due">{invoice.dueDay ? dayText(invoice.dueDay, today) : ''}</Fact>
      )}
      {corrects ? (
        <Fact label="Corrects">
          <Link to={`/invoices/${corrects.id}`}>{corrects.number}</Link>
        </Fact>
      ) : null}
      {creditNotes.map(({ id, number, totalMinor }) => (
        <Fact key={id} label="Credited by">
          <Link to={`/invoices/${id}`}>{number ?? 'a draft'}</Link>
          {`, ${moneyText(totalMinor, invoice.currency)}`}
        </Fact>
      ))}
      {invoice.serviceFrom ? (
        <Fact label="Service">
          {[...new Set([invoice.serviceFrom, invoice.serviceTo ?? invoice.serviceFrom])]
            .map((day) => dayText(day, today))
            .join(' to ')}
        </Fact>
      ) : null}
      {invoice.orderNumber ? <Fact label="Order number">{invoice.orderNumber}</Fact> : null}
      {invoice.buyerReference ? <Fact label="Reference">{invoice.buyerReference}</Fact> : null}
      {invoice.costCentre ? <Fact label="Cost centre">{invoice.costCentre}</Fact> : null}
      {invoice.paymentReference ? (
        <Fact label="To be paid with">
          <span className={words.mono}>{invoice.paymentReference}</span>
        </Fact>
      ) : null}
      {invoice.note ? (
        <Fact label="Note">
          <span className={css.lines}>{invoice.note}</span>
        </Fact>
      ) : null}
    </Sheet>
  )
}
