import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, dayText, moneyText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Page, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { decodeList } from '../products/decodeList.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './invoices.module.css'
import { StatementColumns } from './statementColumns.tsx'

type Looked = Answers['bank']['look']
export type CsvLooked = Extract<Looked, { format: 'csv' }>
export type Mapping = CsvLooked['mapping']

interface Picked {
  readonly fileName: string
  readonly text: string
  readonly look: Looked
  readonly mapping: Mapping | null
  /** Counts the files picked, so that an answer is never taken for that of another file. */
  readonly count: number
}

let filesPicked = 0

/** Takes a bank's statement in: the file, how it reads, and only then its movements. */
export function TakeStatement() {
  const [picked, setPicked] = useState<Picked>()
  const [tried, setTried] = useState('')
  const look = useAct(async (file: File) => {
    setTried(file.name)
    const text = decodeList(new Uint8Array(await file.arrayBuffer()))
    const looked = await api.bank.look.query({ text })
    filesPicked += 1
    setPicked({
      fileName: file.name,
      text,
      look: looked,
      mapping: looked.format === 'csv' ? looked.mapping : null,
      count: filesPicked,
    })
  })
  return (
    <Page
      title="Take a bank statement in"
      lead="CSV as your bank writes it, or camt.053. You see how it reads before anything is kept; nothing is booked by it."
    >
      <div className={css.file}>
        <FileDrop
          label={picked ? picked.fileName : 'Drop the statement here'}
          act={picked ? 'Pick another file' : 'Pick a file'}
          hint="Up to 20 MB. A statement taken in twice adds nothing."
          accept=".csv,.txt,.xml,text/csv,text/xml,application/xml"
          busy={look.busy}
          onFile={look.run}
        />
        {look.refusal ? <FormRefusal sentence={`${tried}: ${look.refusal.sentence}`} /> : null}
      </div>
      {picked ? (
        <>
          {picked.look.format === 'csv' && picked.mapping ? (
            <Part title="What the columns are">
              <StatementColumns
                look={picked.look}
                mapping={picked.mapping}
                onChange={(mapping) => setPicked({ ...picked, mapping })}
              />
            </Part>
          ) : null}
          <Reading key={picked.count} picked={picked} />
        </>
      ) : null}
    </Page>
  )
}

function Reading({ picked }: { readonly picked: Picked }) {
  const { text, mapping, look, fileName } = picked
  const [keepAs, setKeepAs] = useState(look.format === 'csv' ? (look.bank ?? '') : '')
  const navigate = useNavigate()
  const say = useNotice()
  const file = { text, mapping } as Asks['bank']['preview']
  const preview = useAsk(['bank', 'preview', picked.count, mapping], () => api.bank.preview.query(file))
  const take = useAct(
    () => api.bank.take.mutate({ ...file, fileName, keepAs }),
    ({ added }) => {
      say(`${countText(added, 'movement')} taken in.`)
      void navigate('/invoices/bank')
    },
  )
  if (preview.refusal) return <FormRefusal sentence={preview.refusal.sentence} />
  if (!preview.data) return <p aria-busy="true">Reading the statement</p>
  const { newMovements, known, alike, pending, unread, unreadCount, first, fromDay, toDay, account } =
    preview.data
  const said = [
    `${countText(newMovements, 'new movement')}`,
    known > 0 ? `${numberText(known)} known already and passed over` : null,
    pending > 0 ? `${numberText(pending)} not booked by the bank yet and left out` : null,
    unreadCount > 0 ? `${countText(unreadCount, 'line')} that cannot be read` : null,
  ].filter(Boolean)
  return (
    <Part title="How it reads">
      <p role="status">
        {`${said.join(', ')}.`}
        {fromDay && toDay ? ` ${dayText(fromDay)} to ${dayText(toDay)}, account ${account}.` : ''}
      </p>
      {alike > 0 ? (
        <FormRefusal
          sentence={`${countText(alike, 'movement')} of the same day and amount came in another file already. Perhaps they are told twice: look before you take them in.`}
        />
      ) : null}
      <Table
        caption="The first movements as they read"
        columns={[
          { key: 'day', head: 'Day', cell: ({ day }) => dayText(day) },
          {
            key: 'amount',
            head: 'Amount',
            figure: true,
            cell: ({ amountMinor, currency }) => moneyText(amountMinor, currency),
          },
          { key: 'payer', head: 'Who', cell: ({ payer }) => payer ?? '' },
          { key: 'reference', head: 'Reference', cell: ({ reference }) => reference ?? '' },
          { key: 'said', head: 'Text', cell: (movement) => movement.text },
        ]}
        rows={first.map((movement, index) => ({ ...movement, index }))}
        keyOf={({ index }) => index}
        empty={<p className={css.note}>No movement can be read this way.</p>}
      />
      {unread.length > 0 ? (
        <Table
          caption="Lines that cannot be read"
          columns={[
            { key: 'line', head: 'Line', figure: true, tight: true, cell: ({ line }) => line },
            { key: 'reason', head: 'Why it is left out', cell: ({ reason }) => reason },
          ]}
          rows={unread}
          keyOf={({ line }) => line}
          empty={null}
        />
      ) : null}
      <Form onSubmit={take.run} refusal={take.refusal}>
        {mapping ? (
          <TextField
            label="Keep how this bank’s files are read, as"
            name="keepAs"
            hint="The bank’s name. The next file with the same columns is read the same way."
            value={keepAs}
            onChange={setKeepAs}
          />
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={take.busy} disabled={newMovements === 0}>
            {`Take ${countText(newMovements, 'movement')} in`}
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}
