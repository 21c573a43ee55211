import { useSearchParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink } from '../parts/button.tsx'
import { Columns, Empty, Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { AskForPlan } from './askForPlan.tsx'
import { FoundPlan } from './foundPlan.tsx'
import { whichToPlan } from './planAddress.ts'
import { Searching } from './searching.tsx'

/** Asks for a plan of what waits, shows the one that is found, and books it when a person says so. */
export function PlanPage() {
  const [params, setParams] = useSearchParams()
  const planId = Number(params.get('plan')) || undefined
  const which = whichToPlan(params)
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
          <Empty sentence="Nothing is planned yet. Say who turns where, and find a plan. Nothing is booked until you accept it." />
        ) : (
          <PlanOf key={planId} planId={planId} onShow={show} />
        )}
        <AskForPlan key={JSON.stringify(which)} which={which} onAsked={show} />
      </Columns>
    </Page>
  )
}

function PlanOf(props: { readonly planId: number; readonly onShow: (planId: number | undefined) => void }) {
  const { planId, onShow } = props
  const plan = useAsk(['plans', 'state', planId], () => api.plans.state.query({ planId }), {
    againWhile: ({ state }) => state === 'working',
  })
  const stop = useAct(() => api.plans.stop.mutate({ planId }))
  return (
    <Asked of={plan}>
      {(data) =>
        data.state === 'working' ? (
          <Searching search={data} onStop={() => stop.run()} />
        ) : (
          <FoundPlan planId={planId} plan={data} onShow={onShow} />
        )
      }
    </Asked>
  )
}
