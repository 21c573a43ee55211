import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import css from './form.module.css'
import type { ShownRefusal } from './refusal.ts'

interface FormPlace {
  readonly refusal: ShownRefusal | undefined
  /** A field says that it is here; what it returns says that it has gone. */
  readonly register: (name: string) => () => void
}

const Place = createContext<FormPlace | undefined>(undefined)

/**
 * A form that keeps what was typed. A refusal is shown beside the field that bears its name, which then has
 * the focus; one that blames no field here is shown at the form's end, where the button is.
 */
export function Form(props: {
  readonly onSubmit: () => void
  /** From `useAct`: `act.refusal`. */
  readonly refusal?: ShownRefusal | undefined
  /** Names the form to a screen reader where no heading does. */
  readonly label?: string
  readonly children: ReactNode
}) {
  const [names, setNames] = useState<readonly string[]>([])
  const { refusal } = props
  const register = useCallback((name: string) => {
    setNames((before) => [...before, name])
    return () => setNames((before) => before.toSpliced(before.indexOf(name), 1))
  }, [])
  const place = useMemo(() => ({ refusal, register }), [refusal, register])
  const isBesideField = names.some((name) => blames(refusal, name))
  return (
    <Place value={place}>
      <form
        className={css.form}
        aria-label={props.label}
        noValidate
        onSubmit={(event) => {
          event.preventDefault()
          props.onSubmit()
        }}
      >
        {props.children}
        {refusal && !isBesideField ? <FormRefusal sentence={refusal.sentence} /> : null}
      </form>
    </Place>
  )
}

/** Fields that are read together, side by side. */
export function FieldLine({ children }: { readonly children: ReactNode }) {
  return <div className={css.line}>{children}</div>
}

/** A named part of a form, under a thin rule. */
export function FieldGroup(props: { readonly legend: string; readonly children: ReactNode }) {
  return (
    <fieldset className={css.group}>
      <legend className={css.legend}>{props.legend}</legend>
      {props.children}
    </fieldset>
  )
}

/** A refusal's sentence on its own, read out at once. */
export function FormRefusal({ sentence }: { readonly sentence: string }) {
  return (
    <p className={css.refusal} role="alert">
      {sentence}
    </p>
  )
}

/**
 * For a field part: the refusal meant for it, and a ref that takes the focus when one arrives.
 * @param name  the name the value is sent under; a field without one is never blamed
 */
export function useFieldRefusal<E extends HTMLElement>(name: string | undefined) {
  const place = useContext(Place)
  const element = useRef<E>(null)
  const register = place?.register
  useEffect(() => (name && register ? register(name) : undefined), [name, register])
  const refusal = name && blames(place?.refusal, name) ? place?.refusal : undefined
  useEffect(() => {
    if (refusal) element.current?.focus()
  }, [refusal])
  return { sentence: refusal?.sentence, element }
}

function blames(refusal: ShownRefusal | undefined, name: string): boolean {
  return refusal?.field === name || refusal?.field?.endsWith(`.${name}`) === true
}
