import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import type { BlockOnOtherRig } from '../../main/trade/blockRig.ts'
import { reasonText } from '../../main/trade/rigRanking.ts'
import words from '../look/words.module.css'
import { Button } from '../parts/button.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useDayOf } from '../rigs/whatWorked.tsx'
import css from './outages.module.css'
import { RunDialog } from './runDialog.tsx'

type Effects = Answers['outages']['effects']
export type OutWork = Effects['blocks'][number] | Effects['waiting'][number]
export type OtherRig = NonNullable<OutWork['others']>['offered'][number]

/** The rigs that could do these spins instead, the best by evidence first, and why the others were left out. */
export function OtherRigs(props: {
  readonly work: OutWork
  readonly onTold: (blocks: readonly BlockOnOtherRig[]) => void
}) {
  const { work } = props
  const { others } = work
  const dayOf = useDayOf()
  const [chosen, setChosen] = useState<OtherRig>()
  if (others === null) return null
  const spins = countText(work.shootIds.length, 'spin')
  return (
    <div className={css.rigs}>
      {others.offered.length === 0 ? (
        <p>No other rig can do it then.</p>
      ) : (
        <p className={others.hasYes ? undefined : words.quiet}>{others.caution}</p>
      )}
      <ul className={css.rigs}>
        {others.offered.map((rig) => (
          <li key={rig.rigId} className={css.acts}>
            <span>
              <Link to={`/rigs/${rig.rigId}`}>{rig.name}</Link>
              {`, revision ${numberText(rig.revision)}: `}
              {`${reasonText(rig.reason, others.finish, dayOf)}${rig.reason ? '.' : ''}`}
              <span className={words.quiet}>
                {rig.differs === '' ? ' It stands alike.' : ` Differs in: ${rig.differs}.`}
              </span>
            </span>
            <Button
              aria-label={`Run ${spins} of ${work.jobNumber} on ${rig.name}`}
              onClick={() => setChosen(rig)}
            >
              {`Run ${spins} on it`}
            </Button>
          </li>
        ))}
      </ul>
      {others.more > 0 ? (
        <p className={words.quiet}>
          {`${numberText(others.more)} more could; `}
          <Link to={`/jobs/${work.jobId}/bench`}>see all on the job’s page</Link>
        </p>
      ) : null}
      {others.leftOut.length > 0 ? (
        <details>
          <summary>{`${countText(others.leftOut.length, 'rig')} left out`}</summary>
          <ul>
            {others.leftOut.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </details>
      ) : null}
      {chosen ? (
        <RunDialog
          work={work}
          rig={chosen}
          caution={others.caution}
          onTold={props.onTold}
          onClose={() => setChosen(undefined)}
        />
      ) : null}
    </div>
  )
}
