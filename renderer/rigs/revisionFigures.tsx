import { lightFact, rigFacts } from '../../main/trade/rigFacts.ts'
import { Fact, Sheet } from '../parts/page.tsx'
import type { Revision } from './rigValue.ts'

/** The figures of a revision, as one would read them out while building it. */
export function RevisionFigures({ revision }: { readonly revision: Revision }) {
  const facts = [...rigFacts(revision), ...revision.lights.map(lightFact)]
  return (
    <Sheet>
      {facts.map(({ label, value }) => (
        <Fact key={label} label={label}>
          {value}
        </Fact>
      ))}
    </Sheet>
  )
}
