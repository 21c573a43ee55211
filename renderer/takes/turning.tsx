import { useState } from 'react'
import type { FaultKind } from '../../main/trade/takes.ts'
import { AfterStop } from '../check/afterStop.tsx'
import { freshWarning } from '../check/benchCheck.tsx'
import { useCheck } from '../check/checkOfTake.ts'
import { Asked } from '../parts/asked.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStore } from '../shell/store.ts'
import { benchChoices, chooseAtBench } from './benchChoices.ts'
import { HandedOver, KeptHere } from './benchHand.tsx'
import { type KeyActs, useAwake, useBenchKeys } from './benchKeys.ts'
import { type BenchQueue, useBenchQueue } from './benchQueue.ts'
import { BenchSetUp, HeadButtons } from './benchSetUp.tsx'
import { FolderDialog } from './folderDialog.tsx'
import { FolderStatus } from './folderStatus.tsx'
import { turnFullScreen } from './fullScreen.ts'
import { Judging } from './judging.tsx'
import { changeToRow, RowRings, useRows } from './rowsOfSpin.tsx'
import css from './turning.module.css'
import { BackDialog } from './turningBack.tsx'
import { BenchButton, BenchButtons } from './turningButtons.tsx'
import { Dial } from './turningDial.tsx'
import { EndDialog, NoteDialog } from './turningDialogs.tsx'
import { FaultDialog } from './turningFault.tsx'
import { TakeHead } from './turningHead.tsx'
import type { TakePage } from './turningState.ts'
import { Missing, Progress, RowNotice, warningOf } from './turningWords.tsx'
import { type BenchBeat, useBeat } from './useBeat.ts'

/** The bench: one ring and one number. Near black whatever the light of the rest, because it spills into the set. */
export function Turning({ takeId }: { readonly takeId: number }) {
  const page = useAsk(['takes', 'one', takeId], () => api.takes.one.query({ takeId }))
  return (
    <div className={css.bench} data-light="bench">
      <Asked of={page}>{(data) => <AtTheBench page={data} />}</Asked>
    </div>
  )
}

function AtTheBench({ page }: { readonly page: TakePage }) {
  const queue = useBenchQueue(page)
  return (
    <>
      {page.take.endedAt === null ? <Running page={page} queue={queue} /> : <Judging page={page} />}
      <KeptHere queue={queue} />
    </>
  )
}

type Open = 'fault' | 'back' | 'end' | 'note' | 'set up' | 'after stop' | 'folder' | undefined

interface OfTake {
  readonly page: TakePage
  readonly queue: BenchQueue
}

function Running({ page, queue }: OfTake) {
  const { state } = queue
  const { keys } = useStore(benchChoices)
  const [open, setOpen] = useState<Open>()
  const [named, setNamed] = useState<FaultKind>()
  const rows = useRows(page.take.id, page.rows)
  const change = changeToRow(rows, page.take.row)
  const beat = useBeat(page, queue, change, open !== undefined)
  const isHere = queue.hand === 'here'
  const acts = keyActsOf(page, queue, beat, setOpen)
  const nameFault = (fault: FaultKind) => {
    queue.act({ kind: 'fault', fault, frame: queue.ahead.lastGood ?? null, note: null, isVoid: false })
    setNamed(fault)
    setOpen('fault')
  }
  useBenchKeys(acts, nameFault, keys, open === undefined && isHere && !state.isEnded)
  useAwake(isHere)
  const check = useCheck(page.take.id)
  const warning = warningOf(queue, beat.hasStopped, freshWarning(check.data, state.shot))
  const close = () => {
    setOpen(undefined)
    setNamed(undefined)
  }
  return (
    <>
      <TakeHead page={page}>
        <HeadButtons onSetUp={() => setOpen('set up')} />
      </TakeHead>
      <div className={css.middle}>
        <Dial page={page} queue={queue} beat={beat.beat} check={check.data} />
        <div className={css.side}>
          {change && state.shot === 0 && !warning ? (
            <RowNotice row={page.take.row} rows={page.rows} change={change} />
          ) : (
            <Progress state={state} queue={queue} warning={warning} />
          )}
          <FolderStatus takeId={page.take.id} onAnother={() => setOpen('folder')} />
          <RowRings rows={rows} row={page.take.row} done={state.nextMark} />
          {state.isEnded ? null : isHere ? (
            <Hands page={page} queue={queue} acts={acts} beat={beat} onCheck={() => setOpen('after stop')} />
          ) : (
            <HandedOver page={page} queue={queue} />
          )}
        </div>
      </div>
      {open === 'fault' ? <FaultDialog page={page} queue={queue} first={named} onClose={close} /> : null}
      {open === 'back' ? <BackDialog page={page} queue={queue} onClose={close} /> : null}
      {open === 'end' ? <EndDialog queue={queue} onClose={close} /> : null}
      {open === 'note' ? <NoteDialog page={page} queue={queue} onClose={close} /> : null}
      {open === 'folder' ? <FolderDialog page={page} onClose={close} /> : null}
      {open === 'after stop' ? <AfterStop page={page} queue={queue} onClose={close} /> : null}
      {open === 'set up' ? <BenchSetUp stepMs={state.stepMs} onClose={close} /> : null}
    </>
  )
}

/** What the hands can do while the take is here. */
function Hands(
  props: OfTake & { readonly acts: KeyActs; readonly beat: BenchBeat; readonly onCheck: () => void },
) {
  const { page, queue, beat } = props
  const { keys, counting } = useStore(benchChoices)
  return (
    <>
      <Missing page={page} state={queue.state} onShoot={(mark) => queue.act({ kind: 'frame', mark })} />
      {queue.state.isPaused && queue.state.nextMark > 0 ? (
        <BenchButton word="Check the last mark" hint="after a stop" wide onPress={props.onCheck} />
      ) : null}
      <BenchButtons
        state={queue.state}
        acts={props.acts}
        keys={keys}
        isBeating={counting === 'beat' ? beat.isOn : undefined}
        isByFiles={page.take.countedBy === 'folder'}
      />
    </>
  )
}

function keyActsOf(page: TakePage, queue: BenchQueue, beat: BenchBeat, open: (what: Open) => void): KeyActs {
  const { ahead } = queue
  const choices = benchChoices.get()
  const isByBeat = choices.counting === 'beat'
  const isByFiles = page.take.countedBy === 'folder'
  return {
    // Where the beat or the files count, a remote that also fires the shutter must not count each frame twice.
    frame: () => (isByBeat || isByFiles ? undefined : queue.act({ kind: 'frame' })),
    voidLast: () => ahead.lastGood !== undefined && queue.act({ kind: 'void', frame: ahead.lastGood }),
    back: () => (ahead.nextMark > 0 || ahead.lastVoid !== undefined) && open('back'),
    pause: () => {
      beat.stop()
      if (!ahead.isPaused) beat.sayPaused()
      queue.act(ahead.isPaused ? { kind: 'resume' } : { kind: 'pause', reason: null })
    },
    fault: () => open('fault'),
    note: () => open('note'),
    beat: () => (isByBeat ? beat.turn() : undefined),
    end: () => (ahead.isClosed ? queue.act({ kind: 'end' }) : open('end')),
    sound: () => chooseAtBench({ isSounding: !choices.isSounding }),
    fullScreen: turnFullScreen,
  }
}
