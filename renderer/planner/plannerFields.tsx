import { createContext, useContext } from 'react'
import { CheckField, Field, SelectField } from '../parts/field.tsx'
import type { Refusals } from './reading.ts'
import type { Key, Typed } from './typed.ts'

/** The planner's fields hold texts; what they mean is worked out from all of them at once. */
export interface PlannerHand {
  readonly typed: Typed
  readonly refusals: Refusals
  readonly patch: (values: Partial<Typed>) => void
}

export const PlannerHandHere = createContext<PlannerHand | undefined>(undefined)

export function usePlannerHand(): PlannerHand {
  const hand = useContext(PlannerHandHere)
  if (!hand) throw new Error('A field of the planner stands outside it.')
  return hand
}

interface Props {
  readonly name: Key
  readonly label: string
  readonly hint?: string
}

/** A figure as it is typed, with its unit; what is wrong with it is said beneath. */
export function Typing(props: Props & { readonly unit?: string; readonly placeholder?: string }) {
  const { typed, refusals, patch } = usePlannerHand()
  const { name } = props
  return (
    <Field<HTMLInputElement> {...props} width="narrow" figure refusal={refusals[name]}>
      {(tied) => (
        <input
          {...tied}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          placeholder={props.placeholder}
          value={typed[name]}
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
  const { typed, patch } = usePlannerHand()
  return (
    <SelectField
      {...props}
      width={props.wide ? 'normal' : 'narrow'}
      value={typed[props.name]}
      onChange={(value) => patch({ [props.name]: value })}
    />
  )
}

/** Yes or no. */
export function Ticking(props: Props) {
  const { typed, patch } = usePlannerHand()
  return (
    <CheckField
      {...props}
      checked={typed[props.name] === 'yes'}
      onChange={(checked) => patch({ [props.name]: checked ? 'yes' : '' })}
    />
  )
}
