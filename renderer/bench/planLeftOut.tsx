import { Link } from 'react-router'
import { countText, numberText, weekdayText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { useStudio } from '../shell/studio.ts'
import type { Plan } from './foundPlan.tsx'

const why: Readonly<Record<Plan['leftOut'][number]['why'], string>> = {
  'no estimate': 'has no estimate: write down its product’s size, or what is wanted of it',
  'no day for its sample': 'waits for a sample that nobody expects on a day',
}

/** So many are named in a list; the rest is counted. */
const mostNamed = 8

function namedText(names: readonly string[]): string {
  const more = names.length > mostNamed ? ` and ${numberText(names.length - mostNamed)} more` : ''
  return `${names.slice(0, mostNamed).join(', ')}${more}`
}

/** Spins that are not in the plan, each with what to do. */
export function LeftOut({ plan }: { readonly plan: Plan }) {
  const { today } = useStudio()
  const { leftOut, unplaced, tooLong, outages } = plan
  if (leftOut.length + unplaced.length + tooLong.length + outages.length === 0) return null
  return (
    <Part title="Not in the plan, and what holds it up">
      <ul>
        {leftOut.slice(0, mostNamed).map((spin) => (
          <li key={spin.shootId}>
            <Link to={`/jobs/${spin.jobId}/samples`}>{spin.name}</Link>
            {` ${why[spin.why]}.`}
          </li>
        ))}
        {leftOut.length > mostNamed ? (
          <li>{`${countText(leftOut.length - mostNamed, 'more spin')} without an estimate or a day for its sample.`}</li>
        ) : null}
        {[...new Set(tooLong)].slice(0, mostNamed).map((name) => (
          <li key={name}>
            {`${name} is longer than any stretch of opening hours, or than a day’s turning. Open the bench longer, or part its rows.`}
          </li>
        ))}
        {unplaced.length > 0 ? <li>{`${namedText(unplaced)} found no place within 120 days.`}</li> : null}
        {outages.map((outage) => (
          <li key={`${outage.equipment} ${outage.fromDay}`}>
            {`${outage.equipment} is away from ${weekdayText(outage.fromDay, today)} ${outage.toDay ? `to ${weekdayText(outage.toDay, today)}` : 'until further notice'}: rigs that take it wait.`}
          </li>
        ))}
      </ul>
    </Part>
  )
}
