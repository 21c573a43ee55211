import { useState } from 'react'
import { useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { countText, numberText, secondsText } from '../parts/format.ts'
import { Columns, Empty, Part } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { CountTake } from './countTake.tsx'
import css from './jobTakes.module.css'
import { TakeCard } from './takeCard.tsx'
import { TakesCsvButton } from './takesCsv.tsx'

export type SpinTakes = Answers['takes']['ofJob'][number]

/** A job's spins with their takes: start one, see what went wrong, keep or reject. */
export function JobTakes({ jobId }: { readonly jobId: number }) {
  const spins = useAsk(['takes', 'ofJob', jobId], () => api.takes.ofJob.query({ jobId }))
  return (
    <Asked of={spins}>
      {(data) =>
        data.length === 0 ? (
          <Empty
            sentence="This job has no spins yet. Choose the products to be spun first."
            act={<ButtonLink to={`/jobs/${jobId}/spins`}>Go to the spins</ButtonLink>}
          />
        ) : (
          <SpinsAndTakes jobId={jobId} spins={data} />
        )
      }
    </Asked>
  )
}

function SpinsAndTakes({ jobId, spins }: { readonly jobId: number; readonly spins: readonly SpinTakes[] }) {
  const [params] = useSearchParams()
  const place = useTablePlace({ key: 'position', descending: false })
  const named = Number(params.get('spin'))
  const spin = spins.find(({ shootId }) => shootId === named) ?? spins.find((one) => !isKept(one)) ?? spins[0]
  const from = (place.page - 1) * rowsPerPage
  const page = place.page > 1 ? `&page=${place.page}` : ''
  return (
    <Columns aside>
      <Part title="Spins" acts={<TakesCsvButton jobId={jobId} />}>
        <Table
          caption="Spins of the job and their takes"
          columns={columnsWith(spin?.shootId)}
          rows={spins.slice(from, from + rowsPerPage)}
          keyOf={({ shootId }) => shootId}
          to={({ shootId }) => `/jobs/${jobId}/takes?spin=${shootId}${page}`}
          total={spins.length}
          counted={['spin', 'spins']}
          place={place}
          empty={null}
        />
      </Part>
      {spin ? <TakesOfSpin key={spin.shootId} spin={spin} /> : null}
    </Columns>
  )
}

/** The spin whose takes stand beside the list is marked in it. */
function columnsWith(here: number | undefined): readonly Column<SpinTakes>[] {
  return [
    {
      key: 'spin',
      head: 'Spin',
      cell: ({ shootId, position, name, isFirst }) => (
        <span className={shootId === here ? css.here : undefined}>
          {`${position}. ${name}${isFirst ? ', first spin' : ''}`}
        </span>
      ),
    },
    ...columns,
  ]
}

const columns: readonly Column<SpinTakes>[] = [
  {
    key: 'ring',
    head: 'Newest take, drawn',
    isHeadSpoken: true,
    tight: true,
    cell: (spin) => <SpinRing spin={spin} />,
  },
  { key: 'state', head: 'Stands', cell: (spin) => <SpinState spin={spin} /> },
  { key: 'takes', head: 'Takes', figure: true, cell: ({ takes }) => numberText(takes.length) },
  { key: 'faults', head: 'Faults', cell: (spin) => faultsOf(spin) },
  { key: 'step', head: 'A frame takes', figure: true, cell: (spin) => stepOf(spin) },
]

function SpinRing({ spin }: { readonly spin: SpinTakes }) {
  const [last] = spin.takes
  return (
    <Ring
      size={26}
      framesPerTurn={last?.framesPerTurn ?? spin.rows[0]?.framesPerTurn ?? 1}
      done={last ? Math.max(0, last.framesPerTurn - last.missingFrames) : 0}
      label=""
    />
  )
}

function SpinState({ spin }: { readonly spin: SpinTakes }) {
  const [last] = spin.takes
  if (last?.endedAt === null) return <strong>{`turning at ${last.benchName}`}</strong>
  if (last && last.verdict === null && last.counts) return 'take waits for a verdict'
  const kept = keptRows(spin)
  if (kept === spin.rows.length) return 'kept'
  if (kept > 0) return `${kept} of ${spin.rows.length} rows kept`
  return (
    <span className={words.quiet}>{spin.takes.length === 0 ? 'not turned yet' : 'to be turned again'}</span>
  )
}

function TakesOfSpin({ spin }: { readonly spin: SpinTakes }) {
  const [open, setOpen] = useState(false)
  const running = spin.takes.find(({ endedAt }) => endedAt === null)
  return (
    <Part title={spin.name}>
      <ButtonRow>
        {running ? (
          <ButtonLink to={`/takes/${running.id}`} kind="main">
            Go to the bench
          </ButtonLink>
        ) : (
          <>
            <ButtonLink to={`/takes/of/${spin.shootId}`} kind={isKept(spin) ? 'plain' : 'main'}>
              Start a take
            </ButtonLink>
            <Button onClick={() => setOpen(true)}>Count by files</Button>
            <ButtonLink to="/bench/cards">Takes on cards</ButtonLink>
            <ButtonLink to={`/slate/${spin.shootId}`}>Show the slate</ButtonLink>
          </>
        )}
      </ButtonRow>
      {spin.takes.length === 0 ? (
        <Empty
          sentence={`No take of it yet. ${spin.rows
            .map(
              ({ framesPerTurn, overlapFrames }) =>
                `${countText(framesPerTurn, 'frame')} and ${overlapFrames} more`,
            )
            .join(', then ')}.`}
        />
      ) : (
        spin.takes.map((take) => <TakeCard key={take.id} take={take} rows={spin.rows.length} />)
      )}
      {open ? <CountTake shootId={spin.shootId} onClose={() => setOpen(false)} /> : null}
    </Part>
  )
}

function keptRows({ takes }: SpinTakes): number {
  return new Set(takes.filter(({ verdict, counts }) => verdict === 'keep' && counts).map(({ row }) => row))
    .size
}

function isKept(spin: SpinTakes): boolean {
  return keptRows(spin) === spin.rows.length
}

function faultsOf({ takes }: SpinTakes): string {
  const kinds = takes.flatMap(({ faults }) => faults.map(({ kind }) => kind))
  return [...new Set(kinds)].join(', ')
}

function stepOf({ takes }: SpinTakes): string {
  const known = takes.find(({ medianStepMs }) => medianStepMs !== null)?.medianStepMs
  return known ? secondsText(known / 1000) : ''
}
