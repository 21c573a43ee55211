import { useState } from 'react'
import { CheckField } from '../parts/field.tsx'
import { FieldGroup } from '../parts/form.tsx'
import { api, useAsk } from '../shell/api.ts'

/** Where a plan may put its work, and whose hands it counts on: all of them until a person says otherwise. */
export interface WhoTurns {
  /** False until benches and people have been read: a form sent before would name none. */
  readonly isKnown: boolean
  readonly benchIds: readonly number[]
  readonly personIds: readonly number[]
  readonly benches: readonly { readonly id: number; readonly name: string }[]
  readonly people: readonly { readonly id: number; readonly name: string }[]
  readonly flipBench: (id: number) => void
  readonly flipPerson: (id: number) => void
}

export function useWhoTurns(): WhoTurns {
  const allBenches = useAsk(['benches', 'list'], () => api.benches.list.query({ gone: false })).data
  const allPeople = useAsk(['studio', 'turners'], () => api.studio.turners.query()).data
  const benches = allBenches ?? []
  const people = allPeople ?? []
  const [someBenches, setBenches] = useState<readonly number[]>()
  const [somePeople, setPeople] = useState<readonly number[]>()
  const benchIds = someBenches ?? benches.map(({ id }) => id)
  const personIds = somePeople ?? people.map(({ id }) => id)
  return {
    isKnown: allBenches !== undefined && allPeople !== undefined,
    benches,
    people,
    benchIds,
    personIds,
    flipBench: (id) => setBenches(flipped(benchIds, id)),
    flipPerson: (id) => setPeople(flipped(personIds, id)),
  }
}

/** The two groups of boxes to choose benches and people by. */
export function WhoTurnsFields({ of }: { readonly of: WhoTurns }) {
  return (
    <>
      <FieldGroup legend="Benches">
        {of.benches.map(({ id, name }) => (
          <CheckField
            key={id}
            label={name}
            checked={of.benchIds.includes(id)}
            onChange={() => of.flipBench(id)}
          />
        ))}
      </FieldGroup>
      <FieldGroup legend="Who turns">
        {of.people.map(({ id, name }) => (
          <CheckField
            key={id}
            label={name}
            checked={of.personIds.includes(id)}
            onChange={() => of.flipPerson(id)}
          />
        ))}
      </FieldGroup>
    </>
  )
}

function flipped(chosen: readonly number[], id: number): readonly number[] {
  return chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id]
}
