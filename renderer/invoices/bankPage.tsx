import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { CheckField, TextField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText, dayText, instantText, moneyText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { BookLineDialog } from './bookLineDialog.tsx'
import css from './invoices.module.css'
import { type BankLine, matchText, reasonText } from './matchWords.ts'

const filters = [
  ['open', 'To be said what for'],
  ['out', 'Went out'],
  ['all', 'All'],
] as const

type Asking = { readonly what: 'book' | 'aside'; readonly line: BankLine } | { readonly what: 'exact' }

/** Lines of bank statements: what came in is matched, and a person confirms it. */
export function BankPage() {
  const place = useTablePlace({ key: 'day', descending: false })
  const filter = filters.find(([name]) => name === place.filter('show'))?.[0] ?? 'open'
  const [asking, setAsking] = useState<Asking>()
  const close = () => setAsking(undefined)
  const list = useAsk(['bank', 'lines', filter, place.page], () =>
    api.bank.lines.query({ filter, page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage } }),
  )
  const exact = (list.data?.lines ?? []).filter(({ matches }) => matches[0]?.isExact)
  return (
    <Page
      title="Bank statements"
      lead="What came in, and what it could be for. Nothing is entered before you confirm it."
      acts={
        <ButtonRow>
          {filter === 'open' && exact.length > 0 ? (
            <Button onClick={() => setAsking({ what: 'exact' })}>
              {`Look at ${countText(exact.length, 'exact match', 'exact matches')}`}
            </Button>
          ) : null}
          <ButtonLink to="/invoices/bank/take" kind="main">
            Take a statement in
          </ButtonLink>
        </ButtonRow>
      }
    >
      <div>
        <fieldset className={css.filters} aria-label="Which lines are shown">
          {filters.map(([name, word]) => (
            <button
              key={name}
              type="button"
              aria-pressed={filter === name}
              onClick={() => place.setFilter('show', name === 'open' ? '' : name)}
            >
              {word}
            </button>
          ))}
        </fieldset>
        <Table
          caption="Lines of bank statements"
          columns={columnsOf(setAsking)}
          rows={list.data?.lines}
          keyOf={({ id }) => id}
          total={list.data?.total ?? 0}
          counted={['line', 'lines']}
          place={place}
          stale={list.stale}
          empty={
            <Empty
              sentence={
                filter === 'open'
                  ? 'Nothing waits. Take in a statement of your bank, CSV or camt.053, to see what was paid.'
                  : 'There is no such line yet.'
              }
            />
          }
        />
      </div>
      <Statements />
      {asking?.what === 'book' ? <BookLineDialog line={asking.line} onClose={close} /> : null}
      {asking?.what === 'aside' ? <SetAsideDialog line={asking.line} onClose={close} /> : null}
      {asking?.what === 'exact' ? <ExactDialog lines={exact} onClose={close} /> : null}
    </Page>
  )
}

function columnsOf(ask: (asking: Asking) => void): readonly Column<BankLine>[] {
  return [
    { key: 'day', head: 'Day', cell: ({ day }) => dayText(day) },
    { key: 'payer', head: 'Who', cell: ({ payer, payerIban }) => payer ?? payerIban ?? '' },
    {
      key: 'text',
      head: 'Text',
      cell: ({ reference, text, isReversal }) => (
        <span className={words.quiet}>
          {[isReversal ? 'The bank undoes an earlier movement.' : null, reference, text]
            .filter(Boolean)
            .join(' ')}
        </span>
      ),
    },
    {
      key: 'amount',
      head: 'Amount',
      figure: true,
      cell: ({ amountMinor, currency }) => moneyText(amountMinor, currency),
    },
    {
      key: 'match',
      head: 'What it could be for',
      cell: (line) => <For line={line} />,
    },
    {
      key: 'act',
      head: 'What is done with it',
      isHeadSpoken: true,
      tight: true,
      cell: (line) => <Acts line={line} ask={ask} />,
    },
  ]
}

function For({ line }: { readonly line: BankLine }) {
  const [best] = line.matches
  if (line.setAsideReason !== null) return <>{`Set aside: ${line.setAsideReason}`}</>
  if (line.amountMinor < 0 || line.isReversal) return null
  const used = line.usedMinor === 0 ? '' : `${moneyText(line.usedMinor, line.currency)} entered. `
  if (line.usedMinor === line.amountMinor) return <>Entered.</>
  if (!best) return <>{`${used}Nothing fits by itself.`}</>
  return (
    <>
      {`${used}${matchText(best, line.currency)}. `}
      <span className={words.quiet}>{reasonText(best)}</span>
    </>
  )
}

