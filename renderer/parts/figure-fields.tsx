import { useState } from 'react'
import { Field, type FieldProps } from './field.tsx'
import { numberText, readLengthMm, readNumber } from './format.ts'

interface FigureProps extends FieldProps {
  readonly value: number | null
  readonly onChange: (value: number | null) => void
}

/**
 * A number with its unit. What is typed stays typed; the value is null while the field is empty or cannot be
 * read, and the field says so when it is left.
 */
export function NumberField(
  props: FigureProps & { readonly unit?: string; readonly whole?: boolean; readonly digits?: number },
) {
  const { whole } = props
  return (
    <FigureField
      {...props}
      unit={props.unit}
      show={(value) => numberText(value, props.digits ?? 4).replaceAll(',', '')}
      read={(text) => {
        const value = readNumber(text)
        return whole && typeof value === 'number' && !Number.isInteger(value) ? undefined : value
      }}
      unread={(text) =>
        whole
          ? `“${text}” is not a whole number. Write it in figures, as 240.`
          : `“${text}” is not a number. Write it in figures, as 12.5.`
      }
    />
  )
}

/** A length in mm; `12 cm`, `1.2 m` and `5 in` may be typed and are turned into mm. */
export function LengthField(props: FigureProps) {
  return (
    <FigureField
      {...props}
      unit="mm"
      show={(value) => numberText(value, 4).replaceAll(',', '')}
      read={readLengthMm}
      unread={(text) => `“${text}” is not a length. Write it in mm, or with its unit, as 12.5 cm or 5 in.`}
    />
  )
}

/**
 * The field under the others: holds the typed text apart from the value.
 * @param show    the value as its text
 * @param read    the text as its value; null for empty, undefined where it cannot be read
 * @param unread  the sentence for a text that cannot be read
 */
export function FigureField(
  props: FigureProps & {
    readonly unit?: string | undefined
    readonly show: (value: number) => string
    readonly read: (text: string) => number | null | undefined
    readonly unread: (text: string) => string
  },
) {
  const { value, show, read } = props
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const [left, setLeft] = useState(false)
  // The typed text stands as long as it still means the value; a value set from outside takes its place.
  const isTypedStill = typed !== undefined && (read(typed) ?? null) === value
  const text = isTypedStill ? typed : value === null ? '' : show(value)
  const isUnread = isTypedStill && read(typed) === undefined
  return (
    <Field<HTMLInputElement>
      width="narrow"
      {...props}
      figure
      refusal={props.refusal ?? (isUnread && left ? props.unread(text) : undefined)}
    >
      {(tied) => (
        <input
          {...tied}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={text}
          onChange={(event) => {
            setTyped(event.target.value)
            setLeft(false)
            props.onChange(read(event.target.value) ?? null)
          }}
          onBlur={() => {
            setLeft(true)
            if (!isUnread) setTyped(undefined)
          }}
        />
      )}
    </Field>
  )
}
