import { useState } from 'react'
import { minorDigits } from '../../main/trade/currency.ts'
import { formatDecimal, readDecimal } from '../../main/trade/decimal.ts'
import { parseMoney } from '../../main/trade/money.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { Field, type FieldProps } from './field.tsx'
import { readLength } from './readLength.ts'

interface FigureProps extends FieldProps {
  /** A whole number of the field's smallest unit; null while the field is empty or cannot be read. */
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  /** Told when the field is left. */
  readonly onLeave?: () => void
}

/**
 * A number with its unit, held exactly as a whole number of its last place: with `places={3}`, 2.5 is 2500.
 * With no `places` the number is whole.
 */
export function NumberField(props: FigureProps & { readonly unit?: string; readonly places?: number }) {
  const places = props.places ?? 0
  return (
    <FigureField
      {...props}
      show={(value) => formatDecimal(value, places)}
      read={(text) => readDecimal(text, places, props.label)}
    />
  )
}

/**
 * A length, shown in mm; `12 cm` and `5 in` may be typed and are turned into mm exactly.
 * @param props.kept  the unit of `value`: whole micrometres, or tenths of one (rim, step, division)
 */
export function LengthField(props: FigureProps & { readonly kept: 'um' | 'um10' }) {
  const places = props.kept === 'um10' ? 4 : 3
  return (
    <FigureField
      {...props}
      unit="mm"
      show={(value) => formatDecimal(value, places)}
      read={(text) => readLength(text, places, props.label)}
    />
  )
}

/** An amount of money, held in minor units of its currency. */
export function MoneyField(props: FigureProps & { readonly currency: string }) {
  const digits = minorDigits(props.currency)
  return (
    <FigureField
      {...props}
      unit={props.currency}
      show={(value) => formatDecimal(value, digits, digits)}
      read={(text) => parseMoney(text, props.currency)}
    />
  )
}

/**
 * The field under the others: holds the typed text apart from the value, so that what is typed stays typed.
 * @param show  the value as its text
 * @param read  the text as its value; throws a Refusal, whose sentence is shown once the field is left
 */
function FigureField(
  props: FigureProps & {
    readonly unit?: string | undefined
    readonly show: (value: number) => string
    readonly read: (text: string) => number
  },
) {
  const { value, show, read } = props
  const [typed, setTyped] = useState<string>()
  const [isLeft, setLeft] = useState(false)
  const reading = typed === undefined ? { value } : readOrRefuse(typed, read)
  // The typed text stands as long as it still means the value; a value set from outside takes its place.
  const stands = typed !== undefined && reading.value === value
  const unread = stands ? reading.sentence : undefined
  return (
    <Field<HTMLInputElement>
      width="narrow"
      {...props}
      figure
      refusal={props.refusal ?? (isLeft ? unread : undefined)}
    >
      {(tied) => (
        <input
          {...tied}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={stands ? typed : value === null ? '' : show(value)}
          onChange={(event) => {
            setTyped(event.target.value)
            setLeft(false)
            props.onChange(readOrRefuse(event.target.value, read).value)
          }}
          onBlur={() => {
            setLeft(true)
            if (!unread) setTyped(undefined)
            props.onLeave?.()
          }}
        />
      )}
    </Field>
  )
}

interface Reading {
  readonly value: number | null
  readonly sentence?: string
}

function readOrRefuse(text: string, read: (text: string) => number): Reading {
  if (text.trim() === '') return { value: null }
  try {
    return { value: read(text) }
  } catch (error) {
    if (error instanceof Refusal) return { value: null, sentence: error.message }
    throw error
  }
}
