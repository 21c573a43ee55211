import { useState } from 'react'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import { AnswerDialog } from './answerDialog.tsx'
import { ChargesPart } from './chargesPart.tsx'
import { ExtraDialog } from './extraDialog.tsx'
import type { JobExtras as Data, Extra } from './extraValue.ts'
import { ReshootsPart } from './reshootsPart.tsx'

type Open =
  | { readonly what: 'new' }
  | { readonly what: 'change' | 'answer' | 'discard'; readonly extra: Extra }

/** What changed of a job's order since its quote was accepted, and what may yet be billed. */
export function JobExtras({ jobId }: { readonly jobId: number }) {
  const ofJob = useAsk(['extras', 'ofJob', jobId], () => api.extras.ofJob.query({ jobId }))
  return (
    <Asked of={ofJob}>
      {(data) => (
        <>
          <ExtrasPart jobId={jobId} data={data} />
          <ReshootsPart data={data} />
          <ChargesPart jobId={jobId} data={data} />
        </>
      )}
    </Asked>
  )
}

function ExtrasPart({ jobId, data }: { readonly jobId: number; readonly data: Data }) {
  const [open, setOpen] = useState<Open>()
  const close = () => setOpen(undefined)
  const paper = useAct(
    () => api.extras.paper.mutate({ jobId }),
    ({ paperId }) => openPaper(paperId),
  )
  return (
    <Part
      title="Extras"
      acts={
        data.hasOrder ? (
          <ButtonRow>
            {data.extras.length > 0 ? (
              <Button busy={paper.busy} onClick={() => paper.run()}>
                The page for the client
              </Button>
            ) : null}
            <Button kind="main" onClick={() => setOpen({ what: 'new' })}>
              Propose an extra
            </Button>
          </ButtonRow>
        ) : undefined
      }
    >
      {paper.refusal ? <FormRefusal sentence={paper.refusal.sentence} /> : null}
      <Table
        caption="Extras of the job"
        columns={useColumns(data, setOpen)}
        rows={data.extras}
        keyOf={({ id }) => id}
        empty={
          <Empty
            sentence={
              data.hasOrder
                ? 'The order is as it was quoted. What the client wants besides is proposed here, and billed once they agree.'
                : 'An extra changes an accepted quote, and this job has none yet.'
            }
          />
        }
      />
      {open?.what === 'new' ? (
        <ExtraDialog jobId={jobId} data={data} extra={undefined} onClose={close} />
      ) : null}
      {open?.what === 'change' ? (
        <ExtraDialog jobId={jobId} data={data} extra={open.extra} onClose={close} />
      ) : null}
      {open?.what === 'answer' ? <AnswerDialog data={data} extra={open.extra} onClose={close} /> : null}
      {open?.what === 'discard' ? <Discard extra={open.extra} onClose={close} /> : null}
    </Part>
  )
}

function useColumns(data: Data, open: (what: Open) => void): readonly Column<Extra>[] {
  const { today } = useStudio()
  return [
    { key: 'name', head: 'Number', tight: true, cell: ({ name }) => name },
    {
      key: 'title',
      head: 'What',
      cell: ({ title, why }) => (
        <>
          {title}
          {why ? <span className={words.quiet}>{` ${why}`}</span> : null}
        </>
      ),
    },
    {
      key: 'net',
      head: 'Before tax',
      figure: true,
      cell: ({ netMinor }) => moneyText(netMinor, data.currency),
    },
    {
      key: 'gross',
      head: 'With tax',
      figure: true,
      cell: ({ taxInclusiveMinor }) => moneyText(taxInclusiveMinor, data.currency),
    },
    {
      key: 'due',
      head: 'New due day',
      cell: ({ newDueDay }) => (newDueDay ? dayText(newDueDay, today) : ''),
    },
    { key: 'state', head: 'Answer', cell: (extra) => answerText(extra, today) },
    {
      key: 'act',
      head: 'Acts',
      isHeadSpoken: true,
      tight: true,
      cell: (extra) => (extra.state === 'proposed' ? <Acts extra={extra} open={open} /> : null),
    },
  ]
}

function answerText({ state, decidedDay, contactName, decidedHow }: Extra, today: string): string {
  if (state === 'proposed' || decidedDay === null) return 'waits for the client'
  const who = contactName === null ? '' : `, ${contactName}`
  return `${state === 'agreed' ? 'Yes' : 'No'}, ${dayText(decidedDay, today)}${who}, ${decidedHow}`
}

function Acts({ extra, open }: { readonly extra: Extra; readonly open: (what: Open) => void }) {
  return (
    <ButtonRow>
      <Button aria-label={`Answer to ${extra.name}`} onClick={() => open({ what: 'answer', extra })}>
        Answer
      </Button>
      <Button
        kind="quiet"
        aria-label={`Change ${extra.name}`}
        onClick={() => open({ what: 'change', extra })}
      >
        Change
      </Button>
      <Button
        kind="quiet"
        aria-label={`Throw away ${extra.name}`}
        onClick={() => open({ what: 'discard', extra })}
      >
        Throw away
      </Button>
    </ButtonRow>
  )
}

function Discard({ extra, onClose }: { readonly extra: Extra; readonly onClose: () => void }) {
  const say = useNotice()
  const discard = useAct(
    () => api.extras.discard.mutate({ extraId: extra.id }),
    () => {
      say(`${extra.name} is thrown away.`)
      onClose()
    },
  )
  return (
    <Confirm
      title={`Throw ${extra.name} away?`}
      sentence="Its lines are lost. What it was to bill can be proposed again."
      act="Throw it away"
      grave
      busy={discard.busy}
      refusal={discard.refusal}
      onConfirm={() => discard.run()}
      onClose={onClose}
    />
  )
}
