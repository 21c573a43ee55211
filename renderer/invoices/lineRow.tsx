import type { ReactNode } from 'react'
import { Button } from '../parts/button.tsx'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldTable, FigureCell } from '../parts/fieldTable.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import css from './invoices.module.css'
import { type Unit, unitWords } from './invoiceWords.ts'

const units = Object.keys(unitWords) as Unit[]

/** What is typed of a line that is or will be billed; a figure is null while its field is empty or cannot be read. */
export interface TypedFigures {
  readonly text: string
  readonly quantityMilli: number | null
  readonly unit: Unit
  readonly priceMinor: number | null
  readonly baseMilli: number | null
}

/** The table that such lines are typed in; its rows are `LineRow`s. */
export function LineTable(props: { readonly caption: string; readonly children: ReactNode }) {
  return (
    <div className={`${css.wordsAbove} ${css.typedLines}`}>
      <FieldTable
        caption={props.caption}
        wide
        columns={[
          { head: 'What' },
          { head: 'Quantity', figure: true, width: 88 },
          { head: 'Unit', width: 116 },
          { head: 'Price', figure: true, width: 124 },
          { head: 'Price for', figure: true, width: 88 },
          { head: 'Tax', width: 124 },
          { head: 'Before tax', figure: true, width: 92 },
          { head: 'Take away', isHeadSpoken: true, width: 84 },
        ]}
      >
        {props.children}
      </FieldTable>
    </div>
  )
}

/** One line, typed in place. */
export function LineRow(props: {
  readonly line: TypedFigures
  readonly index: number
  /** Where its fields lie in what is sent: `lines` or `extra.lines`. */
  readonly path: string
  readonly currency: string
  readonly tax: {
    readonly value: string
    readonly options: readonly { readonly value: string; readonly label: string }[]
    readonly onChange: (value: string) => void
  }
  /** The line's amount before tax; empty while a figure is missing. */
  readonly net: string
  readonly onChange: (some: Partial<TypedFigures>) => void
  readonly onRemove: () => void
  /** What more can be done with the line. */
  readonly more?: ReactNode
}) {
  const { line, index, path, currency, tax, onChange } = props
  const place = (what: string) => `${what}, line ${index + 1}`
  const name = (field: string) => `${path}.${index}.${field}`
  return (
    <tr>
      <td>
        <TextField
          label={place('What')}
          name={name('text')}
          value={line.text}
          onChange={(text) => onChange({ text })}
        />
      </td>
      <td>
        <NumberField
          label={place('Quantity')}
          name={name('quantityMilli')}
          places={3}
          value={line.quantityMilli}
          onChange={(quantityMilli) => onChange({ quantityMilli })}
        />
      </td>
      <td>
        <SelectField
          label={place('Unit')}
          value={line.unit}
          options={units.map((value) => ({ value, label: unitWords[value] }))}
          onChange={(unit) => onChange({ unit })}
        />
      </td>
      <td>
        <MoneyField
          label={place('Price')}
          name={name('priceMinor')}
          currency={currency}
          value={line.priceMinor}
          onChange={(priceMinor) => onChange({ priceMinor })}
        />
      </td>
      <td>
        <NumberField
          label={place('The price is for')}
          name={name('baseMilli')}
          places={3}
          value={line.baseMilli}
          onChange={(baseMilli) => onChange({ baseMilli })}
        />
      </td>
      <td>
        <SelectField label={place('Tax')} value={tax.value} options={tax.options} onChange={tax.onChange} />
      </td>
      <FigureCell>{props.net}</FigureCell>
      <td>
        <Button kind="quiet" aria-label={`Take away line ${index + 1}`} onClick={props.onRemove}>
          Take away
        </Button>
        {props.more}
      </td>
    </tr>
  )
}
