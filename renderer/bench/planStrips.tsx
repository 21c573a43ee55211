import { type DayBlock, DayStrip } from '../parts/dayStrip.tsx'
import { countText, weekdayText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { useStudio } from '../shell/studio.ts'
import type { Plan } from './foundPlan.tsx'
import css from './planPage.module.css'

type Block = Plan['blocks'][number]

/** The blocks of a plan as strips, a day and bench each, set changes hatched, what is late in red. */
export function PlanStrips({ blocks }: { readonly blocks: readonly Block[] }) {
  const { today } = useStudio()
  const days = [
    ...new Set(blocks.flatMap(({ day, changeApart }) => [day, ...(changeApart ? [changeApart.day] : [])])),
  ]
  const minutes = blocks.flatMap(({ fromMinute, toMinute }) => [fromMinute, toMinute])
  const fromMinute = Math.floor(Math.min(...minutes) / 60) * 60
  const toMinute = Math.ceil(Math.max(...minutes) / 60) * 60
  return (
    <Part title="Day by day">
      {days.sort().map((day) => (
        <div key={day} className={css.day}>
          <h3>{weekdayText(day, today)}</h3>
          {benchesOn(blocks, day).map((bench) => (
            <div key={bench} className={css.bench}>
              <span>{bench}</span>
              <DayStrip
                fromMinute={fromMinute}
                toMinute={toMinute}
                label={`${bench}, ${weekdayText(day, today)}`}
                open={[]}
                blocks={blocks.filter((block) => block.bench === bench).flatMap((block) => drawn(block, day))}
              />
            </div>
          ))}
        </div>
      ))}
    </Part>
  )
}

function benchesOn(blocks: readonly Block[], day: string): readonly string[] {
  const there = blocks.filter((block) => block.day === day || block.changeApart?.day === day)
  return [...new Set(there.map(({ bench }) => bench))].sort()
}

function drawn(block: Block, day: string): readonly DayBlock[] {
  const key = `${block.day} ${block.fromMinute} ${block.benchId}`
  const change = {
    key: `${key} change`,
    kind: 'changeover' as const,
    label: `Set change to ${block.rig ?? 'another rig'}`,
  }
  const pieces: DayBlock[] = []
  if (block.changeApart?.day === day) pieces.push({ ...change, ...block.changeApart })
  if (block.day !== day) return pieces
  const workFrom = block.fromMinute + block.setChangeMinutes
  if (block.setChangeMinutes > 0) {
    pieces.push({ ...change, fromMinute: block.fromMinute, toMinute: workFrom })
  }
  pieces.push({
    key,
    kind: 'shoot',
    label: [
      block.jobNumber,
      block.client,
      countText(block.shootIds.length, 'spin'),
      block.rig ?? 'no rig planned',
    ].join(', '),
    fromMinute: workFrom,
    toMinute: block.toMinute,
    to: `/jobs/${block.jobId}/bench`,
    late: block.latenessMinutes > 0,
  })
  return pieces
}
