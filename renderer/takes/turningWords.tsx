import type { CameraChange } from '../../main/trade/benchRows.ts'
import { lookingText } from '../../main/trade/looking.ts'
import { Button } from '../parts/button.tsx'
import { countText, durationText, numberText, secondsText } from '../parts/format.ts'
import { type BenchQueue, waitingWords } from './benchQueue.ts'
import css from './turning.module.css'
import type { TakePage, TurningState } from './turningState.ts'

/** What is wrong, in a few words for two metres and a sentence for the hand. */
export interface Warning {
  readonly far: string
  readonly near: string
  /** Late or lost; else it only wants a look. */
  readonly isLost: boolean
}

/**
 * What the bench has to warn of, the gravest first.
 * @param fresh  what the check of the pictures has just found
 */
export function warningOf(
  queue: BenchQueue,
  hasBeatStopped: boolean,
  fresh: Warning | undefined,
): Warning | undefined {
  const { state, objection } = queue
  if (queue.isCut && queue.waiting > 0) {
    const why = queue.isSignedOut
      ? 'The studio was started again. Open its new address in this browser'
      : 'The studio does not answer'
    const end = state.isEnded ? ' The take ends when they are sent.' : ' Go on: they are sent in order.'
    return { far: 'no answer', near: `${why}: ${waitingWords(queue)}.${end}`, isLost: true }
  }
  if (objection) return { far: 'not done', near: objection.sentence, isLost: false }
  if (hasBeatStopped) {
    return {
      far: 'beat stopped',
      near: 'The screen stood still for longer than a cue, and counted nothing since. Read the mark at the pointer and start the beat again.',
      isLost: false,
    }
  }
  if (fresh) return fresh
  if (!state.isPaused) return undefined
  return { far: 'paused', near: 'The next frame, or ‘Go on’, ends the pause.', isLost: false }
}

/** How far the take is, in words that are read from the platter. */
export function Progress(props: {
  readonly state: TurningState
  readonly queue: BenchQueue
  readonly warning: Warning | undefined
}) {
  const { state, warning } = props
  const overlap = state.toShoot - state.framesPerTurn
  const past = Math.max(0, state.nextMark - state.framesPerTurn)
  return (
    <div className={css.progress}>
      <p className={css.count} role="status" data-far>
        <span className={css.figure}>{Math.min(state.nextMark, state.framesPerTurn)}</span>
        {` of ${numberText(state.framesPerTurn)}`}
      </p>
      {warning ? (
        <div className={warning.isLost ? `${css.warning} ${css.lost}` : css.warning} role="alert">
          <p className={css.far} data-far>
            {warning.far}
          </p>
          <p className={css.near}>{warning.near}</p>
        </div>
      ) : (
        <>
          <p className={css.far} data-far>
            {overlapText(overlap, past, state.nextMark >= state.framesPerTurn)}
          </p>
          <p className={`${css.far} ${css.quiet}`} data-far>
            {state.isDone ? countText(state.shot, 'frame') : `${durationText(state.leftMs / 60_000)} left`}
          </p>
        </>
      )}
      <p className={`${css.near} ${css.quiet}`}>{smallPrint(state, props.queue)}</p>
    </div>
  )
}

function overlapText(overlap: number, past: number, isTurned: boolean): string {
  if (!isTurned) return overlap > 0 ? `then ${numberText(overlap)} more` : 'no overlap'
  if (past > overlap) return `${numberText(past - overlap)} too many`
  return overlap > 0 ? `overlap ${numberText(past)} of ${numberText(overlap)}` : 'all shot'
}

function smallPrint(state: TurningState, queue: BenchQueue): string {
  if (queue.waiting > 0 && !queue.isCut && queue.hand === 'here') return 'keeping it'
  if (state.shot === 0) return 'Turn to the mark, then shoot.'
  const pace = `${secondsText(state.stepMs / 1000)} a frame${state.isOwnPace ? '' : ' as before'}`
  return `frame ${numberText(state.shot)} kept, ${numberText(state.voids)} void, ${pace}`
}

/** Which row this is and what the camera does for it, before its first frame. */
export function RowNotice(props: {
  readonly row: number
  readonly rows: number
  readonly change: CameraChange
}) {
  return (
    <div className={css.warning} role="status">
      <p className={css.far} data-far>
        {`Row ${props.row} of ${props.rows}`}
      </p>
      <p className={css.cameraChange}>{cameraSentence(props.change)}</p>
    </div>
  )
}

/** `Raise the camera to 620 mm, looking 15° down, distance 900 mm. Turn back to the start mark.` */
export function cameraSentence(change: CameraChange): string {
  const { heightMm, byMm, distanceMm, distanceByMm, tiltDeg } = change
  const height =
    heightMm === null
      ? 'Set the camera to the row’s height'
      : byMm === null || byMm === 0
        ? `The camera at ${numberText(heightMm)}\u00a0mm`
        : `${byMm > 0 ? 'Raise' : 'Lower'} the camera to ${numberText(heightMm)}\u00a0mm`
  const distance =
    distanceMm !== null && distanceByMm !== 0 ? `, distance ${numberText(distanceMm)}\u00a0mm` : ''
  return `${height}, looking ${lookingText(tiltDeg)}${distance}. Turn back to the start mark.`
}

/** Marks behind the pointer that have no good frame: each can be shot on the way. */
export function Missing(props: {
  readonly page: TakePage
  readonly state: TurningState
  readonly onShoot: (mark: number) => void
}) {
  const { missing } = props.state
  const [first] = missing
  if (first === undefined) return null
  const mm = numberText(props.page.marksMm[first] ?? 0, 4)
  return (
    <div className={css.warning}>
      <p className={css.near}>
        {missing.length === 1
          ? `Mark ${first + 1} has no good frame. Turn back to ${mm}\u00a0mm to shoot it.`
          : `${countText(missing.length, 'mark')} have no good frame, the first at ${mm}\u00a0mm.`}
      </p>
      <Button large onClick={() => props.onShoot(first)}>
        {`Frame at ${mm}\u00a0mm`}
      </Button>
    </div>
  )
}
