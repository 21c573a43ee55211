import { useEffect, useState } from 'react'
import { useSearchParams } from 'react-router'
import type { Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { FieldGroup, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { Columns, Empty, Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { somethingChanged } from '../shell/changes.ts'
import { FoundPlan } from './foundPlan.tsx'
import css from './planPage.module.css'
import { Searching } from './searching.tsx'

/** Asks for a plan of what waits, shows the one that is found, and books it when a person says so. */
export function PlanPage() {
  const [params, setParams] = useSearchParams()
  const planId = Number(params.get('plan')) || undefined
  const jobId = Number(params.get('job')) || undefined
  const show = (id: number | undefined) =>
    setParams((before) => {
      if (id === undefined) before.delete('plan')
      else before.set('plan', String(id))
      return before
    })
  return (
    <Page
      title="Plan the bench"
      lead="An order of work that keeps the promised days first, then changes rigs as seldom as it can."
      acts={<ButtonLink to="/bench">Back to the bench</ButtonLink>}
    >
      <Columns aside>
        {planId === undefined ? (
          <Empty sentence="Nothing is planned yet. Say on the right who turns where, and find a plan. Nothing is booked until you accept it." />
        ) : (
          <PlanOf planId={planId} onLeave={() => show(undefined)} />
        )}
        <AskForPlan jobId={jobId} onAsked={show} />
      </Columns>
    </Page>
  )
}

function PlanOf({ planId, onLeave }: { readonly planId: number; readonly onLeave: () => void }) {
  const plan = useAsk(['plans', 'state', planId], () => api.plans.state.query({ planId }))
  const stop = useAct(() => api.plans.stop.mutate({ planId }))
  const isWorking = plan.data?.state === 'working'
  useEffect(() => {
    if (!isWorking) return
    const timer = setInterval(somethingChanged, 300)
    return () => clearInterval(timer)
  }, [isWorking])
  return (
    <Asked of={plan}>
      {(data) =>
        data.state === 'working' ? (
          <Searching search={data} onStop={() => stop.run()} />
        ) : (
          <FoundPlan planId={planId} plan={data} onLeave={onLeave} />
        )
      }
    </Asked>
  )
}

type Start = Asks['plans']['start']

/** Who turns, where, and how much of what is booked may move. */
function AskForPlan(props: {
  readonly jobId: number | undefined
  readonly onAsked: (planId: number) => void
}) {
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query({ gone: false }))
  const people = useAsk(['studio', 'turners'], () => api.studio.turners.query())
  const waiting = useAsk(['benches', 'waiting', 'all', props.jobId], () =>
    api.benches.waiting.query({ jobId: props.jobId ?? null, page: { offset: 0, limit: 500 } }),
  )
  const [benchIds, setBenches] = useState<readonly number[]>()
  const [personIds, setPeople] = useState<readonly number[]>()
  const [replan, setReplan] = useState(false)
  const [keepsPlaces, setKeepsPlaces] = useState(true)
  const start = useAct(
    (ask: Start) => api.plans.start.mutate(ask),
    ({ planId }) => props.onAsked(planId),
  )
  const allBenches = (benches.data ?? []).map(({ id }) => id)
  const allPeople = (people.data ?? []).map(({ id }) => id)
  const groups = waiting.data?.groups ?? []
  const spins = groups.reduce((sum, group) => sum + group.spins, 0)
  const ask = () =>
    start.run({
      ...(props.jobId === undefined ? {} : { shootIds: groups.flatMap(({ shootIds }) => shootIds) }),
      benchIds: [...(benchIds ?? allBenches)],
      personIds: [...(personIds ?? allPeople)],
      replan,
      keepsPlaces: replan && keepsPlaces,
    })
  return (
    <Part title={props.jobId === undefined ? 'What waits' : 'What waits of this job'}>
      <p>
        {waiting.data === undefined
          ? ' '
          : spins === 0
            ? 'No spin waits for a place.'
            : `${countText(spins, 'spin')} of ${countText(new Set(groups.map((group) => group.jobId)).size, 'job')} ${spins === 1 ? 'waits' : 'wait'} for a place.`}
      </p>
      <Form refusal={start.refusal} onSubmit={ask}>
        <FieldGroup legend="Benches">
          {(benches.data ?? []).map(({ id, name }) => (
            <CheckField
              key={id}
              label={name}
              checked={(benchIds ?? allBenches).includes(id)}
              onChange={() => setBenches(flipped(benchIds ?? allBenches, id))}
            />
          ))}
        </FieldGroup>
        <FieldGroup legend="Who turns">
          {(people.data ?? []).map(({ id, name }) => (
            <CheckField
              key={id}
              label={name}
              checked={(personIds ?? allPeople).includes(id)}
              onChange={() => setPeople(flipped(personIds ?? allPeople, id))}
            />
          ))}
        </FieldGroup>
        <FieldGroup legend="What is booked already">
          <CheckField
            label="Plan it anew too, but for fixed blocks and what has begun"
            checked={replan}
            onChange={setReplan}
          />
          {replan ? (
            <CheckField
              label="Move as little of it as the promised days allow"
              checked={keepsPlaces}
              onChange={setKeepsPlaces}
            />
          ) : null}
        </FieldGroup>
        <ButtonRow>
          <Button type="submit" kind="main" busy={start.busy} disabled={spins === 0 && !replan}>
            Find a plan
          </Button>
        </ButtonRow>
      </Form>
      <p className={css.foot}>
        A plan is worked out from estimates. It never breaks a turn over closing time, and never starts before
        the sample is in.
      </p>
    </Part>
  )
}

function flipped(chosen: readonly number[], id: number): readonly number[] {
  return chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id]
}
