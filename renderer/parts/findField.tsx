import { useEffect, useRef, useState } from 'react'
import { TextField } from './field.tsx'

const settleMs = 200

/** A field that narrows a list: what is typed counts once it has stood still for a moment. */
export function FindField(props: {
  readonly label: string
  /** The text the list is narrowed by now, usually from the address. */
  readonly value: string
  readonly onChange: (value: string) => void
}) {
  const [typed, setTyped] = useState(props.value)
  const latest = useRef(props)
  latest.current = props
  useEffect(() => {
    const timer = setTimeout(() => {
      if (typed !== latest.current.value) latest.current.onChange(typed)
    }, settleMs)
    return () => clearTimeout(timer)
  }, [typed])
  // A filter changed from outside, by 'back' or a link, shows in the field.
  useEffect(() => setTyped(props.value), [props.value])
  return <TextField type="search" label={props.label} value={typed} onChange={setTyped} />
}
