import type { Answers } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { countText, durationText, numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'

type Search = Extract<Answers['plans']['state'], { state: 'working' }>

/** How far the search for a plan is, and the way to end it with the best one so far. */
export function Searching({ search, onStop }: { readonly search: Search; readonly onStop: () => void }) {
  const { cost, done, trials, spins } = search
  return (
    <Part title="Looking for a plan">
      <p role="status">
        {`${countText(spins, 'spin')}: ${numberText(done)} of ${numberText(trials)} orders tried.`}
        {cost
          ? ` The best so far has ${durationText(cost.changeoverMin)} of set changes${cost.weightedLatenessMin > 0 ? ' and is late somewhere' : ' and keeps every promised day'}.`
          : ''}
      </p>
      <progress value={done} max={trials} aria-label="Orders tried" />
      <ButtonRow>
        <Button onClick={onStop}>Take the best so far</Button>
      </ButtonRow>
    </Part>
  )
}
