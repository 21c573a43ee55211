import { useState, useSyncExternalStore } from 'react'
import { Link } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { countText, durationText, numberText, secondsText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import { api, useAsk } from '../shell/api.ts'
import { HandedOver, KeptHere } from './benchHand.tsx'
import { useAwake, useBenchKeys } from './benchKeys.ts'
import { type BenchQueue, useBenchQueue, waitingWords } from './benchQueue.ts'
import { FolderStatus } from './folderStatus.tsx'
import { Judging } from './judging.tsx'
import css from './turning.module.css'
import { BackDialog, EndDialog, FaultDialog } from './turningDialogs.tsx'
import type { TakePage, TurningState } from './turningState.ts'

/** The bench: one ring and one number. Near black whatever the light of the rest, because it spills into the set. */
export function Turning({ takeId }: { readonly takeId: number }) {
  const page = useAsk(['takes', 'one', takeId], () => api.takes.one.query({ takeId }))
  return (
    <div className={css.bench} data-light="bench">
      <Asked of={page}>{(data) => <AtTheBench page={data} />}</Asked>
    </div>
  )
}

type Open = 'fault' | 'back' | 'end' | undefined

function AtTheBench({ page }: { readonly page: TakePage }) {
  const queue = useBenchQueue(page)
  return (
    <>
      {page.take.endedAt === null ? <Running page={page} queue={queue} /> : <Judging page={page} />}
      <KeptHere queue={queue} />
    </>
  )
}

function Running({ page, queue }: { readonly page: TakePage; readonly queue: BenchQueue }) {
  const [open, setOpen] = useState<Open>()
  const { state, ahead } = queue
  const isHere = queue.hand === 'here'
  const acts = {
    frame: () => queue.act({ kind: 'frame' }),
    voidLast: () => {
      if (ahead.lastGood !== undefined) queue.act({ kind: 'void', frame: ahead.lastGood })
    },
    pause: () => queue.act(ahead.isPaused ? { kind: 'resume' } : { kind: 'pause', reason: null }),
    fault: () => setOpen('fault'),
    back: () => setOpen('back'),
    end: () => (ahead.isClosed ? queue.act({ kind: 'end' }) : setOpen('end')),
  }
  useBenchKeys(acts, open === undefined && isHere && !state.isEnded)
  useAwake(isHere)
  const close = () => setOpen(undefined)
  return (
    <>
      <TakeHead page={page} />
      <div className={css.middle}>
        <Dial page={page} state={state} />
        <div className={css.side}>
          <Progress state={state} queue={queue} />
          <FolderStatus takeId={page.take.id} />
          {queue.objection ? (
            <p className={css.refusal} role="alert">
              {queue.objection.sentence}
            </p>
          ) : null}
          {state.isEnded ? null : isHere ? (
            <>
              <Missing page={page} state={state} onShoot={(mark) => queue.act({ kind: 'frame', mark })} />
              <BenchButtons state={state} acts={acts} />
            </>
          ) : (
            <HandedOver page={page} queue={queue} />
          )}
        </div>
      </div>
      {open === 'fault' ? <FaultDialog page={page} queue={queue} onClose={close} /> : null}
      {open === 'back' ? <BackDialog page={page} queue={queue} onClose={close} /> : null}
      {open === 'end' ? <EndDialog page={page} queue={queue} onClose={close} /> : null}
    </>
  )
}

/** What is on the platter, so that nobody turns the wrong thing. */
export function TakeHead({ page }: { readonly page: TakePage }) {
  const { take } = page
  return (
    <header className={css.head}>
      <title>{`Take ${take.number}, ${page.spin} · Turnsheet`}</title>
      <h1>
        {page.spin} <span className={css.codes}>{page.codes.join(' ')}</span>
      </h1>
      <p>
        {[
          `take ${take.number}`,
          page.rows > 1 ? `row ${take.row} of ${page.rows}` : undefined,
          `${take.rigName}, revision ${take.revision}`,
          page.direction,
          page.startPose ? `start: ${page.startPose}` : undefined,
        ]
          .filter(Boolean)
          .join(' · ')}
      </p>
      <Link className={css.leave} to={`/jobs/${page.jobId}/takes`}>
        {take.endedAt === null ? 'Leave it running' : `Takes of ${page.jobNumber}`}
      </Link>
    </header>
  )
}

function Dial({ page, state }: { readonly page: TakePage; readonly state: TurningState }) {
  const size = useDialSize()
  const figure = numberText(state.nextMarkMm, 4).replaceAll(',', '')
  const fontSize = Math.min(size * 0.27, (size * 0.66) / (figure.length * 0.62))
  return (
    <div className={css.dial} style={{ width: size, height: size }}>
      <Ring
        size={size}
        framesPerTurn={state.framesPerTurn}
        tape={{ readings: page.marksMm, rim: page.rimUm10 / 10_000 }}
        done={state.nextMark}
        overlap={state.toShoot - state.framesPerTurn}
        faults={state.faultMarks}
        underPointer={(state.nextMark % state.framesPerTurn) + 1}
        label={`Take ${page.take.number} of ${page.spin}`}
      />
      <div className={css.reading}>
        {state.isDone ? (
          <p className={css.closed}>The turn is closed</p>
        ) : (
          <>
            <p className={css.turnTo}>{state.isPaused ? 'paused at' : 'turn to'}</p>
            <p className={state.isPaused ? `${css.mark} ${css.paused}` : css.mark} style={{ fontSize }}>
              {figure}
            </p>
            <p className={css.turnTo}>mm</p>
          </>
        )}
      </div>
    </div>
  )
}

function Progress({ state, queue }: { readonly state: TurningState; readonly queue: BenchQueue }) {
  const past = Math.max(0, state.nextMark - state.framesPerTurn)
  const overlap = state.toShoot - state.framesPerTurn
  return (
    <div className={css.progress}>
      <p className={css.count} role="status">
        <span className={css.figure}>{Math.min(state.nextMark, state.framesPerTurn)}</span>
        {` of ${numberText(state.framesPerTurn)}`}
      </p>
      {overlap > 0 && state.nextMark >= state.framesPerTurn ? (
        <p>
          {past > overlap
            ? `overlap ${numberText(overlap)}, and ${numberText(past - overlap)} more`
            : `overlap ${numberText(past)} of ${numberText(overlap)}`}
        </p>
      ) : (
        <p>{overlap > 0 ? `then ${countText(overlap, 'frame')} of overlap` : 'no overlap'}</p>
      )}
      <p className={css.quiet}>
        {state.isDone
          ? `${countText(state.shot, 'frame')} shot, ${numberText(state.voids)} void`
          : `about ${durationText(state.leftMs / 60_000)} left, at ${secondsText(state.stepMs / 1000)} a frame${state.isOwnPace ? '' : ' as before'}`}
      </p>
      <p className={queue.isCut ? css.cut : css.quiet} role="status">
        {stateWords(state, queue)}
      </p>
    </div>
  )
}

function stateWords(state: TurningState, queue: BenchQueue): string {
  if (queue.isCut && queue.waiting > 0) {
    const why = queue.isSignedOut
      ? 'The studio was started again. Open its new address in this browser'
      : 'The studio does not answer'
    return `${why}: ${waitingWords(queue)}.${state.isEnded ? ' The take ends when they are sent.' : ''}`
  }
  if (queue.waiting > 0 && queue.hand === 'here') return 'keeping it'
  if (state.shot === 0) return 'Turn to the mark, then press the space bar with every frame.'
  const voids = state.voids > 0 && !state.isDone ? `, ${numberText(state.voids)} void` : ''
  return `frame ${numberText(state.shot)} kept${voids}`
}

/** Marks behind the pointer that have no good frame: each can be shot on the way. */
function Missing(props: {
  readonly page: TakePage
  readonly state: TurningState
  readonly onShoot: (mark: number) => void
}) {
  const { missing } = props.state
  const [first] = missing
  if (first === undefined) return null
  const mm = numberText(props.page.marksMm[first] ?? 0, 4)
  return (
    <div className={css.missing}>
      <p>
        {missing.length === 1
          ? `Mark ${first + 1} has no good frame. Turn back to ${mm} mm to shoot it.`
          : `${countText(missing.length, 'mark')} have no good frame, the first at ${mm} mm.`}
      </p>
      <Button large onClick={() => props.onShoot(first)}>
        {`Frame at ${mm} mm`}
      </Button>
    </div>
  )
}

function BenchButtons(props: {
  readonly state: TurningState
  readonly acts: Readonly<Record<'frame' | 'voidLast' | 'pause' | 'fault' | 'back' | 'end', () => void>>
}) {
  const { state, acts } = props
  return (
    <div className={css.buttons}>
      <BenchButton word="Frame" hint="space" main={!state.isDone} onPress={acts.frame} wide />
      <BenchButton
        word="Void last"
        hint="backspace"
        isOff={state.lastGood === undefined}
        onPress={acts.voidLast}
      />
      <BenchButton word="Back to a mark" hint="B" isOff={state.nextMark === 0} onPress={acts.back} />
      <BenchButton word={state.isPaused ? 'Go on' : 'Pause'} hint="P" onPress={acts.pause} />
      <BenchButton word="Fault" hint="F" onPress={acts.fault} />
      <BenchButton word="End the take" hint="E" main={state.isDone} onPress={acts.end} wide />
    </div>
  )
}

function BenchButton(props: {
  readonly word: string
  readonly hint: string
  readonly main?: boolean
  readonly wide?: boolean
  readonly isOff?: boolean
  readonly onPress: () => void
}) {
  return (
    <button
      type="button"
      className={[css.button, props.main && css.mainButton, props.wide && css.wide].filter(Boolean).join(' ')}
      disabled={props.isOff}
      onClick={(event) => {
        // So that the space bar means the next frame again.
        event.currentTarget.blur()
        props.onPress()
      }}
    >
      {props.word}
      <span className={css.key}>{props.hint}</span>
    </button>
  )
}

/** The dial fills what the window leaves it. */
function useDialSize(): number {
  const size = useSyncExternalStore(
    (onChange) => {
      window.addEventListener('resize', onChange)
      return () => window.removeEventListener('resize', onChange)
    },
    () => Math.round(Math.max(280, Math.min(window.innerHeight - 120, window.innerWidth - 420, 960))),
  )
  return size
}
