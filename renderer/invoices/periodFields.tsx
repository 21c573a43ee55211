import { DateField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import css from './invoices.module.css'
import { commonPeriods, type Period } from './periods.ts'

/** Two days, typed or taken from a common period by its name. */
export function PeriodFields(props: {
  readonly period: Period
  readonly today: string
  readonly onChange: (period: Period) => void
}) {
  const { period, onChange } = props
  return (
    <div>
      <fieldset className={css.filters} aria-label="Common periods">
        {commonPeriods(props.today).map(([name, common]) => (
          <button
            key={name}
            type="button"
            aria-pressed={common.fromDay === period.fromDay && common.toDay === period.toDay}
            onClick={() => onChange(common)}
          >
            {name}
          </button>
        ))}
      </fieldset>
      <FieldLine>
        <DateField
          label="First day"
          name="fromDay"
          width="narrow"
          value={period.fromDay}
          onChange={(fromDay) => onChange({ ...period, fromDay })}
        />
        <DateField
          label="Last day"
          name="toDay"
          width="narrow"
          value={period.toDay}
          onChange={(toDay) => onChange({ ...period, toDay })}
        />
      </FieldLine>
    </div>
  )
}
