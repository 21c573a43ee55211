import { type ReactNode, type Ref, useId } from 'react'
import css from './field.module.css'
import { useFieldRefusal } from './form.tsx'

/** What every field takes. */
export interface FieldProps {
  readonly label: string
  /** The name the value is sent under; a refusal that blames it is shown here. */
  readonly name?: string
  readonly hint?: ReactNode
  /** A sentence the page itself found wrong; stands before the studio's. */
  readonly refusal?: string | undefined
  readonly width?: 'narrow' | 'normal' | 'wide'
  readonly disabled?: boolean
  readonly required?: boolean
}

/** What a field hands to its input so that label, hint and refusal belong to it. */
export interface Tied<E extends HTMLElement> {
  readonly id: string
  readonly ref: Ref<E>
  readonly name: string | undefined
  readonly disabled: boolean | undefined
  readonly required: boolean | undefined
  readonly className: string
  readonly 'aria-invalid': true | undefined
  readonly 'aria-describedby': string | undefined
}

/** Label above, input, then hint and refusal, which a screen reader reads with the input. */
export function Field<E extends HTMLElement>(
  props: FieldProps & {
    readonly unit?: string | undefined
    readonly figure?: boolean
    readonly children: (tied: Tied<E>) => ReactNode
  },
) {
  const id = useId()
  const { sentence, element } = useFieldRefusal<E>(props.name)
  const refusal = props.refusal ?? sentence
  const described = [refusal && `${id}-refusal`, props.hint && `${id}-hint`].filter(Boolean).join(' ')
  const width = props.width === 'narrow' ? css.narrow : props.width === 'wide' ? css.wide : ''
  return (
    <div className={`${css.field} ${width}`}>
      <label className={css.label} htmlFor={id}>
        {props.label}
      </label>
      <div className={refusal ? `${css.box} ${css.refused}` : css.box}>
        {props.children({
          id,
          ref: element,
          name: props.name,
          disabled: props.disabled,
          required: props.required,
          className: props.figure ? `${css.input} ${css.figure}` : (css.input ?? ''),
          'aria-invalid': refusal ? true : undefined,
          'aria-describedby': described || undefined,
        })}
        {props.unit ? (
          <span className={css.unit} aria-hidden="true">
            {props.unit}
          </span>
        ) : null}
      </div>
      {refusal ? (
        <p className={css.refusal} id={`${id}-refusal`} role="alert">
          {refusal}
        </p>
      ) : null}
      {props.hint ? (
        <p className={css.hint} id={`${id}-hint`}>
          {props.hint}
        </p>
      ) : null}
    </div>
  )
}

/** One line of text. */
export function TextField(
  props: FieldProps & {
    readonly value: string
    readonly onChange: (value: string) => void
    readonly placeholder?: string
    readonly autoFocus?: boolean
    readonly type?: 'text' | 'email' | 'tel' | 'url' | 'search'
    /** Texts to offer while typing; any other may be typed too. */
    readonly list?: readonly string[]
  },
) {
  const listId = useId()
  return (
    <Field<HTMLInputElement> {...props}>
      {(tied) => (
        <>
          <input
            {...tied}
            type={props.type ?? 'text'}
            value={props.value}
            placeholder={props.placeholder}
            // biome-ignore lint/a11y/noAutofocus: only where a dialog or the search box was just opened by the person
            autoFocus={props.autoFocus}
            autoComplete="off"
            list={props.list ? listId : undefined}
            onChange={(event) => props.onChange(event.target.value)}
          />
          {props.list ? (
            <datalist id={listId}>
              {props.list.map((item) => (
                <option key={item} value={item} />
              ))}
            </datalist>
          ) : null}
        </>
      )}
    </Field>
  )
}

/** Several lines of text. */
export function TextArea(
  props: FieldProps & {
    readonly value: string
    readonly onChange: (value: string) => void
    readonly rows?: number
    readonly placeholder?: string
  },
) {
  return (
    <Field<HTMLTextAreaElement> width="wide" {...props}>
      {(tied) => (
        <textarea
          {...tied}
          rows={props.rows ?? 3}
          value={props.value}
          placeholder={props.placeholder}
          onChange={(event) => props.onChange(event.target.value)}
        />
      )}
    </Field>
  )
}

/** One of a few: the values are the program's, the labels the person's. */
export function SelectField<T extends string>(
  props: FieldProps & {
    readonly value: T | ''
    readonly options: readonly { readonly value: T; readonly label: string }[]
    readonly onChange: (value: T) => void
    /** Shown while nothing is chosen: `Choose a client`. */
    readonly empty?: string
  },
) {
  return (
    <Field<HTMLSelectElement> {...props}>
      {(tied) => (
        <select {...tied} value={props.value} onChange={(event) => props.onChange(event.target.value as T)}>
          {props.value === '' || props.empty ? (
            <option value="" disabled={!props.empty}>
              {props.empty ?? 'Choose'}
            </option>
          ) : null}
          {props.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  )
}

/** A day, `YYYY-MM-DD`, or '' while none is chosen. */
export function DateField(
  props: FieldProps & {
    readonly value: string
    readonly onChange: (day: string) => void
    readonly min?: string
    readonly max?: string
  },
) {
  return (
    <Field<HTMLInputElement> {...props}>
      {(tied) => (
        <input
          {...tied}
          type="date"
          value={props.value}
          min={props.min}
          max={props.max}
          onChange={(event) => props.onChange(event.target.value)}
        />
      )}
    </Field>
  )
}

/** A time of day, `HH:MM`, or '' while none is typed. */
export function TimeField(
  props: FieldProps & { readonly value: string; readonly onChange: (time: string) => void },
) {
  return (
    <Field<HTMLInputElement> width="narrow" {...props}>
      {(tied) => (
        <input
          {...tied}
          type="time"
          value={props.value}
          onChange={(event) => props.onChange(event.target.value)}
        />
      )}
    </Field>
  )
}

/** Yes or no, with its sentence beside it. */
export function CheckField(
  props: Omit<FieldProps, 'width'> & {
    readonly checked: boolean
    readonly onChange: (checked: boolean) => void
  },
) {
  const id = useId()
  const { sentence, element } = useFieldRefusal<HTMLInputElement>(props.name)
  const refusal = props.refusal ?? sentence
  return (
    <div className={css.check}>
      <input
        ref={element}
        id={id}
        type="checkbox"
        name={props.name}
        disabled={props.disabled}
        checked={props.checked}
        aria-describedby={refusal || props.hint ? `${id}-more` : undefined}
        onChange={(event) => props.onChange(event.target.checked)}
      />
      <label htmlFor={id}>{props.label}</label>
      {refusal || props.hint ? (
        <p className={refusal ? css.refusal : css.hint} id={`${id}-more`}>
          {refusal ?? props.hint}
        </p>
      ) : null}
    </div>
  )
}
