import { useState } from 'react'
import type { Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './invoices.module.css'
import { type BankLine, type Match, matchText, reasonText } from './matchWords.ts'

interface Share {
  readonly invoiceId: number
  readonly number: string
  readonly minor: number | null
}

/** Says what money that came in is for: one invoice or several, the rest as credit or left on the line. */
export function BookLineDialog({ line, onClose }: { readonly line: BankLine; readonly onClose: () => void }) {
  const { currency } = line
  const freeMinor = line.amountMinor - line.usedMinor
  const [first] = line.matches
  const [shares, setShares] = useState<readonly Share[]>(first?.shares ?? [])
  const [creditTo, setCreditTo] = useState(first && first.shares.length === 0 ? String(first.clientId) : '')
  const open = useAsk(['bank', 'openInvoices', currency], () => api.bank.openInvoices.query({ currency }))
  const clients = useAsk(['clients', 'names'], () => api.clients.names.query())
  const say = useNotice()
  const leftMinor = shares.reduce((left, { minor }) => left - (minor ?? 0), freeMinor)
  const act = useAct(
    // An amount left empty goes as null: the studio answers with the sentence for its field.
    () =>
      api.bank.book.mutate({
        lineId: line.id,
        shares: shares.map(({ invoiceId, minor }) => ({ invoiceId, minor })),
        credit: creditTo === '' || leftMinor <= 0 ? null : { clientId: Number(creditTo), minor: leftMinor },
      } as Asks['bank']['book']),
    () => {
      say('The payment is entered.')
      onClose()
    },
  )
  const take = (match: Match) => {
    setShares(match.shares)
    setCreditTo(match.shares.length === 0 ? String(match.clientId) : '')
  }
  const choosable = (open.data ?? []).filter(
    ({ invoiceId }) => !shares.some((share) => share.invoiceId === invoiceId),
  )
  return (
    <Dialog title={`${moneyText(freeMinor, currency)} of ${dayText(line.day)}`} wide onClose={onClose}>
      <Form onSubmit={act.run} refusal={act.refusal}>
        <p className={css.note}>{[line.payer, line.reference, line.text].filter(Boolean).join('\n')}</p>
        {line.matches.map((match) => (
          <div key={`${match.why} ${matchText(match, currency)}`} className={css.acts}>
            <Button onClick={() => take(match)}>{matchText(match, currency)}</Button>
            <span className={css.note}>{reasonText(match)}</span>
          </div>
        ))}
        {shares.map((share, index) => (
          <FieldLine key={share.invoiceId}>
            <MoneyField
              label={`For ${share.number}`}
              name={`shares.${index}.minor`}
              currency={currency}
              value={share.minor}
              onChange={(minor) =>
                setShares(shares.map((each) => (each === share ? { ...share, minor } : each)))
              }
            />
            <Button
              kind="quiet"
              aria-label={`Not for ${share.number}`}
              onClick={() => setShares(shares.filter((each) => each !== share))}
            >
              Not for this
            </Button>
          </FieldLine>
        ))}
        <FieldLine>
          <SelectField
            label="For an invoice"
            value=""
            empty="Choose an open invoice"
            options={choosable.map(({ invoiceId, number, clientName, openMinor }) => ({
              value: String(invoiceId),
              label: `${number}, ${clientName}, ${moneyText(openMinor, currency)} open`,
            }))}
            onChange={(id) => {
              const invoice = choosable.find(({ invoiceId }) => String(invoiceId) === id)
              if (!invoice) return
              const minor = Math.max(0, Math.min(leftMinor, invoice.openMinor))
              setShares([...shares, { invoiceId: invoice.invoiceId, number: invoice.number, minor }])
            }}
          />
          <SelectField
            label="What is left is the credit of"
            value={creditTo}
            empty="nobody: leave it on the line"
            options={(clients.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
            onChange={setCreditTo}
          />
        </FieldLine>
        <p role="status">
          {leftMinor < 0
            ? `${moneyText(-leftMinor, currency)} more than came in. Make a part smaller.`
            : leftMinor === 0
              ? 'All of it is used.'
              : creditTo === ''
                ? `${moneyText(leftMinor, currency)} stays on the line, to be said later.`
                : `${moneyText(leftMinor, currency)} is kept as credit.`}
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            Enter it
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
