import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { countText, durationText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { TicketsButton } from '../scan/printTickets.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { EstimateBasis } from './estimateBasis.tsx'
import { type OpenSpinDialog, SpinDialog } from './spinDialogs.tsx'

export type Spin = Answers['spins']['list'][number]

/** What is spun in the job: each spin with its station, rows and rig, and what can be done with one or many. */
export function JobSpins({ jobId }: { readonly jobId: number }) {
  const job = useAsk(['jobs', 'one', jobId], () => api.jobs.one.query({ jobId }))
  const spins = useAsk(['spins', 'list', jobId], () => api.spins.list.query({ jobId }))
  return (
    <Asked of={job}>
      {(whole) => (
        <Asked of={spins}>
          {(list) => <Spins jobId={jobId} clientId={whole.job.clientId} spins={list} />}
        </Asked>
      )}
    </Asked>
  )
}

function Spins(props: {
  readonly jobId: number
  readonly clientId: number
  readonly spins: readonly Spin[]
}) {
  const { jobId, clientId, spins } = props
  const selection = useSelection<number>()
  const [open, setOpen] = useState<OpenSpinDialog>()
  const chosen = spins.filter(({ id }) => selection.has(id))
  return (
    <Part
      title="Spins"
      acts={
        <Button kind="main" onClick={() => setOpen({ which: 'add', clientId, jobId })}>
          Add spins
        </Button>
      }
    >
      <ChosenActs jobId={jobId} spins={spins} chosen={chosen} onOpen={setOpen} />
      <Table
        caption="Spins of the job"
        columns={columns}
        rows={spins}
        keyOf={({ id }) => id}
        selection={selection}
        total={spins.length}
        counted={['spin', 'spins']}
        empty={
          <Empty sentence="Nothing is to be spun yet. Add the products, by pasted codes or from the client’s list." />
        }
      />
      {spins.length > 0 ? <EstimateBasis /> : null}
      {open ? (
        <SpinDialog
          open={open}
          onClose={() => {
            setOpen(undefined)
            selection.clear()
          }}
        />
      ) : null}
    </Part>
  )
}

const columns: readonly Column<Spin>[] = [
  { key: 'position', head: 'No.', figure: true, tight: true, cell: ({ position }) => position },
  {
    key: 'code',
    head: 'Code',
    tight: true,
    cell: ({ products }) => <span className={words.mono}>{products.map(({ code }) => code).join(', ')}</span>,
  },
  { key: 'name', head: 'Spin', cell: (spin) => <Name spin={spin} /> },
  {
    key: 'station',
    head: 'Stands at',
    tight: true,
    cell: ({ station }) => station ?? <span className={words.quiet}>cancelled</span>,
  },
  { key: 'rows', head: 'Frames', figure: true, tight: true, cell: ({ rows }) => framesText(rows) },
  {
    key: 'rig',
    head: 'Rig',
    tight: true,
    cell: ({ rigName, rigRevision }) => (rigName ? `${rigName}, rev. ${rigRevision}` : ''),
  },
  {
    key: 'estimate',
    head: 'Bench time',
    figure: true,
    tight: true,
    cell: ({ estimateMs }) => durationText(estimateMs / 60_000),
  },
]

/** Frames of each row, with the overlap past the full turn: `244 + 3`, or `120 + 2 and 60`. */
function framesText(rows: Spin['rows']): string {
  return rows
    .map(({ framesPerTurn, overlapFrames }) =>
      overlapFrames > 0 ? `${numberText(framesPerTurn)} + ${overlapFrames}` : numberText(framesPerTurn),
    )
    .join(' and ')
}

function Name({ spin }: { readonly spin: Spin }) {
  const marks = [
    spin.isFirst && 'first spin',
    spin.breaksBetweenRows && 'may break between rows',
    spin.hasOwnBrief && 'own brief',
    spin.reshoots > 0 && countText(spin.reshoots, 'reshoot'),
    spin.withoutSampleReason && `without sample: ${spin.withoutSampleReason}`,
    spin.cancelledReason && `cancelled: ${spin.cancelledReason}`,
    spin.note,
  ].filter(Boolean)
  return (
    <>
      {spin.name}
      {marks.length > 0 ? <span className={words.quiet}>{` ${marks.join(', ')}`}</span> : null}
    </>
  )
}

function ChosenActs(props: {
  readonly jobId: number
  readonly spins: readonly Spin[]
  readonly chosen: readonly Spin[]
  readonly onOpen: (open: OpenSpinDialog) => void
}) {
  const { jobId, spins, chosen, onOpen } = props
  const say = useNotice()
  const shootIds = chosen.map(({ id }) => id)
  const areFirst = chosen.every(({ isFirst }) => isFirst)
  const mark = useAct(
    () => api.spins.markFirst.mutate({ shootIds, isFirst: !areFirst }),
    () =>
      say(areFirst ? 'No longer first spins.' : 'These are first spins: their yes fixes rig and settings.'),
  )
  const severalRows = chosen.filter(({ rows }) => rows.length > 1)
  const mayBreak = severalRows.length > 0 && severalRows.every(({ breaksBetweenRows }) => breaksBetweenRows)
  const breaks = useAct(
    () => api.spins.letBreak.mutate({ shootIds: severalRows.map(({ id }) => id), mayBreak: !mayBreak }),
    () =>
      say(
        mayBreak
          ? 'All their rows are turned in one stretch again.'
          : 'The bench may close between two of their rows; a turn is never broken.',
      ),
  )
  const drop = useAct(
    () => api.spins.dropBrief.mutate({ shootIds }),
    () => say('They follow the job’s brief again.'),
  )
  const restore = useAct(
    () => api.spins.restore.mutate({ shootIds }),
    () => say('They are back in the job.'),
  )
  const order = useAct((ids: number[]) => api.spins.putInOrder.mutate({ jobId, shootIds: ids }))
  const refusal = mark.refusal ?? breaks.refusal ?? drop.refusal ?? restore.refusal ?? order.refusal
  if (spins.length === 0) return null
  const [only] = chosen.length === 1 ? chosen : []
  const none = chosen.length === 0
  return (
    <>
      <ButtonRow>
        <Button disabled={none} busy={mark.busy} onClick={() => mark.run()}>
          {!none && areFirst ? 'Not first spins' : 'First spins'}
        </Button>
        {severalRows.length > 0 ? (
          <Button busy={breaks.busy} onClick={() => breaks.run()}>
            {mayBreak ? 'Rows stay together' : 'May break between rows'}
          </Button>
        ) : null}
        <Button disabled={!only} onClick={() => only && onOpen({ which: 'describe', spin: only })}>
          Rename
        </Button>
        <Button disabled={none} onClick={() => onOpen({ which: 'brief', spins: chosen })}>
          Brief of their own
        </Button>
        {chosen.some(({ hasOwnBrief }) => hasOwnBrief) ? (
          <Button busy={drop.busy} onClick={() => drop.run()}>
            Back to the job’s brief
          </Button>
        ) : null}
        <Button disabled={!only} onClick={() => only && order.run(moved(spins, only.id, -1))}>
          Up
        </Button>
        <Button disabled={!only} onClick={() => only && order.run(moved(spins, only.id, 1))}>
          Down
        </Button>
        <TicketsButton jobId={jobId} shootIds={shootIds} />
        <Button disabled={none} onClick={() => onOpen({ which: 'reshoot', spins: chosen })}>
          Turn again
        </Button>
        {chosen.some(({ cancelledAt }) => cancelledAt !== null) ? (
          <Button busy={restore.busy} onClick={() => restore.run()}>
            Bring back
          </Button>
        ) : (
          <Button kind="quiet" disabled={none} onClick={() => onOpen({ which: 'cancel', spins: chosen })}>
            Cancel them
          </Button>
        )}
      </ButtonRow>
      {refusal ? <p role="alert">{refusal.sentence}</p> : null}
    </>
  )
}

/** The ids in their order, with one moved up or down by one place. */
function moved(spins: readonly Spin[], id: number, by: 1 | -1): number[] {
  const ids = spins.map((spin): number => spin.id)
  const at = ids.indexOf(id)
  const to = at + by
  if (to < 0 || to >= ids.length) return ids
  return ids.toSpliced(at, 1).toSpliced(to, 0, id)
}
