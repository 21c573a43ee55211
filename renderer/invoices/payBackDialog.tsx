import type { Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './invoices.module.css'

/** Enters money that was paid back to a client: its credit, or what was paid too much on one invoice. */
export function PayBackDialog(props: {
  readonly clientId: number
  readonly clientName: string
  readonly currency: string
  readonly atMostMinor: number
  readonly invoiceId: number | null
  readonly onClose: () => void
}) {
  const { clientId, clientName, currency, atMostMinor, invoiceId, onClose } = props
  const { today } = useStudio()
  const { values, set } = useDraft({ day: today, amountMinor: atMostMinor as number | null, note: '' })
  const say = useNotice()
  const back = useAct(
    // An amount left empty goes as null: the studio answers with the sentence for its field.
    () =>
      api.accounts.payBack.mutate({
        ...values,
        clientId,
        currency,
        invoiceId,
        way: 'transfer',
        reference: null,
      } as Asks['accounts']['payBack']),
    () => {
      say('What was paid back is entered.')
      onClose()
    },
  )
  return (
    <Dialog title={`Enter what was paid back to ${clientName}`} onClose={onClose}>
      <Form onSubmit={back.run} refusal={back.refusal}>
        <p className={css.note}>
          {`At most ${moneyText(atMostMinor, currency)} can be paid back. This sends no money: pay it at your bank, then enter it here.`}
        </p>
        <FieldLine>
          <MoneyField
            label="Paid back"
            name="amountMinor"
            currency={currency}
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
        </FieldLine>
        <TextField label="Note" name="note" width="wide" value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={back.busy}>
            Enter it
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
