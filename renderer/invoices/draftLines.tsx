import { useState } from 'react'
import { billLineNet } from '../../main/trade/bill.ts'
import { Button } from '../parts/button.tsx'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldTable, FigureCell } from '../parts/fieldTable.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { moneyText } from '../parts/format.ts'
import { freshKey, type TypedLine } from './draftValue.ts'
import css from './invoices.module.css'
import { type Unit, unitWords } from './invoiceWords.ts'
import { LineFavours } from './lineFavours.tsx'
import { type TaxChoice, taxValue } from './taxChoices.ts'

const units = Object.keys(unitWords) as Unit[]

/** The lines of a draft, typed in place. */
export function DraftLines(props: {
  readonly lines: readonly TypedLine[]
  readonly currency: string
  readonly taxes: readonly TaxChoice[]
  readonly onChange: (lines: readonly TypedLine[]) => void
}) {
  const { lines, taxes, onChange } = props
  const [favoured, setFavoured] = useState<ReadonlySet<number>>(new Set())
  const patch = (at: number, some: Partial<TypedLine>) =>
    onChange(lines.map((line, index) => (index === at ? { ...line, ...some } : line)))
  const isFavoured = (line: TypedLine) =>
    favoured.has(line.key) || line.allowanceMinor !== 0 || line.chargeMinor !== 0
  return (
    <>
      <FieldTable
        caption="Lines"
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
        {lines.map((line, index) => (
          <LineRow
            key={line.key}
            line={line}
            index={index}
            currency={props.currency}
            taxes={taxes}
            onChange={(some) => patch(index, some)}
            onRemove={() => onChange(lines.toSpliced(index, 1))}
            onFavour={isFavoured(line) ? undefined : () => setFavoured(new Set([...favoured, line.key]))}
          />
        ))}
      </FieldTable>
      {lines.some(isFavoured) ? (
        <LineFavours lines={lines} isShown={isFavoured} currency={props.currency} onChange={patch} />
      ) : null}
      <div className={css.acts}>
        <Button onClick={() => onChange([...lines, nextLine(lines, taxes)])}>Add a line</Button>
      </div>
    </>
  )
}

function LineRow(props: {
  readonly line: TypedLine
  readonly index: number
  readonly currency: string
  readonly taxes: readonly TaxChoice[]
  readonly onChange: (some: Partial<TypedLine>) => void
  readonly onRemove: () => void
  /** Opens the fields for what is taken off or put on this line; none while they stand open. */
  readonly onFavour: (() => void) | undefined
}) {
  const { line, index, currency, taxes, onChange } = props
  const place = (what: string) => `${what}, line ${index + 1}`
  return (
    <tr>
      <td>
        <TextField
          label={place('What')}
          name={`lines.${index}.text`}
          value={line.text}
          onChange={(text) => onChange({ text })}
        />
      </td>
      <td>
        <NumberField
          label={place('Quantity')}
          name={`lines.${index}.quantityMilli`}
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
          name={`lines.${index}.priceMinor`}
          currency={currency}
          value={line.priceMinor}
          onChange={(priceMinor) => onChange({ priceMinor })}
        />
      </td>
      <td>
        <NumberField
          label={place('The price is for')}
          name={`lines.${index}.baseMilli`}
          places={3}
          value={line.baseMilli}
          onChange={(baseMilli) => onChange({ baseMilli })}
        />
      </td>
      <td>
        <SelectField
          label={place('Tax')}
          value={taxValue(line)}
          options={taxes}
          onChange={(value) => onChange(taxOf(taxes, value))}
        />
      </td>
      <FigureCell>{netText(line, currency)}</FigureCell>
      <td>
        <Button kind="quiet" aria-label={`Take away line ${index + 1}`} onClick={props.onRemove}>
          Take away
        </Button>
        {props.onFavour ? (
          <Button kind="quiet" aria-label={`Take off or put on, line ${index + 1}`} onClick={props.onFavour}>
            Off or on
          </Button>
        ) : null}
      </td>
    </tr>
  )
}

/** What of a choice goes to a line or an allowance. */
export function taxOf(taxes: readonly TaxChoice[], value: string) {
  const choice = taxes.find((one) => one.value === value)
  if (!choice) return {}
  const { category, ratePpm, namedRates, exemptionReason } = choice
  return { category, ratePpm, namedRates, exemptionReason }
}

function netText(line: TypedLine, currency: string): string {
  const { quantityMilli, priceMinor, baseMilli, allowanceMinor, chargeMinor } = line
  if (quantityMilli === null || priceMinor === null || baseMilli === null || baseMilli <= 0) return ''
  const figures = { quantityMilli, priceMinor, baseMilli }
  const favours = { allowanceMinor: allowanceMinor ?? 0, chargeMinor: chargeMinor ?? 0 }
  return moneyText(billLineNet({ ...figures, ...favours }), currency)
}

/** A line written by hand: one piece, taxed as the line before it. */
function nextLine(lines: readonly TypedLine[], taxes: readonly TaxChoice[]): TypedLine {
  const tax = lines.at(-1) ?? taxes[0]
  return {
    key: freshKey(),
    text: '',
    quantityMilli: 1000,
    unit: 'C62',
    priceMinor: null,
    baseMilli: 1000,
    category: tax?.category ?? 'S',
    ratePpm: tax?.ratePpm ?? 0,
    namedRates: tax?.namedRates ?? [],
    allowanceMinor: 0,
    allowanceReason: null,
    chargeMinor: 0,
    chargeReason: null,
    exemptionReason: tax?.exemptionReason ?? null,
    quoteLineId: null,
    extraLineId: null,
    jobCostId: null,
    correctsLineId: null,
    jobId: lines.at(-1)?.jobId ?? null,
  }
}