function Acts({ line, ask }: { readonly line: BankLine; readonly ask: (asking: Asking) => void }) {
  const back = useAct(() => api.bank.setAside.mutate({ lineId: line.id, reason: null }))
  if (line.setAsideReason !== null) {
    return (
      <Button kind="quiet" busy={back.busy} onClick={() => back.run()}>
        Take it back
      </Button>
    )
  }
  if (line.amountMinor < 0 || line.isReversal || line.usedMinor === line.amountMinor) return null
  const of = `${dayText(line.day)}, ${moneyText(line.amountMinor, line.currency)}`
  return (
    <div className={css.rowActs}>
      <Button aria-label={`Say what the money of ${of} is for`} onClick={() => ask({ what: 'book', line })}>
        Say what for
      </Button>
      <Button
        kind="quiet"
        aria-label={`Set the money of ${of} aside`}
        onClick={() => ask({ what: 'aside', line })}
      >
        Set aside
      </Button>
    </div>
  )
}

function SetAsideDialog({ line, onClose }: { readonly line: BankLine; readonly onClose: () => void }) {
  const [reason, setReason] = useState('')
  const act = useAct(() => api.bank.setAside.mutate({ lineId: line.id, reason }), onClose)
  return (
    <Dialog title="Set the line aside" onClose={onClose}>
      <Form onSubmit={act.run} refusal={act.refusal}>
        <p>It is for no invoice, such as a refund or your own money. It is found again under All.</p>
        <TextField label="Why" name="reason" width="wide" value={reason} onChange={setReason} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            Set it aside
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Every exact match with a tick, all set; they are entered together once a person has looked. */
function ExactDialog({
  lines,
  onClose,
}: {
  readonly lines: readonly BankLine[]
  readonly onClose: () => void
}) {
  const [left, setLeft] = useState<ReadonlySet<number>>(new Set())
  const say = useNotice()
  const ticked = lines.filter(({ id }) => !left.has(id))
  const act = useAct(
    () =>
      api.bank.bookAll.mutate({
        lines: ticked.map(({ id, matches }) => ({
          lineId: id,
          shares: (matches[0]?.shares ?? []).map(({ invoiceId, minor }) => ({ invoiceId, minor })),
          credit: null,
        })),
      }),
    ({ booked }) => {
      say(`${countText(booked, 'line')} entered.`)
      onClose()
    },
  )
  return (
    <Dialog title="Exact matches" wide onClose={onClose}>
      <Form onSubmit={act.run} refusal={act.refusal}>
        <p>Reference or number and amount agree to the cent. Take out what is not right.</p>
        {lines.map((line) => {
          const [match] = line.matches
          return (
            <CheckField
              key={line.id}
              label={`${dayText(line.day)}, ${moneyText(line.amountMinor, line.currency)} from ${line.payer ?? 'an unnamed payer'}: ${match ? matchText(match, line.currency) : ''}`}
              checked={!left.has(line.id)}
              onChange={(isTicked) => {
                const next = new Set(left)
                if (isTicked) next.delete(line.id)
                else next.add(line.id)
                setLeft(next)
              }}
            />
          )
        })}
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy} disabled={ticked.length === 0}>
            {`Enter ${countText(ticked.length, 'line')}`}
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

type Statement = Answers['bank']['statements'][number]

function Statements() {
  const { timeZone } = useStudio()
  const list = useAsk(['bank', 'statements'], () => api.bank.statements.query())
  const [out, setOut] = useState<Statement>()
  const say = useNotice()
  const remove = useAct(
    () => api.bank.removeStatement.mutate({ statementId: out?.id ?? 0 }),
    () => {
      say('The statement is taken out.')
      setOut(undefined)
    },
  )
  if (!list.data || list.data.length === 0) return null
  return (
    <Part title="Statements taken in">
      <Table
        caption="Statements taken in"
        columns={[
          { key: 'file', head: 'File', cell: ({ fileName }) => fileName },
          { key: 'account', head: 'Account', cell: ({ account }) => account },
          { key: 'at', head: 'Taken in', cell: ({ takenInAt }) => instantText(takenInAt, timeZone) },
          { key: 'lines', head: 'Movements', figure: true, cell: ({ lines }) => numberText(lines) },
          {
            key: 'act',
            head: 'Take out',
            isHeadSpoken: true,
            tight: true,
            cell: (statement) =>
              statement.isUsed ? null : (
                <Button
                  kind="quiet"
                  aria-label={`Take ${statement.fileName} out`}
                  onClick={() => setOut(statement)}
                >
                  Take out
                </Button>
              ),
          },
        ]}
        rows={list.data}
        keyOf={({ id }) => id}
        empty={null}
      />
      {out ? (
        <Confirm
          title={`Take ${out.fileName} out?`}
          sentence="Its lines go with it. Nothing was entered from it, so no payment is touched; it can be taken in again."
          act="Take it out"
          busy={remove.busy}
          refusal={remove.refusal}
          onConfirm={() => remove.run()}
          onClose={() => setOut(undefined)}
        />
      ) : null}
    </Part>
  )
}
