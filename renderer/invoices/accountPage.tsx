import { useState } from 'react'
import { Link, useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { Empty, Page, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import { AgeingTable } from './ageing.tsx'
import css from './invoices.module.css'
import { PayBackDialog } from './payBackDialog.tsx'
import { PeriodFields } from './periodFields.tsx'
import { commonPeriods, type Period } from './periods.ts'

type Account = Answers['accounts']['ofClient']
type Line = Answers['accounts']['statement']['lines'][number]

/** A client's account: what is open and how old it is, its credit, and the statement of a period. */
export function AccountPage() {
  const id = Number(useParams().clientId)
  const isNumber = Number.isSafeInteger(id) && id > 0
  const one = useAsk(['accounts', 'ofClient', id], () => api.accounts.ofClient.query({ clientId: id }), {
    when: isNumber,
  })
  if (!isNumber) return <NoSuchPage />
  return (
    <Asked of={one} isPage>
      {(account) => <ClientAccount key={account.clientId} account={account} />}
    </Asked>
  )
}

function ClientAccount({ account }: { readonly account: Account }) {
  const { currencies, credit, open } = account
  const studio = useStudio()
  const [chosen, setCurrency] = useState('')
  const currency = chosen || (currencies[0] ?? studio.currency)
  const [isPayingBack, setPayingBack] = useState(false)
  const creditMinor = credit.find((each) => each.currency === currency)?.minor ?? 0
  return (
    <Page
      title={`Account of ${account.name}`}
      lead={leadOf(account)}
      acts={
        <ButtonRow>
          <ButtonLink to={`/clients/${account.clientId}`}>The client</ButtonLink>
          {creditMinor > 0 ? (
            <Button onClick={() => setPayingBack(true)}>
              {`Pay back credit of ${moneyText(creditMinor, currency)}`}
            </Button>
          ) : null}
        </ButtonRow>
      }
    >
      {open.length > 0 ? <AgeingTable sums={open} /> : null}
      {currencies.length > 1 ? (
        <SelectField
          label="Currency"
          width="narrow"
          value={currency}
          options={currencies.map((value) => ({ value, label: value }))}
          onChange={setCurrency}
        />
      ) : null}
      {currencies.length === 0 ? (
        <Empty sentence="Nothing was billed to this client yet." />
      ) : (
        <Statement key={currency} clientId={account.clientId} currency={currency} />
      )}
      {isPayingBack ? (
        <PayBackDialog
          clientId={account.clientId}
          clientName={account.name}
          currency={currency}
          atMostMinor={creditMinor}
          invoiceId={null}
          onClose={() => setPayingBack(false)}
        />
      ) : null}
    </Page>
  )
}

function leadOf({ open, credit }: Account): string {
  const owed = open.map(({ openMinor, currency }) => `${moneyText(openMinor, currency)} open`)
  const kept = credit.map(({ minor, currency }) =>
    minor > 0 ? `${moneyText(minor, currency)} credit` : `${moneyText(-minor, currency)} too much paid back`,
  )
  const said = [...owed, ...kept]
  return said.length === 0 ? 'Nothing is open.' : `${said.join(', ')}.`
}

const kindWords: Readonly<Record<Line['kind'], string>> = {
  invoice: 'Invoice',
  deposit: 'Deposit invoice',
  'credit note': 'Credit note',
  payment: 'Payment',
  'payment taken back': 'Payment taken back',
  'paid back': 'Paid back',
  'write-off': 'Written off',
  'write-off taken back': 'Write-off taken back',
}

function Statement({ clientId, currency }: { readonly clientId: number; readonly currency: string }) {
  const { today } = useStudio()
  const [period, setPeriod] = useState(commonPeriods(today)[4]?.[1] ?? { fromDay: today, toDay: today })
  const isWhole = lackOf(period) === null
  const statement = useAsk(
    ['accounts', 'statement', clientId, currency, period],
    () => api.accounts.statement.query({ clientId, currency, ...period }),
    { when: isWhole },
  )
  const write = useAct(
    () => api.clientPapers.statement.mutate({ clientId, currency, ...period }),
    ({ paperId }) => openPaper(paperId),
  )
  return (
    <Part
      title={`Statement of account in ${currency}`}
      acts={
        <Button busy={write.busy} disabled={!isWhole} onClick={() => write.run()}>
          Statement as a paper
        </Button>
      }
    >
      {write.refusal ? <FormRefusal sentence={write.refusal.sentence} /> : null}
      <PeriodFields period={period} today={today} onChange={setPeriod} />
      {isWhole ? (
        <Asked of={statement}>
          {(data) => (
            <>
              <p>{`${moneyText(data.openingMinor, currency)} at the beginning of ${dayText(data.fromDay)}.`}</p>
              <Table
                caption="Documents and payments with the balance after each"
                columns={columnsOf(currency)}
                rows={data.lines.map((line, index) => ({ ...line, index }))}
                keyOf={({ index }) => index}
                empty={<p className={css.note}>Nothing moved in these days.</p>}
              />
              <p>{`${moneyText(data.closingMinor, currency)} at the end of ${dayText(data.toDay)}.`}</p>
            </>
          )}
        </Asked>
      ) : (
        // The statement of other days must not stand under these: its sums would be read as theirs.
        <p className={css.note}>{lackOf(period)}</p>
      )}
    </Part>
  )
}

/** What is missing or wrong about two days, or null where a statement can be made of them. */
function lackOf({ fromDay, toDay }: Period): string | null {
  if (fromDay === '' || toDay === '') return 'Enter the first day and the last.'
  return toDay < fromDay ? 'The last day is before the first.' : null
}

function columnsOf(currency: string): readonly Column<Line & { index: number }>[] {
  return [
    { key: 'day', head: 'Day', cell: ({ day }) => dayText(day) },
    { key: 'kind', head: 'What', cell: ({ kind }) => kindWords[kind] },
    {
      key: 'text',
      head: 'Number or reference',
      cell: ({ invoiceId, text }) =>
        invoiceId === null ? text : <Link to={`/invoices/${invoiceId}`}>{text}</Link>,
    },
    { key: 'due', head: 'Due', cell: ({ dueDay }) => (dueDay === null ? '' : dayText(dueDay)) },
    {
      key: 'amount',
      head: 'Amount',
      figure: true,
      cell: ({ amountMinor }) => moneyText(amountMinor, currency),
    },
    {
      key: 'balance',
      head: 'Balance',
      figure: true,
      cell: ({ balanceMinor }) => moneyText(balanceMinor, currency),
    },
  ]
}
