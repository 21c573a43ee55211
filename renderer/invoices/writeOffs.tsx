import { useState } from 'react'
import type { Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import css from './invoices.module.css'
import type { InvoicePageData } from './invoiceWords.ts'

type WriteOff = InvoicePageData['writeOffs'][number]

/** What was given up of an invoice and why; one by mistake is taken back by its opposite. */
export function WriteOffs({ data }: { readonly data: InvoicePageData }) {
  const [back, setBack] = useState<WriteOff>()
  const columns: readonly Column<WriteOff>[] = [
    { key: 'day', head: 'Written off', cell: ({ day }) => dayText(day, data.today) },
    { key: 'reason', head: 'Why', cell: ({ reason }) => reason },
    {
      key: 'amount',
      head: 'Amount',
      figure: true,
      cell: ({ amountMinor }) => moneyText(amountMinor, data.invoice.currency),
    },
    {
      key: 'act',
      head: 'Take back',
      isHeadSpoken: true,
      tight: true,
      cell: (row) => {
        if (row.amountMinor < 0) return 'takes one back'
        if (row.isTakenBack) return 'taken back'
        return (
          <Button
            kind="quiet"
            aria-label={`Take back the write-off of ${dayText(row.day, data.today)}`}
            onClick={() => setBack(row)}
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
        caption="Write-offs"
        columns={columns}
        rows={data.writeOffs}
        keyOf={({ id }) => id}
        empty={null}
      />
      {back ? <TakeBack row={back} onClose={() => setBack(undefined)} /> : null}
    </>
  )
}

function TakeBack({ row, onClose }: { readonly row: WriteOff; readonly onClose: () => void }) {
  const [reason, setReason] = useState('')
  const say = useNotice()
  const act = useAct(
    () => api.accounts.reverseWriteOff.mutate({ writeOffId: row.id, reason }),
    () => {
      say('The write-off is taken back.')
      onClose()
    },
  )
  return (
    <Dialog title="Take the write-off back?" onClose={onClose}>
      <Form onSubmit={act.run} refusal={act.refusal}>
        <p>Its opposite is entered beside it, and the amount is open again. Both stay to be seen.</p>
        <TextField label="Why" name="reason" width="wide" value={reason} onChange={setReason} />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={act.busy}>
            Take the write-off back
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Gives up a part or the whole of what is open. */
export function WriteOffDialog(props: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { invoice, openMinor } = props.data
  const [amountMinor, setAmount] = useState<number | null>(openMinor)
  const [reason, setReason] = useState('')
  const say = useNotice()
  const act = useAct(
    // An amount left empty goes as null: the studio answers with the sentence for its field.
    () =>
      api.accounts.writeOff.mutate({
        invoiceId: invoice.id,
        amountMinor,
        reason,
      } as Asks['accounts']['writeOff']),
    () => {
      say(`It is written off on ${invoice.number}.`)
      props.onClose()
    },
  )
  return (
    <Dialog title={`Write off what is open on ${invoice.number}`} onClose={props.onClose}>
      <Form onSubmit={act.run} refusal={act.refusal}>
        <MoneyField
          label="Written off"
          name="amountMinor"
          currency={invoice.currency}
          value={amountMinor}
          onChange={setAmount}
        />
        <TextField label="Why" name="reason" width="wide" value={reason} onChange={setReason} />
        <p className={css.note}>
          The invoice stays as it was issued; what is given up is no longer asked for. Whether and when the
          tax on it can be taken back differs by country: ask your accountant.
        </p>
        <ButtonRow>
          <Button type="submit" kind="grave" busy={act.busy}>
            Write it off
          </Button>
          <Button onClick={props.onClose}>Leave it open</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
