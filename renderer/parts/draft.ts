import { useCallback, useState } from 'react'

/** What a person has typed and not yet sent. */
export interface Draft<T> {
  readonly values: T
  /** True once something differs from what the draft started with. */
  readonly touched: boolean
  /** A setter for one value, to hand to a field: `onChange={draft.set('name')}`. */
  readonly set: <K extends keyof T>(key: K) => (value: T[K]) => void
  /** Several at once. */
  readonly patch: (values: Partial<T>) => void
  /** Begins again, from new values or the first ones. */
  readonly reset: (values?: T) => void
}

/**
 * A draft that nothing but the person changes: fresh data from the studio never overwrites what is being
 * typed. Call `reset` when it has been sent, or give the form a new React `key`.
 */
export function useDraft<T extends object>(start: T): Draft<T> {
  const [first, setFirst] = useState(start)
  const [values, setValues] = useState(start)
  const patch = useCallback((some: Partial<T>) => setValues((before) => ({ ...before, ...some })), [])
  return {
    values,
    touched: (Object.keys(values) as (keyof T)[]).some((key) => !Object.is(values[key], first[key])),
    set: (key) => (value) => patch({ [key]: value } as unknown as Partial<T>),
    patch,
    reset: (next = first) => {
      setFirst(next)
      setValues(next)
    },
  }
}
