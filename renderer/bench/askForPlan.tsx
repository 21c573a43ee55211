import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { FieldGroup, Form } from '../parts/form.tsx'
import { countText, durationText, numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import type { WhichToPlan } from './planAddress.ts'
import css from './planPage.module.css'
import { useWhoTurns, WhoTurnsFields } from './whoTurns.tsx'

type Choices = Answers['plans']['choices']

/** Which spins, who turns, where, and how much of what is booked may move. */
export function AskForPlan(props: {
  readonly which: WhichToPlan
  readonly onAsked: (planId: number) => void
}) {
  const { which } = props
  const choices = useAsk(['plans', 'choices', which], () => api.plans.choices.query(which))
  return (
    <Part title={titleOf(which)}>
      <Asked of={choices}>
        {(data) => (
          <>
            <p>{waitingText(data)}</p>
            {which.jobId === undefined && which.shootIds === undefined ? null : (
              <p>
                <Link to="/bench/plan">Plan everything that waits instead</Link>
              </p>
            )}
            <Ask which={which} choices={data} onAsked={props.onAsked} />
          </>
        )}
      </Asked>
      <p className={css.foot}>
        A plan is worked out from estimates. It never breaks a turn over closing time, and never starts before
        the sample is in.
      </p>
    </Part>
  )
}

function titleOf({ jobId, shootIds }: WhichToPlan): string {
  if (shootIds !== undefined) return 'The spins you chose'
  return jobId === undefined ? 'Everything that waits' : 'What waits of this job'
}

function waitingText({ waiting, mostUrgent }: Choices): string {
  if (waiting.spins === 0) return 'No spin waits for a place.'
  const what = `${countText(waiting.spins, 'spin')} of ${countText(waiting.jobs, 'job')} ${waiting.spins === 1 ? 'waits' : 'wait'} for a place, ${durationText(waiting.ms / 60_000)} at the bench.`
  const lacking =
    waiting.withoutEstimate > 0 ? ` ${numberText(waiting.withoutEstimate)} of them without an estimate.` : ''
  const cut =
    waiting.spins > mostUrgent
      ? ` One plan takes the ${numberText(mostUrgent)} that are due first; plan the others when these are booked.`
      : ''
  return `${what}${lacking}${cut}`
}

function Ask(props: {
  readonly which: WhichToPlan
  readonly choices: Choices
  readonly onAsked: (planId: number) => void
}) {
  const { which, choices } = props
  const who = useWhoTurns()
  const [replan, setReplan] = useState(false)
  const [keepsPlaces, setKeepsPlaces] = useState(true)
  const start = useAct(
    (ask: Asks['plans']['start']) => api.plans.start.mutate(ask),
    ({ planId }) => props.onAsked(planId),
  )
  const { movable } = choices
  if (!who.isKnown) return null
  return (
    <Form
      refusal={start.refusal}
      onSubmit={() =>
        start.run({
          ...which,
          benchIds: [...who.benchIds],
          personIds: [...who.personIds],
          replan,
          keepsPlaces: replan && keepsPlaces,
        })
      }
    >
      <WhoTurnsFields of={who} />
      <FieldGroup legend="What is booked already">
        {movable.blocks === 0 ? (
          <p className={words.quiet}>No booked block may move: none is to come that nobody fixed.</p>
        ) : (
          <CheckField
            label={
              which.jobId === undefined
                ? `Plan the ${countText(movable.blocks, 'block')} to come anew too`
                : `Plan this job’s ${countText(movable.blocks, 'block')} to come anew too`
            }
            hint="Fixed blocks and what has begun stay where they are."
            checked={replan}
            onChange={setReplan}
          />
        )}
        {replan ? (
          <CheckField
            label="Move as little of it as the promised days allow"
            checked={keepsPlaces}
            onChange={setKeepsPlaces}
          />
        ) : null}
      </FieldGroup>
      <ButtonRow>
        <Button
          type="submit"
          kind="main"
          busy={start.busy}
          disabled={choices.waiting.spins === 0 && !(replan && movable.blocks > 0)}
        >
          Find a plan
        </Button>
      </ButtonRow>
    </Form>
  )
}
