import { Link } from 'react-router'
import words from '../look/words.module.css'
import { clockText, countText, durationText, weekdayText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { useStudio } from '../shell/studio.ts'
import type { Plan } from './foundPlan.tsx'
import { lateText } from './lateText.ts'

type Move = Plan['moves'][number]

/** Spins of one job that go the same way for the same reason, told in one line. */
interface Told {
  readonly key: string
  readonly first: Move
  readonly spins: number
}

/** So many lines of moves are shown. */
const mostShown = 30

/** Which booked spins the plan moves, from where to where, and why. */
export function Moves({ moves }: { readonly moves: readonly Move[] }) {
  const { today } = useStudio()
  if (moves.length === 0) return null
  const told = together(moves)
  return (
    <Part title="What moves, and why">
      <Table
        caption="Booked spins that the plan moves"
        rows={told.slice(0, mostShown)}
        keyOf={({ key }) => key}
        columns={[
          {
            key: 'what',
            head: 'What',
            cell: ({ first, spins }) => (
              <>
                <Link to={`/jobs/${first.jobId}/bench`}>{first.jobNumber}</Link>
                {`, ${spins === 1 ? first.name : countText(spins, 'spin')}`}
              </>
            ),
          },
          { key: 'from', head: 'From', cell: ({ first }) => placeText(first.from, today) },
          {
            key: 'to',
            head: 'To',
            cell: ({ first }) =>
              first.to === null ? (
                <span className={words.late}>no place</span>
              ) : (
                placeText(first.to, today, first.from.bench)
              ),
          },
          { key: 'why', head: 'Why', cell: ({ first }) => whyText(first, today) },
        ]}
        empty={null}
      />
      {told.length > mostShown ? (
        <p className={words.quiet}>{`And ${countText(told.length - mostShown, 'more move')}.`}</p>
      ) : null}
    </Part>
  )
}

function together(moves: readonly Move[]): readonly Told[] {
  const told = new Map<string, Told>()
  for (const move of moves) {
    const { from, to, why, spin } = move
    const key = [move.jobId, from.bench, from.day, to?.bench, to?.day, why, spin].join(' ')
    const before = told.get(key)
    told.set(key, { key, first: before?.first ?? move, spins: (before?.spins ?? 0) + 1 })
  }
  return [...told.values()]
}

/** A place as said: `Tue 3 May, 09:30, Bench 2`; the bench is left out where it stays the same. */
function placeText(place: Move['from'], today: string, bench?: string | null): string {
  const where = place.bench === null || place.bench === bench ? '' : `, ${place.bench}`
  return `${weekdayText(place.day, today)}, ${clockText(place.minute)}${where}`
}

function whyText({ why, spin, isDueEarlier, until, minutes }: Move, today: string): string {
  const by = durationText(minutes ?? 0)
  const late = lateText(minutes ?? 0)
  switch (why) {
    case 'bench not planned':
      return 'Its bench is not in this plan.'
    case 'bench cannot hold it':
      return 'Its bench does not hold it: platter or load.'
    case 'closed':
      return 'Its bench is closed then.'
    case 'nobody there':
      return 'Nobody is there to turn then.'
    case 'booked':
      return 'Another block that stays lies there.'
    case 'goods not in':
      return `Its goods are not in before ${until ? weekdayText(until.day, today) : 'then'}.`
    case 'equipment away':
      return `Equipment it takes is away until ${until ? weekdayText(until.day, today) : 'later'}.`
    case 'first spin':
      return `${spin ?? 'The first spin of its job'} is turned before it.`
    case 'made room':
      return `Makes room for ${spin ?? 'another spin'}, ${isDueEarlier ? 'which is due earlier' : `so that all is ${late} less late by priority`}.`
    case 'less late':
      return `Left in its place, all would be ${late} later by priority.`
    case 'less set change':
      return `Saves ${by} of set changes.`
    case 'starts sooner':
      return `Begins ${late} sooner.`
    case 'better order':
      return 'A better order of the whole.'
  }
}
