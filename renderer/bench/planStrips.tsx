import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { addDays, weekdayOf, weekLabel } from '../../main/trade/calendar.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { type DayBlock, DayStrip, type Stretch } from '../parts/dayStrip.tsx'
import { clockText, countText, dayText, durationText, weekdayText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { labelOf } from './blockWords.ts'
import type { Plan } from './foundPlan.tsx'
import css from './planPage.module.css'

type Block = Plan['blocks'][number]
type Day = Answers['plans']['days'][number]
type BenchDay = Day['benches'][number]

/** A plan week by week: a strip for each bench and day, set changes hatched, what stays dashed, what is late in red. */
export function PlanStrips({
  planId,
  blocks,
}: {
  readonly planId: number
  readonly blocks: readonly Block[]
}) {
  const { today } = useStudio()
  const weeks = weeksOf(blocks)
  const [at, setAt] = useState(0)
  const monday = weeks[Math.min(at, weeks.length - 1)] ?? today
  const answer = useAsk(['plans', 'days', planId, monday], () =>
    api.plans.days.query({ planId, firstDay: monday }),
  )
  return (
    <Part
      title="Day by day"
      acts={
        weeks.length > 1 ? (
          <ButtonRow>
            <Button disabled={at === 0} onClick={() => setAt(at - 1)}>
              Week before
            </Button>
            <Button disabled={at >= weeks.length - 1} onClick={() => setAt(at + 1)}>
              Next week
            </Button>
          </ButtonRow>
        ) : null
      }
    >
      <p className={words.quiet} aria-live="polite">
        {`${weekText(monday, today)}. ${weeks.length > 1 ? `The plan fills ${countText(weeks.length, 'week')}. ` : ''}Hatched: set changes. Dashed: what is booked and stays.`}
      </p>
      <Asked of={answer}>{(days) => <Week days={days} blocks={blocks} />}</Asked>
    </Part>
  )
}

/** The Mondays of all weeks in which the plan has work, in their order. */
function weeksOf(blocks: readonly Block[]): readonly string[] {
  const days = blocks.flatMap(({ day, changeApart }) => [day, ...(changeApart ? [changeApart.day] : [])])
  return [...new Set(days.map((day) => addDays(day, 1 - weekdayOf(day))))].sort()
}

function weekText(monday: string, today: string): string {
  const week = Number(weekLabel(monday).slice(-2))
  return `Week ${week}, ${dayText(monday, today)} to ${dayText(addDays(monday, 6), today)}`
}

function Week({ days, blocks }: { readonly days: readonly Day[]; readonly blocks: readonly Block[] }) {
  const hours = hoursShown(days, blocks)
  const shown = days.filter((day) => hasSomething(day, blocks))
  return shown.map((day) => <DayOf key={day.day} day={day} blocks={blocks} hours={hours} />)
}

function hasSomething(day: Day, blocks: readonly Block[]): boolean {
  return (
    day.due.length + day.goodsIn.length > 0 ||
    day.benches.some(({ open, staying }) => open.length + staying.length > 0) ||
    blocks.some((block) => block.day === day.day || block.changeApart?.day === day.day)
  )
}

/** One range of hours for every strip of the week, so that a time stands at the same place on all of them. */
function hoursShown(days: readonly Day[], blocks: readonly Block[]): Stretch {
  const inWeek = new Set(days.map(({ day }) => day))
  const stretches: readonly Stretch[] = [
    ...days.flatMap(({ benches }) => benches.flatMap(({ open, staying }) => [...open, ...staying])),
    ...blocks.filter(({ day }) => inWeek.has(day)),
    ...blocks.flatMap(({ changeApart }) => (changeApart && inWeek.has(changeApart.day) ? [changeApart] : [])),
  ]
  if (stretches.length === 0) return { fromMinute: 480, toMinute: 1080 }
  return {
    fromMinute: Math.floor(Math.min(...stretches.map(({ fromMinute }) => fromMinute)) / 60) * 60,
    toMinute: Math.ceil(Math.max(...stretches.map(({ toMinute }) => toMinute)) / 60) * 60,
  }
}

function DayOf(props: { readonly day: Day; readonly blocks: readonly Block[]; readonly hours: Stretch }) {
  const { day, blocks, hours } = props
  const { today } = useStudio()
  const said = weekdayText(day.day, today)
  return (
    <div className={css.day}>
      <h3>{`${said}${day.day === today ? ', today' : ''}`}</h3>
      <Marks day={day} blocks={blocks} />
      {day.benches.map((bench) => {
        const all = drawnOn(bench, day.day, blocks)
        return (
          <div key={bench.benchId} className={css.bench}>
            <span className={all.length > 0 ? css.beside : undefined}>{bench.bench}</span>
            <div>
              {all.length > 0 ? (
                <DayStrip {...hours} label={`${bench.bench}, ${said}`} open={bench.open} blocks={all} />
              ) : null}
              <p className={css.under}>{underText(bench, day.day, blocks)}</p>
            </div>
          </div>
        )
      })}
    </div>
  )
}

/** How many jobs are named in a row of marks. */
const marksNamed = 6

function Marks({ day, blocks }: { readonly day: Day; readonly blocks: readonly Block[] }) {
  const late = new Map<number, number>()
  for (const { jobId, daysLate } of blocks) late.set(jobId, Math.max(late.get(jobId) ?? 0, daysLate))
  const marks = [
    ...day.goodsIn.map((mark) => ({
      ...mark,
      what: `samples of ${countText(mark.spins, 'spin')} expected`,
      days: 0,
    })),
    ...day.due.map((mark) => ({ ...mark, what: 'due', days: late.get(mark.jobId) ?? 0 })),
  ]
  if (marks.length === 0) return null
  return (
    <ul className={css.marks}>
      {marks.slice(0, marksNamed).map(({ jobId, jobNumber, client, what, days }) => (
        <li key={`${what} ${jobId}`} className={days > 0 ? words.late : undefined}>
          <Link to={`/jobs/${jobId}/bench`}>{`${jobNumber} ${what}`}</Link>
          {`, ${client}${days > 0 ? `, turned ${countText(days, 'day')} late` : ''}`}
        </li>
      ))}
      {marks.length > marksNamed ? (
        <li>{`and ${countText(marks.length - marksNamed, 'job')} more`}</li>
      ) : null}
    </ul>
  )
}

function drawnOn(bench: BenchDay, day: string, blocks: readonly Block[]): readonly DayBlock[] {
  const staying = bench.staying.map(
    (booking): DayBlock => ({
      key: `stays ${booking.id}`,
      label: labelOf(booking),
      kind: booking.kind === 'set change' ? 'changeover' : 'closed',
      fromMinute: booking.fromMinute,
      toMinute: booking.toMinute,
    }),
  )
  const planned = blocks
    .filter(({ benchId }) => benchId === bench.benchId)
    .flatMap((block) => drawn(block, day))
  return [...staying, ...planned].sort((a, b) => a.fromMinute - b.fromMinute)
}

function drawn(block: Block, day: string): readonly DayBlock[] {
  const key = `${block.day} ${block.fromMinute} ${block.benchId}`
  const change = { key: `${key} change`, kind: 'changeover' as const, label: changeText(block) }
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
      block.daysLate > 0 ? `${countText(block.daysLate, 'day')} late` : '',
      block.client,
      countText(block.shootIds.length, 'spin'),
      block.jobNumber,
      block.rig ?? 'no rig planned',
    ]
      .filter(Boolean)
      .join(', '),
    fromMinute: workFrom,
    toMinute: block.toMinute,
    to: `/jobs/${block.jobId}/bench`,
    late: block.daysLate > 0,
  })
  return pieces
}

