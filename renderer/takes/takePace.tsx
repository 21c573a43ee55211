import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { countText, durationText, numberText, secondsText } from '../parts/format.ts'
import { PaceLine } from '../parts/paceLine.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'

type Pace = Answers['takes']['pace']
type Stretch = Pace['stretches'][number]

/** How a take went along its turn: drawn, and as a table. */
export function TakePaceDialog(props: {
  readonly takeId: number
  readonly number: number
  readonly onClose: () => void
}) {
  const pace = useAsk(['takes', 'pace', props.takeId], () => api.takes.pace.query({ takeId: props.takeId }))
  return (
    <Dialog title={`Pace of take ${props.number}`} wide onClose={props.onClose}>
      <Asked of={pace}>{(data) => <TakePace pace={data} />}</Asked>
    </Dialog>
  )
}

function TakePace({ pace }: { readonly pace: Pace }) {
  const timed = pace.stretches.filter(({ step }) => step !== null)
  if (timed.length === 0) {
    return (
      <p>
        No frame of this take was timed one by one, so its pace along the turn is not known. A take that is
        counted by keys, by the beat or by arriving files is.
      </p>
    )
  }
  return (
    <>
      <PaceLine
        label={`Seconds a frame along the turn, from mark 1 to mark ${pace.stretches.at(-1)?.toMark}. The table below says the same.`}
        pieces={pace.stretches.map(({ fromMark, toMark, step }) => ({
          from: fromMark,
          to: toMark,
          seconds: step === null ? null : step.median / 1000,
          range: step?.range ? { low: step.range.low / 1000, high: step.range.high / 1000 } : null,
        }))}
        events={[
          ...pace.pauses.map(({ mark, ms, reason }) => ({
            at: mark,
            kind: 'pause' as const,
            word: [`pause of ${pauseText(ms)}`, reason].filter(Boolean).join(': '),
          })),
          ...pace.faults.map(({ mark, kind }) => ({
            at: mark,
            kind: 'fault' as const,
            word: `${kind} at mark ${mark + 1}`,
          })),
        ]}
        ticks={ticksOf(pace)}
      />
      <p className={words.quiet}>
        The line is the median of each stretch, the band where it probably lies (19 times in 20); under six
        steps say too little for a band. Strokes above are pauses, rings are faults.
      </p>
      <Table
        caption="Pace along the turn"
        columns={columnsOf(pace)}
        rows={pace.stretches}
        keyOf={({ fromMark }) => fromMark}
        empty={null}
      />
      {pace.faultsOfAll.length > 0 ? <p>{`Over the whole take: ${pace.faultsOfAll.join(', ')}.`}</p> : null}
    </>
  )
}

function ticksOf({ stretches, framesPerTurn }: Pace) {
  const quarters = [0, 1, 2, 3].map((quarter) => Math.round((quarter * framesPerTurn) / 4))
  const last = stretches.at(-1)?.toMark ?? framesPerTurn
  return [...new Set([...quarters, framesPerTurn === last ? last : framesPerTurn])].map((mark) => ({
    at: mark,
    word: mark === framesPerTurn && last > mark ? 'turn closed' : String(mark === 0 ? 1 : mark),
  }))
}

function columnsOf(pace: Pace): readonly Column<Stretch>[] {
  const within = <T extends { readonly mark: number }>(things: readonly T[], { fromMark, toMark }: Stretch) =>
    things.filter(({ mark }) => mark >= fromMark && mark < toMark)
  return [
    {
      key: 'marks',
      head: 'Marks',
      tight: true,
      cell: ({ fromMark, toMark }) =>
        `${fromMark + 1} to ${toMark}${fromMark >= pace.framesPerTurn ? ', overlap' : ''}`,
    },
    {
      key: 'step',
      head: 'A frame took',
      figure: true,
      cell: ({ step }) => (step === null ? '' : secondsText(step.median / 1000)),
    },
    { key: 'range', head: 'Probably between', figure: true, cell: ({ step }) => rangeText(step) },
    { key: 'steps', head: 'Steps', figure: true, cell: ({ step }) => numberText(step?.count ?? 0) },
    {
      key: 'pauses',
      head: 'Pauses',
      cell: (stretch) =>
        within(pace.pauses, stretch)
          .map(({ ms, reason }) => [pauseText(ms), reason].filter(Boolean).join(', '))
          .join('; '),
    },
    {
      key: 'faults',
      head: 'Faults',
      cell: (stretch) =>
        within(pace.faults, stretch)
          .map(({ kind, mark, note }) => [`${kind} at mark ${mark + 1}`, note].filter(Boolean).join(', '))
          .join('; '),
    },
  ]
}

/** A median's range as a cell says it. */
export function rangeText(
  step: { readonly range: { low: number; high: number } | null; count: number } | null,
) {
  if (step === null) return ''
  if (step.range === null) return `${countText(step.count, 'value')}: too few`
  return `${secondsText(step.range.low / 1000)} and ${secondsText(step.range.high / 1000)}`
}

function pauseText(ms: number): string {
  return ms < 60_000 ? secondsText(ms / 1000) : durationText(ms / 60_000)
}
