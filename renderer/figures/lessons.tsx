import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { clockText, countText, numberText, percentText, secondsText } from '../parts/format.ts'
import { PaceLine } from '../parts/paceLine.tsx'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'
import { rangeText } from '../takes/takePace.tsx'
import css from './figures.module.css'
import { RangeBar } from './rangeBar.tsx'

type Lessons = Answers['figures']['lessons']
type Tally = Pick<Lessons['hours'][number], 'takes' | 'step' | 'faulty' | 'rejected' | 'kinds'>

interface Row extends Tally {
  readonly key: string
  readonly name: string
}

/** Pace and faults by the hour of the day, by rig and by person, each with its counts and ranges. */
export function LessonsParts() {
  const lessons = useAsk(['figures', 'lessons'], () => api.figures.lessons.query())
  return (
    <Asked of={lessons}>
      {(data) =>
        data.takes === 0 ? null : (
          <>
            <DayPart lessons={data} />
            <FaultsPart lessons={data} />
          </>
        )
      }
    </Asked>
  )
}

function DayPart({ lessons }: { readonly lessons: Lessons }) {
  const { hours } = lessons
  const dayRows = lessons.dayParts.map((part) => ({ ...part, key: part.part, name: capitalOf[part.part] }))
  const rows: readonly Row[] = [
    ...hours.map((hour) => ({
      ...hour,
      key: `hour ${hour.hour}`,
      name: `${clockText(hour.hour * 60)} to ${clockText((hour.hour + 1) * 60)}`,
    })),
    ...dayRows,
  ]
  return (
    <Part title="Over the day">
      <p className={css.note}>
        {`From the newest ${countText(lessons.takes, 'take')}, by the hour in which each began. The band is where the median probably lies, 19 times in 20; under six takes say too little for one. The first hour runs from a person’s first take of the day; lunch is the longest break of half an hour or more that begins between 11:00 and 14:30.`}
      </p>
      <PaceLine
        label="Seconds a frame by the hour of the day. The table below says the same."
        pieces={allHours(hours).map(({ hour, step }) => ({
          from: hour,
          to: hour + 1,
          seconds: step === null ? null : step.median / 1000,
          range: step?.range ? { low: step.range.low / 1000, high: step.range.high / 1000 } : null,
        }))}
        ticks={allHours(hours).map(({ hour }) => ({ at: hour, word: clockText(hour * 60) }))}
      />
      <Table
        caption="Pace and faults by the hour of the day"
        columns={columnsOf('Takes begun')}
        rows={rows}
        keyOf={({ key }) => key}
        empty={null}
      />
    </Part>
  )
}

const capitalOf = {
  'first hour': 'In the first hour',
  'after lunch': 'In the hour after lunch',
  'other hours': 'In other hours',
} as const

/** Every hour from the first to the last that has takes, those without among them. */
function allHours(hours: Lessons['hours']): readonly { hour: number; step: Tally['step'] }[] {
  const [first, last] = [hours[0]?.hour ?? 0, hours.at(-1)?.hour ?? 0]
  return Array.from({ length: last - first + 1 }, (_, index) => {
    const hour = first + index
    return { hour, step: hours.find((one) => one.hour === hour)?.step ?? null }
  })
}

function FaultsPart({ lessons }: { readonly lessons: Lessons }) {
  const rows: readonly Row[] = [
    ...lessons.rigs.map((rig) => ({ ...rig, key: `rig ${rig.rigId}` })),
    ...lessons.people.map((person) => ({ ...person, key: `person ${person.personId}` })),
  ]
  return (
    <Part title="Faults by rig and person">
      <p className={css.note}>
        How many takes had a fault, with the range in which the true share lies 19 times in 20 (Wilson’s
        interval). Where two ranges overlap, chance alone may have made the difference.
      </p>
      <Table
        caption="Faults and pace by rig and person"
        columns={[...columnsOf('Rig or person'), kindsColumn]}
        rows={rows}
        keyOf={({ key }) => key}
        empty={null}
      />
    </Part>
  )
}

const kindsColumn: Column<Row> = {
  key: 'kinds',
  head: 'Faults',
  cell: ({ kinds }) => kinds.map(({ kind, takes }) => `${kind} ${numberText(takes)}`).join(', '),
}

function columnsOf(head: string): readonly Column<Row>[] {
  return [
    { key: 'name', head, tight: true, cell: ({ name }) => name },
    { key: 'takes', head: 'Takes', figure: true, tight: true, cell: ({ takes }) => numberText(takes) },
    {
      key: 'step',
      head: 'A frame took',
      figure: true,
      tight: true,
      cell: ({ step }) => (step === null ? '' : secondsText(step.median / 1000)),
    },
    {
      key: 'range',
      head: 'Probably between',
      figure: true,
      tight: true,
      cell: ({ step }) => rangeText(step),
    },
    {
      key: 'faulty',
      head: 'With a fault',
      figure: true,
      tight: true,
      cell: ({ faulty }) => `${numberText(faulty.hits)} of ${numberText(faulty.of)}`,
    },
    {
      key: 'share',
      head: 'Share with a fault, drawn',
      isHeadSpoken: true,
      cell: ({ name, faulty }) =>
        faulty.of === 0 ? null : (
          <RangeBar
            label={`${name}: with a fault between ${percentText(faulty.range.low)} and ${percentText(faulty.range.high)}`}
            range={faulty.range}
            mark={faulty.hits / faulty.of}
            scale={1}
          />
        ),
    },
    {
      key: 'rejected',
      head: 'Rejected',
      figure: true,
      tight: true,
      cell: ({ rejected }) => `${numberText(rejected.hits)} of ${numberText(rejected.of)}`,
    },
  ]
}
