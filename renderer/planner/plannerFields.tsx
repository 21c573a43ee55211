import { createContext, useContext, useSyncExternalStore } from 'react'
import { CheckField, Field, SelectField } from '../parts/field.tsx'
import { type Store, useStore } from '../shell/store.ts'
import type { Refusals } from './reading.ts'
import type { Key, Typed } from './typed.ts'

/**
 * The planner's fields hold texts; what they mean is worked out from all of them at once. They live in a store,
 * so that typing draws one field and what follows from it, and not every field again.
 */
export interface PlannerHand {
  readonly typed: Store<Typed>
  readonly refusals: Store<Refusals>
  readonly patch: (values: Partial<Typed>) => void
}

export const PlannerHandHere = createContext<PlannerHand | undefined>(undefined)

export function usePlannerHand(): PlannerHand {
  const hand = useContext(PlannerHandHere)
  if (!hand) throw new Error('A field of the planner stands outside it.')
  return hand
}

/** The text of one field, drawn again when it changes. */
export function useText(key: Key): string {
  const { typed } = usePlannerHand()
  return useSyncExternalStore(typed.listen, () => typed.get()[key])
}

interface Props {
  readonly name: Key
  readonly label: string
  readonly hint?: string
}

/** A figure as it is typed, with its unit; what is wrong with it is said beneath. */
export function Typing(props: Props & { readonly unit?: string; readonly placeholder?: string }) {
  const { refusals, patch } = usePlannerHand()
  const { name } = props
  const text = useText(name)
  const refusal = useStore(refusals)[name]
  return (
    <Field<HTMLInputElement> {...props} width="narrow" figure refusal={refusal}>
      {(tied) => (
        <input
          {...tied}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          placeholder={props.placeholder}
          value={text}
          onChange={(event) => patch({ [name]: event.target.value })}
        />
      )}
    </Field>
  )
}

/** One of a few. */
export function Choosing(
  props: Props & {
    readonly options: readonly { readonly value: string; readonly label: string }[]
    readonly wide?: boolean
    readonly empty?: string
  },
) {
  const { patch } = usePlannerHand()
  const text = useText(props.name)
  return (
    <SelectField
      {...props}
      width={props.wide ? 'normal' : 'narrow'}
      value={text}
      onChange={(value) => patch({ [props.name]: value })}
    />
  )
}

/** Yes or no. */
export function Ticking(props: Props) {
  const { patch } = usePlannerHand()
  const text = useText(props.name)
  return (
    <CheckField
      {...props}
      checked={text === 'yes'}
      onChange={(checked) => patch({ [props.name]: checked ? 'yes' : '' })}
    />
  )
}
