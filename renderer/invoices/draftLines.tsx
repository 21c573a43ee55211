import { useState } from 'react'
import { billLineNet } from '../../main/trade/bill.ts'
import { Button } from '../parts/button.tsx'
import { moneyText } from '../parts/format.ts'
import { freshKey, type TypedLine } from './draftValue.ts'
import css from './invoices.module.css'
import { LineFavours } from './lineFavours.tsx'
import { LineRow, LineTable } from './lineRow.tsx'
import { type TaxChoice, taxValue } from './taxChoices.ts'

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
      <LineTable caption="Lines">
        {lines.map((line, index) => (
          <LineRow
            key={line.key}
            line={line}
            index={index}
            path="lines"
            currency={props.currency}
            tax={{
              value: taxValue(line),
              options: taxes,
              onChange: (value) => patch(index, taxOf(taxes, value)),
            }}
            net={netText(line, props.currency)}
            onChange={(some) => patch(index, some)}
            onRemove={() => onChange(lines.toSpliced(index, 1))}
            more={
              // The fields for what is taken off or put on this line; the button is gone while they stand open.
              isFavoured(line) ? null : (
                <Button
                  kind="quiet"
                  aria-label={`Off or on, line ${index + 1}`}
                  onClick={() => setFavoured(new Set([...favoured, line.key]))}
                >
                  Off or on
                </Button>
              )
            }
          />
        ))}
      </LineTable>
      {lines.some(isFavoured) ? (
        <LineFavours lines={lines} isShown={isFavoured} currency={props.currency} onChange={patch} />
      ) : null}
      <div className={css.acts}>
        <Button onClick={() => onChange([...lines, nextLine(lines, taxes)])}>Add a line</Button>
      </div>
    </>
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
