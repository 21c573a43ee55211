import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'

/** How the camera's clock stood. */
export interface Clock {
  readonly stood: 'right' | 'ahead' | 'behind'
  readonly hours: number | null
  readonly minutes: number | null
}

export const clockRight: Clock = { stood: 'right', hours: null, minutes: null }

/** How far the clock stood ahead, in milliseconds; behind below 0. */
export function clockAheadMs({ stood, hours, minutes }: Clock): number {
  const ms = ((hours ?? 0) * 60 + (minutes ?? 0)) * 60_000
  return stood === 'right' ? 0 : stood === 'ahead' ? ms : -ms
}

/** Puts the camera's clock right: 'it was 1 h 2 min ahead'. */
export function ClockFields({
  clock,
  onChange,
}: {
  readonly clock: Clock
  readonly onChange: (clock: Clock) => void
}) {
  return (
    <FieldLine>
      <SelectField
        label="The camera’s clock was"
        name="clockAhead"
        value={clock.stood}
        options={[
          { value: 'right', label: 'right' },
          { value: 'ahead', label: 'ahead by' },
          { value: 'behind', label: 'behind by' },
        ]}
        onChange={(stood) => onChange({ ...clock, stood })}
      />
      {clock.stood === 'right' ? null : (
        <>
          <NumberField
            label="Hours"
            value={clock.hours}
            onChange={(hours) => onChange({ ...clock, hours })}
            width="narrow"
          />
          <NumberField
            label="Minutes"
            value={clock.minutes}
            onChange={(minutes) => onChange({ ...clock, minutes })}
            width="narrow"
          />
        </>
      )}
    </FieldLine>
  )
}
