import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page, Part } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { type Clock, ClockFields, clockAheadMs, clockRight } from '../takes/clockFields.tsx'
import { FolderList } from './folderList.tsx'
import { FoundTable, isToKeep } from './foundTable.tsx'

type Sorting = NonNullable<Answers['takesFound']['sorting']>
export type Sorted = Extract<Sorting, { state: 'done' }>
/** The spin that the person gave a take, by the take's key; 0 for none of them. */
export type Decided = Readonly<Record<string, number>>
/** Of parts in two folders, by the later one's key: the one it goes on with; null where it is a take of its own. */
export type Joins = Readonly<Record<string, string | null>>

interface Said {
  readonly decided: Decided
  readonly joins: Joins
}

const nothingSaid: Said = { decided: {}, joins: {} }

/** Cards that sort themselves by the tickets on them: what lies there, and which of it becomes a take. */
export function TakesFoundPage() {
  const [said, setSaid] = useState(nothingSaid)
  const [clock, setClock] = useState<Clock>(clockRight)
  const asked = { ...said, clockAheadMs: clockAheadMs(clock) }
  const sorting = useAsk(['takesFound', 'sorting', asked], () => api.takesFound.sorting.query(asked), {
    againWhile: (data) => data?.state === 'reading',
  })
  const state = sorting.data ?? undefined
  return (
    <Page
      title="Takes found"
      lead="Cards sort themselves by the tickets photographed on them. Nothing there is changed, and nothing is written down before you say so."
      acts={<ButtonLink to="/bench">Back to the bench</ButtonLink>}
    >
      <Cards sorting={state} onAgain={() => setSaid(nothingSaid)} />
      {state?.state === 'done' ? (
        <FoundOnCards
          key={state.folders.join('\n')}
          sorted={state}
          asked={asked}
          onDecide={(key, shootId) => setSaid({ ...said, decided: { ...said.decided, [key]: shootId } })}
          onJoin={(more) => setSaid({ ...said, joins: { ...said.joins, ...more } })}
          clock={clock}
          onClock={setClock}
        />
      ) : null}
    </Page>
  )
}

/** The folders that are read, one for each card; progress, and the way to stop. */
function Cards({
  sorting,
  onAgain,
}: {
  readonly sorting: Sorting | undefined
  readonly onAgain: () => void
}) {
  const [typed, setTyped] = useState<readonly string[]>()
  const folders = typed ?? sorting?.folders ?? ['']
  const start = useAct(
    () => api.takesFound.start.mutate({ folders: folders.filter((folder) => folder.trim() !== '') }),
    onAgain,
  )
  const stop = useAct(() => api.takesFound.stop.mutate())
  const isReading = sorting?.state === 'reading'
  return (
    <Form label="Cards to read" refusal={start.refusal} onSubmit={() => start.run()}>
      <FolderList
        folders={folders}
        alone="Folder of the card"
        oneOf={(number) => `Card ${number}`}
        onChange={setTyped}
      />
      <ButtonRow>
        {isReading ? (
          <Button busy={stop.busy} onClick={() => stop.run()}>
            Stop reading
          </Button>
        ) : (
          <Button type="submit" kind={sorting?.state === 'done' ? 'plain' : 'main'} busy={start.busy}>
            {sorting?.state === 'done' ? 'Read the cards again' : 'Read the cards'}
          </Button>
        )}
        {isReading ? null : (
          <Button kind="quiet" onClick={() => setTyped([...folders, ''])}>
            Another card
          </Button>
        )}
      </ButtonRow>
      {isReading ? (
        <p role="status">
          {`Looked at ${numberText(sorting.done)} of ${countText(sorting.frames, 'frame')}; ${countText(sorting.tickets, 'ticket')} so far.`}
        </p>
      ) : null}
      {sorting?.state === 'stopped' ? <p role="status">Stopped. Nothing was written down.</p> : null}
      {sorting?.state === 'failed' ? <FormRefusal sentence={sorting.sentence} /> : null}
    </Form>
  )
}

function FoundOnCards(props: {
  readonly sorted: Sorted
  readonly asked: Said & { readonly clockAheadMs: number }
  readonly onDecide: (key: string, shootId: number) => void
  readonly onJoin: (joins: Joins) => void
  readonly clock: Clock
  readonly onClock: (clock: Clock) => void
}) {
  const { sorted, asked } = props
  const selection = useSelection<string>()
  const [isTouched, setTouched] = useState(false)
  const say = useNotice()
  const proposed = sorted.takes.filter(isToKeep).map(({ key }) => key)
  const chosen = sorted.takes.filter(
    (take) => canBeKept(take) && (isTouched ? selection.has(take.key) : isToKeep(take)),
  )
  const keep = useAct(
    (overruleReason: string | null) =>
      api.takesFound.keep.mutate({ ...asked, keys: chosen.map(({ key }) => key), overruleReason }),
    ({ takes }) => {
      selection.clear()
      setTouched(true)
      say(`${countText(takes, 'take')} written down. Judge them on the pages of their jobs.`)
    },
  )
  if (sorted.takes.length === 0) {
    return <Empty sentence="No frames lie in these folders. Name the folders that the camera wrote to." />
  }
  const overruled = keep.refusal?.canOverrule ? keep.refusal : undefined
  return (
    <Part title={countsText(sorted)}>
      <FoundTable
        takes={sorted.takes}
        spins={sorted.spins}
        onDecide={props.onDecide}
        onJoin={props.onJoin}
        selection={{
          ...selection,
          has: (key) => chosen.some((take) => take.key === key),
          toggle: (...toggled) => {
            if (!isTouched) selection.choose(proposed)
            setTouched(true)
            selection.toggle(...toggled)
          },
        }}
      />
      <Form
        refusal={overruled ? undefined : keep.refusal}
        label="Keep these as takes"
        onSubmit={() => keep.run(null)}
      >
        <ClockFields clock={props.clock} onChange={props.onClock} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={keep.busy} disabled={chosen.length === 0}>
            {chosen.length === 0 ? 'Keep these as takes' : `Keep ${countText(chosen.length, 'take')}`}
          </Button>
          <span className={words.quiet}>
            With the rig, settings and bench that each spin is planned on; counted from its files.
          </span>
        </ButtonRow>
      </Form>
      {overruled ? (
        <Overrule
          refusal={overruled}
          act="Keep them all the same"
          busy={keep.busy}
          onOverrule={(reason) => keep.run(reason)}
          onClose={keep.clear}
        />
      ) : null}
    </Part>
  )
}

function canBeKept({ spin, frames, kept }: Sorted['takes'][number]): boolean {
  return spin !== null && frames > 1 && kept === null
}

/** `Takes found: 7; 4 whole, 2 short, 1 that no ticket names`. */
function countsText({ takes }: Sorted): string {
  const counts = (
    ['whole', 'too long', 'short', 'started over', 'nothing shot', 'not named'] as const
  ).flatMap((standing) => {
    const count = takes.filter((take) => take.standing === standing).length
    return count === 0
      ? []
      : [`${numberText(count)} ${standing === 'not named' ? 'that no ticket names' : standing}`]
  })
  return `${countText(takes.length, 'take')} found: ${counts.join(', ')}`
}
