import { useState } from 'react'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { ChangeDialog, ShowDialog, YesDialog } from './answerDialogs.tsx'
import css from './answers.module.css'
import { answerText, type Item, itemKey, itemStates, type JobAnswersData, pickText } from './itemWords.ts'
import { PickDialog } from './pickDialog.tsx'

/** What is picked for each deliverable, what the client has seen, and what the client said. */
export function JobAnswers({ jobId }: { readonly jobId: number }) {
  const answers = useAsk(['answers', 'ofJob', jobId], () => api.answers.ofJob.query({ jobId }))
  return (
    <Asked of={answers}>
      {(data) =>
        data.items.length === 0 ? (
          <Empty
            sentence="This job has no spins yet. Choose the products to be spun first."
            act={<ButtonLink to={`/jobs/${jobId}/spins`}>Go to the spins</ButtonLink>}
          />
        ) : (
          <Items jobId={jobId} data={data} />
        )
      }
    </Asked>
  )
}

type Open = { readonly what: 'show' | 'yes' | 'change' } | { readonly what: 'pick'; readonly item: Item }

function Items({ jobId, data }: { readonly jobId: number; readonly data: JobAnswersData }) {
  const place = useTablePlace({ key: 'position', descending: false })
  const selection = useSelection<string>()
  const [open, setOpen] = useState<Open>()
  const state = place.filter('state')
  const shown = data.items.filter((item) => state === '' || item.state === state)
  const chosen = shown.filter((item) => selection.has(itemKey(item)))
  const from = (place.page - 1) * rowsPerPage
  const close = () => setOpen(undefined)
  const done = () => {
    setOpen(undefined)
    selection.clear()
  }
  return (
    <Part title="Pick and yes">
      <StateFilter
        items={data.items}
        state={state}
        onState={(next) => {
          place.setFilter('state', next)
          selection.clear()
        }}
      />
      <Acts data={data} chosen={chosen} onOpen={(what) => setOpen({ what })} />
      <Table
        caption="Deliverables of the job’s spins"
        columns={useColumns((item) => setOpen({ what: 'pick', item }))}
        rows={shown.slice(from, from + rowsPerPage)}
        keyOf={itemKey}
        total={shown.length}
        counted={['deliverable', 'deliverables']}
        place={place}
        selection={selection}
        empty={<Empty sentence="Nothing stands here just now." />}
      />
      {open?.what === 'pick' ? <PickDialog data={data} item={open.item} onClose={close} /> : null}
      {open?.what === 'show' ? <ShowDialog {...{ jobId, data, chosen, done }} onClose={close} /> : null}
      {open?.what === 'yes' ? <YesDialog {...{ jobId, data, chosen, done }} onClose={close} /> : null}
      {open?.what === 'change' ? <ChangeDialog {...{ jobId, data, chosen, done }} onClose={close} /> : null}
    </Part>
  )
}

function StateFilter(props: {
  readonly items: readonly Item[]
  readonly state: string
  readonly onState: (state: string) => void
}) {
  const counts = itemStates.map(
    ([state, word]) => [state, word, props.items.filter((item) => item.state === state).length] as const,
  )
  return (
    <fieldset className={css.filters} aria-label="Which deliverables are shown">
      <button type="button" aria-pressed={props.state === ''} onClick={() => props.onState('')}>
        {`all ${numberText(props.items.length)}`}
      </button>
      {counts
        .filter(([state, , count]) => count > 0 || state === props.state)
        .map(([state, word, count]) => (
          <button
            key={state}
            type="button"
            aria-pressed={props.state === state}
            onClick={() => props.onState(state)}
          >
            {`${word} ${numberText(count)}`}
          </button>
        ))}
    </fieldset>
  )
}

