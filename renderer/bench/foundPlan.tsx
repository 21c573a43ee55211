import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, dayText, durationText, numberText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { Overruling } from './overruling.tsx'
import css from './planPage.module.css'
import { PlanStrips } from './planStrips.tsx'

export type Plan = Extract<Answers['plans']['state'], { state: 'done' }>

/** A plan that was found: what it costs beside the simple orders, who is late, its blocks, and yes or no. */
export function FoundPlan(props: {
  readonly planId: number
  readonly plan: Plan
  readonly onShow: (planId: number | undefined) => void
}) {
  const { planId, plan } = props
  if (plan.blocks.length === 0) {
    return (
      <div className={css.plan}>
        <Empty
          sentence="No spin found a place."
          act={<Button onClick={() => props.onShow(undefined)}>Ask again</Button>}
        />
        <LeftOut plan={plan} />
      </div>
    )
  }
  return (
    <div className={css.plan}>
      <Part title="The plan">
        <Verdict plan={plan} />
        <Compared plan={plan} />
        <YesOrNo {...props} />
      </Part>
      <Late late={plan.late} />
      <LeftOut plan={plan} />
      <PlanStrips planId={planId} blocks={plan.blocks} />
    </div>
  )
}

/** Books the plan, lets it go, or says why it cannot be booked any more and plans again. */
function YesOrNo(props: {
  readonly planId: number
  readonly plan: Plan
  readonly onShow: (planId: number | undefined) => void
}) {
  const { planId, plan, onShow } = props
  const say = useNotice()
  const accept = useAct(
    (overruledReason: string | null) => api.plans.accept.mutate({ planId, overruledReason }),
    ({ bookingIds }) => {
      say(`${countText(bookingIds.length, 'block')} booked.`)
      onShow(undefined)
    },
  )
  const discard = useAct(
    () => api.plans.discard.mutate({ planId }),
    () => {
      say(`Discarded. ${leftAsItIs(plan)}`)
      onShow(undefined)
    },
  )
  const again = useAct(
    () => api.plans.again.mutate({ planId }),
    (next) => onShow(next.planId),
  )
  const { refusal } = accept
  return (
    <>
      {refusal && !refusal.canOverrule ? <FormRefusal sentence={refusal.sentence} /> : null}
      <Overruling
        refusal={refusal}
        act="Book it all the same"
        busy={accept.busy}
        onOverrule={(reason) => accept.run(reason)}
      />
      {again.refusal ? <FormRefusal sentence={again.refusal.sentence} /> : null}
      <ButtonRow>
        {refusal?.code === 'plan-overtaken' ? (
          <Button kind="main" busy={again.busy} onClick={() => again.run()}>
            Plan again
          </Button>
        ) : (
          <Button kind="main" busy={accept.busy} onClick={() => accept.run(null)}>
            {`Book these ${countText(plan.blocks.length, 'block')}`}
          </Button>
        )}
        <Button busy={discard.busy} onClick={() => discard.run()}>
          Discard
        </Button>
      </ButtonRow>
      <p className={css.foot}>{`If you discard it: ${leftAsItIs(plan)}`}</p>
    </>
  )
}

/** What stays as it is where a plan is not accepted. */
function leftAsItIs({ blocks, replanned }: Plan): string {
  const spins = new Set(blocks.flatMap(({ shootIds }) => shootIds)).size
  return replanned === 0
    ? `nothing is booked, and ${countText(spins, 'spin')} ${spins === 1 ? 'goes' : 'go'} on waiting for a place.`
    : `${countText(replanned, 'booked block')} ${replanned === 1 ? 'stays' : 'stay'} where ${replanned === 1 ? 'it is' : 'they are'}, and nothing else is booked.`
}

/** The plan in sentences: whether promises are kept, whether it is the best, what hangs on a yes, who is left out. */
function Verdict({ plan }: { readonly plan: Plan }) {
  const { late, isProved, replanned, atRisk, laterSpins } = plan
  return (
    <>
      <p>
        {late.length === 0 ? (
          'Every promised day is kept. '
        ) : (
          <span className={words.late}>{`${countText(late.length, 'spin')} would be late. `}</span>
        )}
        {isProved
          ? 'No other order of these spins is better: proved.'
          : 'The best order found; a better one is not ruled out.'}
        {replanned > 0 ? ` ${countText(replanned, 'booked block')} planned anew.` : ''}
      </p>
      {atRisk.spins > 0 ? (
        <p>
          {`${durationText(atRisk.ms / 60_000)} at risk: ${countText(atRisk.spins, 'spin')} would be turned on a rig whose first spin has no yes yet. A no means turning them again.`}
        </p>
      ) : null}
      {laterSpins > 0 ? (
        <p>
          {`${countText(laterSpins, 'more spin')} due later ${laterSpins === 1 ? 'is' : 'are'} not in this plan. Plan them when this is booked.`}
        </p>
      ) : null}
    </>
  )
}

interface Way {
  readonly name: string
  readonly cost: Plan['cost']
}

function Compared({ plan }: { readonly plan: Plan }) {
  const ways: readonly Way[] = [
    { name: 'this plan', cost: plan.cost },
    { name: 'by due day alone', cost: plan.byDueDay },
    { name: 'always the nearest rig', cost: plan.byNearestRig },
  ]
  return (
    <Table
      caption="What the plan costs beside two simple orders"
      rows={ways}
      keyOf={({ name }) => name}
      columns={[
        { key: 'name', head: 'Order', cell: ({ name }) => name },
        {
          key: 'late',
          head: 'Late, counted by priority',
          figure: true,
          cell: ({ cost }) =>
            cost.weightedLatenessMin > 0 ? durationText(cost.weightedLatenessMin) : 'never',
        },
        {
          key: 'changes',
          head: 'Set changes',
          figure: true,
          cell: ({ cost }) => (cost.changeoverMin > 0 ? durationText(cost.changeoverMin) : 'none'),
        },
        {
          key: 'unplaced',
          head: 'Without a place',
          figure: true,
          cell: ({ cost }) => (cost.unplaced > 0 ? cost.unplaced : 'none'),
        },
      ]}
      empty={null}
    />
  )
}

function Late({ late }: { readonly late: Plan['late'] }) {
  const { today } = useStudio()
  if (late.length === 0) return null
  return (
    <Part title="Late">
      <Table
        caption="Spins that end after their due day"
        rows={late}
        keyOf={({ shootId }) => shootId}
        columns={[
          { key: 'name', head: 'Spin', cell: ({ name }) => name },
          { key: 'job', head: 'Job', cell: ({ jobNumber, client }) => `${jobNumber}, ${client}` },
          { key: 'due', head: 'Due', figure: true, cell: ({ dueDay }) => dayText(dueDay, today) },
          {
            key: 'ends',
            head: 'Turned',
            figure: true,
            cell: ({ endDay }) => <span className={words.late}>{dayText(endDay, today)}</span>,
          },
        ]}
        empty={null}
      />
    </Part>
  )
}

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
function LeftOut({ plan }: { readonly plan: Plan }) {
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
