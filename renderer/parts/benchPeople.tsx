import type { BenchPeople } from '../../main/trade/pace.ts'
import { SelectField } from './field.tsx'
import { durationText } from './format.ts'

/** Who works at the bench: one person, or a second one who prepares while the first turns. */
export function PeopleField(props: {
  readonly people: BenchPeople
  readonly onChange: (people: BenchPeople) => void
}) {
  return (
    <SelectField
      label="People at the bench"
      name="people"
      hint="A second person prepares the next product while the first one turns."
      value={String(props.people)}
      options={[
        { value: '1', label: 'one person' },
        { value: '2', label: 'with a second person' },
      ]}
      onChange={(people) => props.onChange(people === '2' ? 2 : 1)}
    />
  )
}

/** 'With a second person preparing: 6 h 10 at the bench, 9 h 40 of people’s time.' */
export function secondPersonText(benchMs: number, workMs: number): string {
  const minutes = (ms: number) => durationText(ms / 60_000)
  return `With a second person preparing: ${minutes(benchMs)} at the bench, ${minutes(workMs)} of people’s time.`
}
