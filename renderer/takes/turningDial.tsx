import { useSyncExternalStore } from 'react'
import type { Beat } from '../../main/trade/pacing.ts'
import { BenchCheck, benchCheckPx, isChecked } from '../check/benchCheck.tsx'
import type { CheckOfTake } from '../check/checkOfTake.ts'
import { numberText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import type { BenchQueue } from './benchQueue.ts'
import css from './turning.module.css'
import type { TakePage, TurningState } from './turningState.ts'

interface DialProps {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly beat: Beat | undefined
  readonly check: CheckOfTake | undefined
}

/** One ring and one number: the number inside the ring, or above it where the window is taller than wide. */
export function Dial({ page, queue, beat, check }: DialProps) {
  const { state } = queue
  const shown = isChecked(check) ? check : undefined
  const { size, isTall, markPx } = useDialSize(shown ? benchCheckPx : 0)
  const figure = numberText(state.nextMarkMm, 4).replaceAll(',', '')
  // The figure stands inside the numbers along the rim, and is as tall as its digits let it.
  const room = isTall ? window.innerWidth - 48 : size - 130
  const fontSize = Math.round(Math.min(markPx, room / (figure.length * 0.58)))
  const reading = <Reading state={state} figure={figure} fontSize={fontSize} cue={beat?.cue} />
  return (
    <div className={css.dialPlace}>
      {isTall ? <div className={css.above}>{reading}</div> : null}
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
        {beat ? <MovingMark beat={beat} size={size} /> : null}
        {isTall ? null : <div className={css.reading}>{reading}</div>}
      </div>
      {shown ? (
        <BenchCheck page={page} check={shown} frames={state.lastNumber} shot={state.shot} widthPx={size} />
      ) : null}
    </div>
  )
}

function Reading(props: {
  readonly state: TurningState
  readonly figure: string
  readonly fontSize: number
  readonly cue: Beat['cue'] | undefined
}) {
  const { state } = props
  if (state.isDone) return <p className={css.closed}>The turn is closed</p>
  return (
    <>
      <p className={css.turnTo}>{state.isPaused ? 'paused at' : 'turn to'}</p>
      <p
        className={state.isPaused ? `${css.mark} ${css.paused}` : css.mark}
        style={{ fontSize: props.fontSize }}
        data-mark
      >
        {props.figure}
      </p>
      <p className={css.turnTo}>{props.cue ? <strong className={css.cue}>{props.cue}</strong> : 'mm'}</p>
    </>
  )
}

/** Where on its round the paced beat is: from the top through `move` and `wait` to `shoot`, and to the top again. */
function MovingMark({ beat, size }: { readonly beat: Beat; readonly size: number }) {
  const part = { move: [0, 180], wait: [180, 270], shoot: [270, 360] } as const
  const [fromDeg, toDeg] = part[beat.cue]
  const radius = size / 2 - 62
  return (
    <svg className={css.beatRing} width={size} height={size} aria-hidden="true">
      <g
        key={`${beat.index} ${beat.cue}`}
        className={css.beatHand}
        style={
          {
            '--from': `${fromDeg}deg`,
            '--to': `${toDeg}deg`,
            animationDuration: `${beat.untilMs - beat.atMs}ms`,
          } as React.CSSProperties
        }
      >
        <circle cx={size / 2} cy={size / 2 - radius} r={beat.cue === 'shoot' ? 11 : 7} />
      </g>
    </svg>
  )
}

interface DialSize {
  readonly size: number
  readonly isTall: boolean
  /** The type size at which a digit fills a tenth of the screen's height and a little more. */
  readonly markPx: number
}

/** The dial fills what the window and what stands under it leave it. */
function useDialSize(underPx: number): DialSize {
  const text = useSyncExternalStore(
    (onChange) => {
      window.addEventListener('resize', onChange)
      return () => window.removeEventListener('resize', onChange)
    },
    () => `${window.innerWidth} ${window.innerHeight}`,
  )
  const [width = 0, height = 0] = text.split(' ').map(Number)
  const isTall = height > width
  const size = isTall
    ? Math.min(width * 0.46, height - 600 - underPx)
    : Math.min(height - 104 - underPx, Math.max(width * 0.54, width - 560), 960)
  return { size: Math.round(Math.max(260, size)), isTall, markPx: height * (isTall ? 0.165 : 0.26) }
}
