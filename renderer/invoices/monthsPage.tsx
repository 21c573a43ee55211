import { useState } from 'react'
import { Link, useNavigate } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { Button } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

type Month = Answers['invoices']['months'][number]
const isMonth = /^20[0-9]{2}-(0[1-9]|1[0-2])$/

/** Clients that want one invoice a month: what a month would hold, over all their jobs. */
export function MonthsPage() {
  const { today } = useStudio()
  const [month, setMonth] = useState(monthBefore(today))
  const months = useAsk(['invoices', 'months', month], () => api.invoices.months.query({ month }), {
    when: isMonth.test(month),
  })
  const navigate = useNavigate()
  const say = useNotice()
  const draft = useAct(
    ({ clientId }: Month) => api.invoices.draftMonth.mutate({ clientId, month }),
    ({ invoiceIds }) => {
      if (invoiceIds.length > 1) {
        say(`${invoiceIds.length} drafts are made: what differs in currency or order number stands apart.`)
      }
      void navigate(invoiceIds.length > 1 ? '/invoices?show=drafts' : `/invoices/${invoiceIds[0]}`)
    },
  )
  return (
    <Page title="Invoices by the month" lead="Clients that want one invoice a month over all their jobs">
      <TextField
        label="Month"
        name="month"
        hint="What went out until its end and is not billed. Year and month, such as 2026-03."
        value={month}
        refusal={isMonth.test(month) ? undefined : 'A month is a year and a month, such as 2026-03.'}
        onChange={setMonth}
      />
      {draft.refusal ? <FormRefusal sentence={draft.refusal.sentence} /> : null}
      <Table
        caption="What a month’s invoice would hold, by client"
        columns={columnsOf(draft.busy, draft.run)}
        rows={months.data}
        keyOf={({ clientId, currency }) => `${clientId} ${currency}`}
        stale={months.stale}
        empty={
          <Empty sentence="Nothing waits to be billed by the month. Which clients are is set on a client’s own page." />
        }
      />
    </Page>
  )
}

function columnsOf(busy: boolean, draft: (month: Month) => void): readonly Column<Month>[] {
  return [
    {
      key: 'client',
      head: 'Client',
      cell: ({ clientId, name }) => <Link to={`/clients/${clientId}`}>{name}</Link>,
    },
    { key: 'jobs', head: 'Jobs', cell: ({ jobs }) => jobs.map(({ number }) => number).join(', ') },
    {
      key: 'net',
      head: 'Before tax',
      figure: true,
      cell: ({ netMinor, currency }) => moneyText(netMinor, currency),
    },
    {
      key: 'act',
      head: 'Draft',
      isHeadSpoken: true,
      tight: true,
      cell: (month) => (
        <Button busy={busy} aria-label={`Draft the invoice of ${month.name}`} onClick={() => draft(month)}>
          Draft the invoice
        </Button>
      ),
    },
  ]
}

function monthBefore(today: string): string {
  const [year = 0, month = 1] = today.split('-').map(Number)
  return month === 1 ? `${year - 1}-12` : `${year}-${String(month - 1).padStart(2, '0')}`
}
