import type { FieldProps } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'

/** A thousandth of a minute, in ms: the last place that can be typed. */
const placeMs = 60

/** A stretch of time kept in ms and typed in minutes. */
export function MinutesField(
  props: FieldProps & { readonly value: number | null; readonly onChange: (ms: number | null) => void },
) {
  const { value, onChange } = props
  return (
    <NumberField
      {...props}
      unit="min"
      places={3}
      value={value === null ? null : Math.round(value / placeMs)}
      onChange={(places) => onChange(places === null ? null : places * placeMs)}
    />
  )
}
