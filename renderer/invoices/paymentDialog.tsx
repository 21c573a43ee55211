import type { Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import css from './invoices.module.css'
import { type InvoicePageData, wayWords } from './invoiceWords.ts'

type Way = keyof typeof wayWords

/** Enters money that came in; it starts at what is open, today, by transfer. */
export function PaymentDialog(props: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { invoice, openMinor, today } = props.data
  const { values, set } = useDraft({
    day: today,
    amountMinor: openMinor > 0 ? openMinor : (null as number | null),
    way: 'transfer' as Way,
    reference: '',
    note: '',
  })
  const say = useNotice()
  const pay = useAct(
    // An amount left empty goes as null: the studio answers with the sentence for its field.
    () => api.invoices.pay.mutate({ ...values, invoiceId: invoice.id } as Asks['invoices']['pay']),
    () => {
      say(`The payment on ${invoice.number} is entered.`)
      props.onClose()
    },
  )
  const tooMuch = values.amountMinor === null ? 0 : values.amountMinor - Math.max(0, openMinor)
  return (
    <Dialog title={`Enter a payment on ${invoice.number}`} onClose={props.onClose}>
      <Form onSubmit={pay.run} refusal={pay.refusal}>
        <FieldLine>
          <MoneyField
            label="Came in"
            name="amountMinor"
            currency={invoice.currency}
            value={values.amountMinor}
            onChange={set('amountMinor')}
          />
          <DateField
            label="On"
            name="day"
            width="narrow"
            max={today}
            value={values.day}
            onChange={set('day')}
          />
          <SelectField
            label="By"
            name="way"
            width="narrow"
            value={values.way}
            options={(Object.keys(wayWords) as Way[]).map((value) => ({ value, label: wayWords[value] }))}
            onChange={set('way')}
          />
        </FieldLine>
        {tooMuch > 0 ? (
          <p className={css.note}>
            {`That is ${moneyText(tooMuch, invoice.currency)} more than is open. It is kept as the client’s credit, for the next invoice.`}
          </p>
        ) : null}
        <TextField
          label="Reference on the statement"
          name="reference"
          width="wide"
          value={values.reference}
          onChange={set('reference')}
        />
        <TextField label="Note" name="note" width="wide" value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={pay.busy}>
            Enter the payment
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
