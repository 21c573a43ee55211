import { useDeferredValue, useMemo } from 'react'
import { daysText, halfDaysOf } from '../../main/trade/dayLines.ts'
import { byDays, type QuoteBasis, type QuoteFigures, type SoldBy } from '../../main/trade/quote.ts'
import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import css from './quotes.module.css'
import { figuresOf, inputOf, type TypedQuote } from './quoteValue.ts'

/** Sold by the price list or by bench days, what the other comes to, and how many days. */
export function SoldByFields(props: {
  readonly typed: TypedQuote
  readonly basis: QuoteBasis
  readonly figures: QuoteFigures | undefined
  readonly patch: (values: Partial<TypedQuote>) => void
}) {
  const { typed, basis, figures, patch } = props
  const { days } = basis
  if (typed.byHand !== null) return null
  const asked = days && figures ? halfDaysOf(figures.bench.p80Ms, days.workingDayMs) : undefined
  return (
    <>
      <FieldLine>
        <SelectField
          label="Sold by"
          name="soldBy"
          value={typed.soldBy}
          options={[
            { value: 'list', label: 'the spin, from the price list' },
            { value: 'days', label: 'half and whole bench days' },
          ]}
          onChange={(soldBy) => patch({ soldBy: soldBy as SoldBy })}
        />
        {typed.soldBy === 'days' ? (
          <NumberField
            label="Bench days"
            name="halfDays"
            unit="days"
            places={1}
            hint={asked === undefined ? undefined : `Left empty: ${daysText(asked)}, by the 80 % time.`}
            refusal={areHalves(typed.dayTenths) ? undefined : 'Days are whole or half ones, such as 2.5.'}
            value={typed.dayTenths}
            onChange={(dayTenths) => patch({ dayTenths })}
          />
        ) : null}
      </FieldLine>
      {days && basis.spins.length > 0 ? <OtherPrice typed={typed} basis={basis} /> : null}
    </>
  )
}

function areHalves(dayTenths: number | null): boolean {
  return dayTenths === null || (dayTenths > 0 && dayTenths % 5 === 0)
}

/** What the same job comes to the other way it can be sold. */
function OtherPrice({ typed, basis }: { readonly typed: TypedQuote; readonly basis: QuoteBasis }) {
  const deferred = useDeferredValue(typed)
  const sentence = useMemo(() => otherPriceText(deferred, basis), [deferred, basis])
  return sentence ? <p className={css.note}>{sentence}</p> : null
}

function otherPriceText(typed: TypedQuote, basis: QuoteBasis): string | undefined {
  const money = (minor: number) => moneyText(minor, basis.currency)
  if (typed.soldBy === 'days') {
    const { figures } = figuresOf(basis, { ...typed, soldBy: 'list', dayTenths: null })
    return figures && `By the price list it would come to ${money(figures.netMinor)} before tax.`
  }
  const input = inputOf(typed)
  const sold = input && byDays(basis, input)
  return sold
    ? `By bench days it would come to ${money(sold.netMinor)} before tax, for ${daysText(sold.halfDays)}.`
    : undefined
}
