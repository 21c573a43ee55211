import { Link } from 'react-router'
import words from '../look/words.module.css'
import { countText, durationText, numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import type { Plan } from './foundPlan.tsx'
import { lateText } from './lateText.ts'
import css from './planPage.module.css'

type Sum = Plan['today']

interface Line {
  readonly what: string
  readonly of: (sum: Sum) => number
  readonly unit: 'count' | 'time' | 'late'
}

const lines: readonly Line[] = [
  { what: 'Without a place', of: ({ unplaced }) => unplaced, unit: 'count' },
  { what: 'Late spins', of: ({ lateItems }) => lateItems, unit: 'count' },
  { what: 'Late in all', of: ({ latenessMin }) => latenessMin, unit: 'late' },
  { what: 'Set changes', of: ({ setChanges }) => setChanges, unit: 'count' },
  { what: 'Set changes take', of: ({ changeoverMin }) => changeoverMin, unit: 'time' },
  { what: 'Bench time booked', of: ({ bookedMin }) => bookedMin, unit: 'time' },
]

/** These spins as they are booked today and as the plan would have them, with the difference. */
export function ComparedWithToday({ plan }: { readonly plan: Plan }) {
  return (
    <Table
      caption="These spins as they are booked today, and in the plan"
      rows={lines}
      keyOf={({ what }) => what}
      columns={[
        { key: 'what', head: 'These spins', cell: ({ what }) => what },
        { key: 'today', head: 'Booked today', figure: true, cell: (line) => said(line, line.of(plan.today)) },
        { key: 'plan', head: 'This plan', figure: true, cell: (line) => said(line, line.of(plan.proposed)) },
        {
          key: 'difference',
          head: 'Difference',
          figure: true,
          cell: (line) => differenceText(line, line.of(plan.proposed) - line.of(plan.today)),
        },
      ]}
      empty={null}
    />
  )
}

function said({ unit }: Line, value: number): string {
  if (value === 0) return 'none'
  if (unit === 'count') return numberText(value)
  return unit === 'late' ? lateText(value) : durationText(value)
}

function differenceText(line: Line, value: number): string {
  return value === 0 ? 'the same' : `${said(line, Math.abs(value))} ${value > 0 ? 'more' : 'less'}`
}

/** So many parts of the cost are named, the dearest first. */
const mostParts = 20

/** What each spin that is late or asks for a set change costs, by the studio's weights, and the two simple orders beside it. */
export function CostParts({ plan }: { readonly plan: Plan }) {
  const dear = plan.items
    .filter(({ weightedLatenessMinutes, setChangeMinutes }) => weightedLatenessMinutes + setChangeMinutes > 0)
    .toSorted(
      (a, b) =>
        b.weightedLatenessMinutes - a.weightedLatenessMinutes || b.setChangeMinutes - a.setChangeMinutes,
    )
  return (
    <Part title="What it costs, part by part">
      <p>
        {'A late minute counts by its job’s priority, '}
        <Link to="/studio/planning">as the studio weighs it</Link>
        {'. Late minutes come first, then set changes, then early ends.'}
      </p>
      <Table
        caption="Spins that are late or ask for a set change"
        rows={dear.slice(0, mostParts)}
        keyOf={({ shootId }) => shootId}
        columns={[
          { key: 'name', head: 'Spin', cell: ({ name, jobNumber }) => `${name}, ${jobNumber}` },
          {
            key: 'late',
            head: 'Late',
            figure: true,
            cell: ({ latenessMinutes, weight }) =>
              latenessMinutes > 0 ? (
                <span className={words.late}>{`${lateText(latenessMinutes)} × ${numberText(weight)}`}</span>
              ) : (
                ''
              ),
          },
          {
            key: 'counts',
            head: 'Counts',
            figure: true,
            cell: ({ weightedLatenessMinutes: counted }) => (counted > 0 ? lateText(counted) : ''),
          },
          {
            key: 'change',
            head: 'Set change before it',
            cell: ({ setChangeMinutes, rigBefore, rig }) =>
              setChangeMinutes > 0
                ? `${durationText(setChangeMinutes)}, ${rigBefore === rig ? `new settings on ${rig ?? 'its rig'}` : `from ${rigBefore ?? 'an empty bench'} to ${rig ?? 'another rig'}`}`
                : '',
          },
        ]}
        empty={<p>Nothing is late and no rig is changed.</p>}
      />
      {dear.length > mostParts ? (
        <p
          className={words.quiet}
        >{`${countText(dear.length - mostParts, 'more spin')}, each costing less.`}</p>
      ) : null}
      <SimpleOrders plan={plan} />
    </Part>
  )
}

interface Way {
  readonly name: string
  readonly cost: Plan['cost']
}

function SimpleOrders({ plan }: { readonly plan: Plan }) {
  const ways: readonly Way[] = [
    { name: 'this plan', cost: plan.cost },
    { name: 'by due day alone', cost: plan.byDueDay },
    { name: 'always the nearest rig', cost: plan.byNearestRig },
  ]
  return (
    <div className={css.orders}>
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
            cell: ({ cost }) => (cost.weightedLatenessMin > 0 ? lateText(cost.weightedLatenessMin) : 'never'),
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
            cell: ({ cost }) => (cost.unplaced > 0 ? numberText(cost.unplaced) : 'none'),
          },
        ]}
        empty={null}
      />
    </div>
  )
}
