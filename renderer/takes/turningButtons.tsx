import type { KeyActs } from './benchKeys.ts'
import { type BenchKeys, type KeyAct, keyWord } from './keyChoices.ts'
import css from './turning.module.css'
import type { TurningState } from './turningState.ts'

/** The acts of the bench as targets for a gloved thumb, each with the key that does the same. */
export function BenchButtons(props: {
  readonly state: TurningState
  readonly acts: KeyActs
  readonly keys: BenchKeys
  /** Undefined where keys count: there is no beat to start. */
  readonly isBeating: boolean | undefined
  /** True where the files count: no frame is pressed. */
  readonly isByFiles: boolean
}) {
  const { state, acts, keys, isBeating, isByFiles } = props
  const one = (act: KeyAct, word: string, more: { main?: boolean; wide?: boolean; isOff?: boolean } = {}) => (
    <BenchButton key={act} word={word} hint={hintOf(keys, act)} onPress={acts[act]} {...more} />
  )
  return (
    <div className={css.buttons}>
      {isBeating === undefined
        ? isByFiles
          ? null
          : one('frame', 'Frame', { main: !state.isDone, wide: true })
        : one('beat', isBeating ? 'Stop the beat' : 'Start the beat', { main: !state.isDone, wide: true })}
      {one('voidLast', 'Void last', { isOff: state.lastGood === undefined })}
      {one('back', 'Back to a mark', { isOff: state.nextMark === 0 && state.lastVoid === undefined })}
      {one('pause', state.isPaused ? 'Go on' : 'Pause')}
      {one('fault', 'Fault')}
      {one('note', 'Note')}
      {one('end', 'End the take', { main: state.isDone })}
    </div>
  )
}

function hintOf(keys: BenchKeys, act: KeyAct): string {
  return keys[act].slice(0, 2).map(keyWord).join(', ')
}

export function BenchButton(props: {
  readonly word: string
  readonly hint?: string
  readonly main?: boolean
  readonly wide?: boolean
  readonly isOff?: boolean
  readonly isPressed?: boolean
  readonly onPress: () => void
}) {
  return (
    <button
      type="button"
      className={[css.button, props.main && css.mainButton, props.wide && css.wide].filter(Boolean).join(' ')}
      disabled={props.isOff}
      aria-pressed={props.isPressed}
      onClick={(event) => {
        // So that the space bar means the next frame again.
        event.currentTarget.blur()
        props.onPress()
      }}
    >
      {props.word}
      {props.hint ? (
        <span className={css.key} aria-hidden="true">
          {props.hint}
        </span>
      ) : null}
    </button>
  )
}