/** What a set change leads from and to. */
function changeText({ rig, rigBefore }: Block): string {
  if (rig !== null && rig === rigBefore) return `New settings on ${rig}`
  return `Set change from ${rigBefore ?? 'an empty bench'} to ${rig ?? 'another rig'}`
}

/** A bench's day in words: what is free, and each set change of the plan. */
function underText(bench: BenchDay, day: string, blocks: readonly Block[]): string {
  if (bench.closed !== null) return `Closed: ${bench.closed}.`
  if (bench.open.length === 0 && bench.staying.length === 0) return 'Not open.'
  const changes = blocks
    .filter(({ benchId }) => benchId === bench.benchId)
    .flatMap((block) => {
      const span =
        block.changeApart?.day === day
          ? block.changeApart
          : block.day === day && block.setChangeMinutes > 0
            ? { fromMinute: block.fromMinute, toMinute: block.fromMinute + block.setChangeMinutes }
            : undefined
      return span
        ? [
            ` ${changeText(block)} at ${clockText(span.fromMinute)}, ${durationText(span.toMinute - span.fromMinute)}.`,
          ]
        : []
    })
  const free = bench.freeMinutes > 0 ? `${durationText(bench.freeMinutes)} free.` : 'Nothing free.'
  return `${free}${changes.join('')}`
}
