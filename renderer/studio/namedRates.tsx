import type { NamedRate } from '../../main/trade/bill.ts'
import { formatPercent } from '../../main/trade/money.ts'
import { Button } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FieldTable } from '../parts/fieldTable.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup } from '../parts/form.tsx'
import css from './screen.module.css'

/** A part as typed: its rate is null while its field is empty or cannot be read. */
export interface TypedPart {
  /** Holds the part's place while others are taken away. */
  readonly key: number
  readonly name: string
  readonly ratePpm: number | null
}

export function typedParts(rates: readonly NamedRate[]): readonly TypedPart[] {
  return rates.map((rate, key) => ({ ...rate, key }))
}

/** The rate of the whole, as far as it is typed; nothing where a part is missing. */
export function sumOf(parts: readonly TypedPart[]): number | null {
  return parts.reduce<number | null>(
    (sum, { ratePpm }) => (sum === null || ratePpm === null ? null : sum + ratePpm),
    0,
  )
}

/** The parts of a sales tax: each has a name and a rate, and stands on the papers by itself. */
export function NamedRates(props: {
  readonly parts: readonly TypedPart[]
  readonly onChange: (parts: readonly TypedPart[]) => void
}) {
  const { parts, onChange } = props
  const patch = (at: number, some: Partial<TypedPart>) =>
    onChange(parts.map((part, index) => (index === at ? { ...part, ...some } : part)))
  const sum = sumOf(parts)
  const key = 1 + Math.max(0, ...parts.map((part) => part.key))
  return (
    <FieldGroup legend="Rates of several names">
      <p className={css.note}>
        For a sales tax of a state, a county and a city, say. Each is worked out and rounded once on what
        bears it, and listed by its name. An electronic invoice cannot carry it; the PDF does.
      </p>
      {parts.length === 0 ? null : (
        <FieldTable
          caption="Parts of the rate"
          columns={[
            { head: 'Name' },
            { head: 'Per cent', figure: true, width: 120 },
            { head: 'Take away', isHeadSpoken: true, width: 96 },
          ]}
        >
          {parts.map((part, index) => (
            <tr key={part.key}>
              <td>
                <TextField
                  label={`Name, part ${index + 1}`}
                  name={`namedRates.${index}.name`}
                  value={part.name}
                  onChange={(name) => patch(index, { name })}
                />
              </td>
              <td>
                <NumberField
                  label={`Per cent, part ${index + 1}`}
                  name={`namedRates.${index}.ratePpm`}
                  unit="%"
                  places={4}
                  value={part.ratePpm}
                  onChange={(ratePpm) => patch(index, { ratePpm })}
                />
              </td>
              <td>
                <Button
                  kind="quiet"
                  aria-label={`Take away part ${index + 1}`}
                  onClick={() => onChange(parts.toSpliced(index, 1))}
                >
                  Take away
                </Button>
              </td>
            </tr>
          ))}
        </FieldTable>
      )}
      {parts.length > 0 && sum !== null ? <p>{`Together ${formatPercent(sum)}.`}</p> : null}
      <div>
        <Button onClick={() => onChange([...parts, { key, name: '', ratePpm: null }])}>
          {parts.length === 0 ? 'Make it of several names' : 'Add a name'}
        </Button>
      </div>
    </FieldGroup>
  )
}
