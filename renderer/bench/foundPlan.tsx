import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, dayText, durationText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { lateText } from './lateText.ts'
import { Overruling } from './overruling.tsx'
import { ComparedWithToday, CostParts } from './planCosts.tsx'
import { LeftOut } from './planLeftOut.tsx'
import { Moves } from './planMoves.tsx'
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
        <ComparedWithToday plan={plan} />
        <YesOrNo {...props} />
      </Part>
      <Late late={plan.late} />
      <LeftOut plan={plan} />
      <PlanStrips planId={planId} blocks={plan.blocks} />
      <Moves moves={plan.moves} />
      <CostParts plan={plan} />
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
      say(`Discarded: ${leftAsItIs(plan)}`)
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

/** Whether it is the best plan there is, or how much better another could be at most. */
function bestText({ isProved, gap }: Plan): string {
  if (isProved) return 'No other order of these spins is better: proved.'
  if (gap === null) return 'The best order found; how much better another could be is not known.'
  const atMost = gap.atMost ?? 0
  switch (gap.goal) {
    case 'lateness':
      return `The best order found. No plan can be more than ${lateText(atMost)} less late, counted by priority.`
    case 'moved':
      return `The best order found. No plan that is as punctual leaves more than ${countText(atMost, 'more spin')} in place.`
    case 'set change':
      return `The best order found. No plan can be more than ${durationText(atMost)} of set changes better.`
    case 'earlier ends':
      return 'No plan is less late or changes rigs less; at most some spins could end earlier.'
  }
}

function lateSentence(late: Plan['late'], today: string): string {
  const past = late.filter(({ dueDay }) => dueDay < today).length
  const spins = `${countText(late.length, 'spin')} would be late`
  if (past === 0) return `${spins}.`
  return past === late.length
    ? `${spins}, whatever the plan: ${past === 1 ? 'its' : 'their'} day is past already.`
    : `${spins}, ${past} of them with a day that is past already.`
}

/** The plan in sentences: whether promises are kept, whether it is the best, what hangs on a yes, who is left out. */
function Verdict({ plan }: { readonly plan: Plan }) {
  const { late, replanned, atRisk, otherSpins } = plan
  const { today } = useStudio()
  return (
    <>
      <p>
        {late.length === 0 ? (
          'Every promised day is kept. '
        ) : (
          <span className={words.late}>{`${lateSentence(late, today)} `}</span>
        )}
        {bestText(plan)}
        {replanned > 0 ? ` ${countText(replanned, 'booked block')} planned anew.` : ''}
      </p>
      {atRisk.spins > 0 ? (
        <p>
          {`${durationText(atRisk.ms / 60_000)} at risk: ${countText(atRisk.spins, 'spin')} would be turned on a rig whose first spin has no yes yet. A no means turning them again.`}
        </p>
      ) : null}
      {otherSpins > 0 ? (
        <p>
          {`${countText(otherSpins, 'more spin')} ${otherSpins === 1 ? 'waits' : 'wait'} outside this plan: due later, or held up by a sample or an estimate. Plan them when this is booked.`}
        </p>
      ) : null}
    </>
  )
}

/** So many late jobs are named, the latest first. */
const mostLate = 12

/** Late spins by their job, since they share its due day: the latest of them counts. */
function Late({ late }: { readonly late: Plan['late'] }) {
  const { today } = useStudio()
  if (late.length === 0) return null
  const jobs = Map.groupBy(late, ({ jobNumber }) => jobNumber)
  const rows = [...jobs.values()].flatMap((spins) => {
    const latest = spins.toSorted((a, b) => b.endDay.localeCompare(a.endDay))[0]
    return latest ? [{ ...latest, spins: spins.length }] : []
  })
  return (
    <Part title="Late">
      <Table
        caption="Jobs with spins that end after their due day"
        rows={rows.slice(0, mostLate)}
        keyOf={({ jobNumber }) => jobNumber}
        columns={[
          { key: 'job', head: 'Job', cell: ({ jobNumber, client }) => `${jobNumber}, ${client}` },
          {
            key: 'what',
            head: 'What',
            cell: ({ name, spins }) => (spins === 1 ? name : countText(spins, 'spin')),
          },
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
      {rows.length > mostLate ? (
        <p
          className={words.quiet}
        >{`And ${countText(rows.length - mostLate, 'more job')}, less late than these.`}</p>
      ) : null}
    </Part>
  )
}