function Acts(props: {
  readonly data: JobAnswersData
  readonly chosen: readonly Item[]
  readonly onOpen: (what: 'show' | 'yes' | 'change') => void
}) {
  const { chosen, data } = props
  const say = useNotice()
  const newest = useAct(
    (shootIds: readonly number[]) => api.picks.newest.mutate({ shootIds: [...shootIds] }),
    ({ picked, notTurned }) =>
      say(
        [
          picked === 0 ? 'Nothing was left to pick.' : `${countText(picked, 'pick')} made.`,
          notTurned.length > 0
            ? `No kept take yet: ${notTurned.slice(0, 3).join(', ')}${notTurned.length > 3 ? ` and ${notTurned.length - 3} more` : ''}.`
            : '',
        ]
          .join(' ')
          .trim(),
      ),
  )
  const toPick = data.items.filter(({ state }) => state === 'to pick')
  const spins = [...new Set((chosen.length > 0 ? chosen : toPick).map(({ shootId }) => shootId))]
  const isShowable =
    chosen.length > 0 && chosen.every(({ state }) => !['to turn', 'to pick', 'delivered'].includes(state))
  const isAnswerable =
    chosen.length > 0 && chosen.every(({ state }) => !['to turn', 'to pick'].includes(state))
  const { used, included } = data.rounds
  return (
    <div className={css.acts}>
      <ButtonRow>
        <Button
          kind={toPick.length > 0 ? 'main' : 'plain'}
          busy={newest.busy}
          disabled={spins.length === 0}
          onClick={() => newest.run(spins)}
        >
          {chosen.length > 0 ? 'Pick the newest for the chosen' : 'Pick the newest for all'}
        </Button>
        <Button disabled={!isShowable} onClick={() => props.onOpen('show')}>
          Show to the client
        </Button>
        <Button disabled={!isAnswerable} onClick={() => props.onOpen('yes')}>
          The client said yes
        </Button>
        <Button disabled={!isAnswerable} onClick={() => props.onOpen('change')}>
          A change is wanted
        </Button>
      </ButtonRow>
      <p className={words.quiet}>
        {chosen.length === 0
          ? 'Tick what it is about, one or many.'
          : `${countText(chosen.length, 'deliverable')} chosen.`}
        {used > 0
          ? ` ${numberText(used)} of ${countText(included, 'round')} of changes used${used > included ? '; what goes beyond is an extra' : ''}.`
          : ''}
      </p>
    </div>
  )
}

function useColumns(onPick: (item: Item) => void): readonly Column<Item>[] {
  const { today, timeZone } = useStudio()
  return [
    { key: 'spin', head: 'Spin', cell: ({ spin, isFirst }) => `${spin}${isFirst ? ', first spin' : ''}` },
    { key: 'deliverable', head: 'Deliverable', cell: ({ deliverable }) => deliverable },
    { key: 'pick', head: 'Picked', cell: (item) => <Picked item={item} onPick={onPick} /> },
    { key: 'state', head: 'Stands', cell: ({ state }) => itemStates.find(([one]) => one === state)?.[1] },
    {
      key: 'answer',
      head: 'Client',
      cell: (item) => (
        <span className={item.state === 'shown' && isPast(item, today) ? words.late : undefined}>
          {answerText(item, today, timeZone)}
        </span>
      ),
    },
    {
      key: 'acts',
      head: 'Take back',
      isHeadSpoken: true,
      tight: true,
      cell: (item) => <TakeBack item={item} />,
    },
  ]
}

function isPast({ answerByDay }: Item, today: string): boolean {
  return answerByDay !== null && answerByDay < today
}

function Picked({ item, onPick }: { readonly item: Item; readonly onPick: (item: Item) => void }) {
  const text = pickText(item)
  if (item.state === 'to turn') return <span className={words.quiet}>no kept take yet</span>
  if (item.state === 'yes' || item.state === 'delivered') return text
  return (
    <button type="button" className={css.inRow} onClick={() => onPick(item)}>
      {text || 'Pick a take'}
    </button>
  )
}

/** An answer written down by mistake can be taken back. */
function TakeBack({ item }: { readonly item: Item }) {
  const say = useNotice()
  const back = useAct(
    (answerId: number) => api.answers.withdraw.mutate({ answerId }),
    () => say('The answer is taken back.'),
  )
  const { answer } = item
  if (!answer || item.state === 'delivered' || item.state === 'to turn' || answer.needs === 'reshoot')
    return null
  return (
    <>
      <button
        type="button"
        className={css.inRow}
        aria-disabled={back.busy || undefined}
        onClick={() => back.busy || back.run(answer.id)}
      >
        Take it back
      </button>
      {back.refusal ? <p role="alert">{back.refusal.sentence}</p> : null}
    </>
  )
}
