import { useState } from 'react'
import { useNavigate } from 'react-router'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldTable, FigureCell } from '../parts/fieldTable.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { saved } from '../parts/leaveGuard.tsx'
import { api, useAct } from '../shell/api.ts'
import css from './invoices.module.css'
import { type InvoicePageData, quantityText } from './invoiceWords.ts'

/** Drafts a credit note: the whole invoice, or how much of each line. It is looked at once more before issue. */
export function CreditDialog(props: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { invoice, lines, creditNotes } = props.data
  const isFirst = creditNotes.length === 0
  const { values, set } = useDraft({ reason: '', extent: isFirst ? ('whole' as 'whole' | 'lines') : 'lines' })
  const [quantities, setQuantities] = useState<ReadonlyMap<number, number | null>>(new Map())
  const [isNothingChosen, setNothingChosen] = useState(false)
  const navigate = useNavigate()
  const part = lines.flatMap(({ id }) => {
    const quantityMilli = quantities.get(id) ?? null
    return quantityMilli === null || quantityMilli === 0 ? [] : [{ lineId: id, quantityMilli }]
  })
  const credit = useAct(
    () =>
      api.invoices.draftCredit.mutate({
        invoiceId: invoice.id,
        reason: values.reason,
        part: values.extent === 'whole' ? null : part,
      }),
    ({ invoiceId }) => {
      void navigate(`/invoices/${invoiceId}`, { state: saved })
    },
  )
  const submit = () => {
    const isNothing = values.extent === 'lines' && part.length === 0
    setNothingChosen(isNothing)
    if (!isNothing) credit.run()
  }
  return (
    <Dialog title={`Credit note on ${invoice.number}`} wide onClose={props.onClose}>
      <Form onSubmit={submit} refusal={credit.refusal}>
        <TextField
          label="Why it is credited"
          name="reason"
          width="wide"
          hint="Stands on the credit note."
          value={values.reason}
          onChange={set('reason')}
        />
        <SelectField
          label="How much"
          value={values.extent}
          options={[
            ...(isFirst ? [{ value: 'whole' as const, label: 'The whole invoice' }] : []),
            { value: 'lines' as const, label: 'Some of its lines' },
          ]}
          onChange={set('extent')}
        />
        {values.extent === 'lines' ? (
          <FieldTable
            caption="How much of each line is credited"
            columns={[
              { head: 'Line', width: 300 },
              { head: 'Billed', figure: true, width: 110 },
              { head: 'Credited', figure: true, width: 110 },
            ]}
          >
            {lines.map((line) => (
              <tr key={line.id}>
                <th scope="row">{line.text}</th>
                <FigureCell>{quantityText(line.quantityMilli, line.unit)}</FigureCell>
                <td>
                  <NumberField
                    label={`Credited of ${line.text}`}
                    places={3}
                    value={quantities.get(line.id) ?? null}
                    onChange={(milli) => setQuantities((before) => new Map(before).set(line.id, milli))}
                  />
                </td>
              </tr>
            ))}
          </FieldTable>
        ) : null}
        {isNothingChosen && part.length === 0 ? (
          <p className={css.note} role="alert">
            No quantity is entered. Enter how much of at least one line is credited.
          </p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={credit.busy}>
            Draft the credit note
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
