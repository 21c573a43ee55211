import { TextField } from '../parts/field.tsx'
import { FieldTable } from '../parts/fieldTable.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import type { TypedLine } from './draftValue.ts'
import css from './invoices.module.css'

/** What is taken off and put on single lines, with why: a row for each line that is shown. */
export function LineFavours(props: {
  readonly lines: readonly TypedLine[]
  readonly isShown: (line: TypedLine) => boolean
  readonly currency: string
  readonly onChange: (at: number, some: Partial<TypedLine>) => void
}) {
  const { lines, currency, onChange } = props
  return (
    <div className={`${css.wordsAbove} ${css.lineFavours}`}>
      <FieldTable
        caption="Taken off or put on single lines"
        wide
        columns={[
          { head: 'Line' },
          { head: 'Taken off', figure: true, width: 132 },
          { head: 'Why it is taken off', width: 220 },
          { head: 'Put on', figure: true, width: 132 },
          { head: 'Why it is put on', width: 220 },
        ]}
      >
        {lines.map((line, index) =>
          props.isShown(line) ? (
            <tr key={line.key}>
              <th scope="row">{line.text || `Line ${index + 1}`}</th>
              <td>
                <MoneyField
                  label={`Taken off, line ${index + 1}`}
                  name={`lines.${index}.allowanceMinor`}
                  currency={currency}
                  value={line.allowanceMinor}
                  onChange={(allowanceMinor) => onChange(index, { allowanceMinor })}
                />
              </td>
              <td>
                <TextField
                  label={`Why it is taken off, line ${index + 1}`}
                  name={`lines.${index}.allowanceReason`}
                  value={line.allowanceReason ?? ''}
                  onChange={(allowanceReason) => onChange(index, { allowanceReason })}
                />
              </td>
              <td>
                <MoneyField
                  label={`Put on, line ${index + 1}`}
                  name={`lines.${index}.chargeMinor`}
                  currency={currency}
                  value={line.chargeMinor}
                  onChange={(chargeMinor) => onChange(index, { chargeMinor })}
                />
              </td>
              <td>
                <TextField
                  label={`Why it is put on, line ${index + 1}`}
                  name={`lines.${index}.chargeReason`}
                  value={line.chargeReason ?? ''}
                  onChange={(chargeReason) => onChange(index, { chargeReason })}
                />
              </td>
            </tr>
          ) : null,
        )}
      </FieldTable>
    </div>
  )
}
