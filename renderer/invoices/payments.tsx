import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import css from './invoices.module.css'
import { type InvoicePageData, wayWords } from './invoiceWords.ts'

type Payment = InvoicePageData['payments'][number]

/** What was paid on an invoice; a payment entered by mistake is taken back by its opposite. */
export function Payments({ data }: { readonly data: InvoicePageData }) {
  const { invoice, payments, today } = data
  const [back, setBack] = useState<Payment>()
  const money = (minor: number) => moneyText(minor, invoice.currency)
  const columns: readonly Column<Payment>[] = [
    { key: 'day', head: 'Came in', cell: ({ day }) => dayText(day, today) },
    { key: 'way', head: 'By', cell: ({ way }) => wayWords[way as keyof typeof wayWords] },
    {
      key: 'reference',
      head: 'Reference and note',
      cell: ({ reference, note }) => [reference, note].filter(Boolean).join('; '),
    },
    { key: 'amount', head: 'Amount', figure: true, cell: ({ amountMinor }) => money(amountMinor) },
    { key: 'share', head: 'On this invoice', figure: true, cell: ({ shareMinor }) => money(shareMinor) },
    {
      key: 'act',
      head: 'Take back',
      isHeadSpoken: true,
      tight: true,
      cell: (payment) => {
        if (payment.takesBack) return 'takes one back'
        if (payment.isTakenBack) return 'taken back'
        return (
          <Button
            kind="quiet"
            aria-label={`Take back the payment of ${dayText(payment.day, today)}`}
            onClick={() => setBack(payment)}
          >
            Take back
          </Button>
        )
      },
    },
  ]
  return (
    <>
      <Table
        caption="Payments"
        columns={columns}
        rows={payments}
        keyOf={({ id }) => id}
        empty={<p className={css.note}>Nothing has been paid on it yet.</p>}
      />
      {back ? <TakeBack payment={back} onClose={() => setBack(undefined)} /> : null}
    </>
  )
}

function TakeBack(props: { readonly payment: Payment; readonly onClose: () => void }) {
  const { payment } = props
  const [reason, setReason] = useState('')
  const say = useNotice()
  const takeBack = useAct(
    () => api.invoices.reversePayment.mutate({ paymentId: payment.id, reason }),
    () => {
      say('The payment is taken back.')
      props.onClose()
    },
  )
  return (
    <Dialog title="Take the payment back?" onClose={props.onClose}>
      <Form onSubmit={takeBack.run} refusal={takeBack.refusal}>
        <p>
          {`The opposite of ${moneyText(payment.amountMinor, payment.currency)} of ${dayText(payment.day)} is entered beside it, on every invoice it paid. Both stay to be seen.`}
        </p>
        <TextField label="Why" name="reason" width="wide" value={reason} onChange={setReason} />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={takeBack.busy}>
            Take the payment back
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
