import { Button } from '../parts/button.tsx'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldTable } from '../parts/fieldTable.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { taxOf } from './draftLines.tsx'
import { freshKey, type Tax, type TypedAdjustment } from './draftValue.ts'
import css from './invoices.module.css'
import { type TaxChoice, taxValue } from './taxChoices.ts'

/** What is taken off, or put on, the document as a whole; each bears tax of its own. */
export function DraftAdjustments(props: {
  readonly adjustments: readonly TypedAdjustment[]
  readonly currency: string
  readonly taxes: readonly TaxChoice[]
  /** The tax a new one starts with. */
  readonly usual: Tax | undefined
  readonly onChange: (adjustments: readonly TypedAdjustment[]) => void
}) {
  const { adjustments, taxes, onChange } = props
  const patch = (at: number, some: Partial<TypedAdjustment>) =>
    onChange(adjustments.map((one, index) => (index === at ? { ...one, ...some } : one)))
  const add = (kind: TypedAdjustment['kind']) => {
    const {
      category = 'S',
      ratePpm = 0,
      namedRates = [],
      exemptionReason = null,
    } = props.usual ?? taxes[0] ?? {}
    const tax = { category, ratePpm, namedRates, exemptionReason }
    onChange([...adjustments, { kind, reason: '', amountMinor: null, ...tax, key: freshKey() }])
  }
  return (
    <>
      {adjustments.length === 0 ? null : (
        <FieldTable
          caption="Allowances and charges"
          columns={[
            { head: 'Which', width: 128 },
            { head: 'Why', width: 220 },
            { head: 'Amount', figure: true, width: 132 },
            { head: 'Tax', width: 160 },
            { head: 'Take away', isHeadSpoken: true },
          ]}
        >
          {adjustments.map((one, index) => (
            <tr key={one.key}>
              <td>
                <SelectField
                  label={`Which, ${index + 1}`}
                  value={one.kind}
                  options={[
                    { value: 'allowance', label: 'Taken off' },
                    { value: 'charge', label: 'Put on' },
                  ]}
                  onChange={(kind) => patch(index, { kind })}
                />
              </td>
              <td>
                <TextField
                  label={`Why, ${index + 1}`}
                  name={`adjustments.${index}.reason`}
                  value={one.reason}
                  onChange={(reason) => patch(index, { reason })}
                />
              </td>
              <td>
                <MoneyField
                  label={`Amount, ${index + 1}`}
                  name={`adjustments.${index}.amountMinor`}
                  currency={props.currency}
                  value={one.amountMinor}
                  onChange={(amountMinor) => patch(index, { amountMinor })}
                />
              </td>
              <td>
                <SelectField
                  label={`Tax, ${index + 1}`}
                  value={taxValue(one)}
                  options={taxes}
                  onChange={(value) => patch(index, taxOf(taxes, value))}
                />
              </td>
              <td>
                <Button
                  kind="quiet"
                  aria-label={`Take away allowance or charge ${index + 1}`}
                  onClick={() => onChange(adjustments.toSpliced(index, 1))}
                >
                  Take away
                </Button>
              </td>
            </tr>
          ))}
        </FieldTable>
      )}
      <div className={css.acts}>
        <Button onClick={() => add('allowance')}>Take something off</Button>
        <Button onClick={() => add('charge')}>Put something on</Button>
      </div>
    </>
  )
}
