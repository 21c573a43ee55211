import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, dayText, durationText, weekdayText } from '../parts/format.ts'
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
  readonly onLeave: () => void
}) {
  const { planId, plan, onLeave } = props
  const say = useNotice()
  const accept = useAct(
    (overruledReason: string | null) => api.plans.accept.mutate({ planId, overruledReason }),
    ({ bookingIds }) => {
      say(`${countText(bookingIds.length, 'block')} booked.`)
      onLeave()
    },
  )
  if (plan.blocks.length === 0) {
    return (
      <div className={css.plan}>
        <Empty sentence="No spin found a place." act={<Button onClick={onLeave}>Ask again</Button>} />
        <LeftOut plan={plan} />
      </div>
    )
  }
  return (
    <div className={css.plan}>
      <Part title="The plan">
        <p>{verdictOf(plan)}</p>
        <Compared plan={plan} />
        {accept.refusal && !accept.refusal.canOverrule ? (
          <FormRefusal sentence={accept.refusal.sentence} />
        ) : null}
        <Overruling
          refusal={accept.refusal}
          act="Book it all the same"
          busy={accept.busy}
          onOverrule={(reason) => accept.run(reason)}
        />
        <ButtonRow>
          <Button kind="main" busy={accept.busy} onClick={() => accept.run(null)}>
            {`Book these ${countText(plan.blocks.length, 'block')}`}
          </Button>
          <Button onClick={onLeave}>Discard</Button>
        </ButtonRow>
      </Part>
      <Late late={plan.late} />
      <LeftOut plan={plan} />
      <PlanStrips blocks={plan.blocks} />
    </div>
  )
}

function verdictOf(plan: Plan): string {
  const kept =
    plan.late.length === 0
      ? 'Every promised day is kept.'
      : `${countText(plan.late.length, 'spin')} would be late.`
  const best = plan.isProved
    ? 'No other order of these spins is better: proved.'
    : 'The best order found; a better one is not ruled out.'
  const moved = plan.replanned > 0 ? ` ${countText(plan.replanned, 'booked block')} planned anew.` : ''
  const risk =
    plan.atRisk.spins > 0
      ? ` ${durationText(plan.atRisk.ms / 60_000)} of it hang on a first spin that has no yes yet.`
      : ''
  return `${kept} ${best}${moved}${risk}`
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

/** Spins that are not in the plan, each with what to do. */
function LeftOut({ plan }: { readonly plan: Plan }) {
  const { today } = useStudio()
  const { leftOut, unplaced, tooLong, outages } = plan
  if (leftOut.length + unplaced.length + tooLong.length + outages.length === 0) return null
  return (
    <Part title="Not in the plan, and what holds it up">
      <ul>
        {leftOut.map((spin) => (
          <li key={spin.shootId}>
            <Link to={`/jobs/${spin.jobId}/samples`}>{spin.name}</Link>
            {` ${why[spin.why]}.`}
          </li>
        ))}
        {tooLong.map((name) => (
          <li key={name}>
            {`${name} is longer than any stretch of opening hours, or than a day’s turning. Open the bench longer, or part its rows.`}
          </li>
        ))}
        {unplaced.map((name) => (
          <li key={name}>{`${name} found no place within 120 days.`}</li>
        ))}
        {outages.map((outage) => (
          <li key={`${outage.equipment} ${outage.fromDay}`}>
            {`${outage.equipment} is away from ${weekdayText(outage.fromDay, today)} ${outage.toDay ? `to ${weekdayText(outage.toDay, today)}` : 'until further notice'}: rigs that take it wait.`}
          </li>
        ))}
      </ul>
    </Part>
  )
}
