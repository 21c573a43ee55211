import { addDays } from '../../main/trade/calendar.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Form } from '../parts/form.tsx'
import { dayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Fact, Sheet } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import css from './invoices.module.css'
import { type InvoicePageData, kindWords } from './invoiceWords.ts'
import { LinesTable } from './linesTable.tsx'
import { sumsOf, Totals } from './totals.tsx'

/** Shows the document as its paper will be, says that it never changes afterwards, and asks once. */
export function IssueDialog(props: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { data } = props
  const { invoice } = data
  const say = useNotice()
  const issue = useAct(
    () => api.invoices.issue.mutate({ invoiceId: invoice.id }),
    ({ number, paperId }) => {
      say(`${number} is issued.`)
      props.onClose()
      openPaper(paperId)
    },
  )
  return (
    <Dialog title={`Issue the ${kindWords[invoice.kind].toLowerCase()}?`} wide onClose={props.onClose}>
      <Form onSubmit={issue.run} refusal={issue.refusal}>
        <Paper data={data} />
        <p>
          It is given the next number of its series and today’s date, and never changes afterwards. What is
          wrong then is put right by a credit note.
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={issue.busy}>
            Issue it
          </Button>
          <Button onClick={props.onClose}>Leave it a draft</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function Paper({ data }: { readonly data: InvoicePageData }) {
  const { invoice, today } = data
  const isCredit = invoice.kind === 'credit note'
  const service = [...new Set([invoice.serviceFrom, invoice.serviceTo])].flatMap((day) =>
    day ? [dayText(day)] : [],
  )
  const facts: readonly (readonly [string, string | null | undefined])[] = [
    ['Date', dayText(today)],
    ['Due', isCredit ? null : dayText(addDays(today, data.paymentDays))],
    ['Corrects', data.corrects?.number],
    ['Service', service.join(' to ')],
    ['Your order', invoice.orderNumber],
    ['Your reference', invoice.buyerReference],
    ['Cost centre', invoice.costCentre],
  ]
  return (
    <div className={css.paper}>
      <div className={css.parties}>
        <Recipient data={data} />
        <Sheet>
          {facts.map(([label, value]) =>
            value ? (
              <Fact key={label} label={label}>
                {value}
              </Fact>
            ) : null,
          )}
        </Sheet>
      </div>
      <LinesTable lines={data.lines} currency={invoice.currency} />
      <Totals sums={sumsOf(data)} isCredit={isCredit} today={today} />
      {invoice.note ? <p className={css.lines}>{invoice.note}</p> : null}
    </div>
  )
}

const countryNames = new Intl.DisplayNames('en-GB', { type: 'region' })

/** Whom it goes to, as the client's page has it today. */
function Recipient({ data }: { readonly data: InvoicePageData }) {
  const { clientId } = data.invoice
  const one = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }))
  return (
    <Asked of={one}>
      {({ client }) => (
        <address className={css.lines}>
          {[
            client.name,
            client.street,
            [client.postalCode, client.city].filter(Boolean).join(' '),
            client.region,
            countryNames.of(client.country),
            client.taxNumber,
          ]
            .filter(Boolean)
            .join('\n')}
        </address>
      )}
    </Asked>
  )
}
