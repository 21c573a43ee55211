import { useCallback, useEffect, useRef, useState } from 'react'
import {
  blinkRates,
  calmRate,
  frameOnLoop,
  framesOfLoop,
  loopLength,
  loopWithin,
  type PlayedLoop,
  type Playing,
} from '../../main/trade/check/spinning.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import type { Store } from '../shell/store.ts'
import type { CheckOfTake } from './checkOfTake.ts'
import type { AddressOf } from './framePictures.ts'
import css from './spin.module.css'
import { SpinView } from './spinView.tsx'
import { useFramePictures, useReducedMotion, useSeam, useSpin } from './useSpin.ts'

/** What a viewer plays. */
export interface Spun {
  /** Said of it: `Take 2 of Jug, tall`. */
  readonly label: string
  /** The take's last frame, and those whose pictures can be had by now. */
  readonly lastFrame: number
  readonly there: readonly number[]
  readonly addressOf: AddressOf
  /** First and last frame as the check proposes them. */
  readonly proposed: PlayedLoop
  /** Which way it turns, and what was said before of how it is played. */
  readonly playing: CheckOfTake['playing']
  readonly rate: Playing['rate']
  /** False where no brief names a rate, and a usual one stands in. */
  readonly isRateWanted: boolean
  /** Mean luminance of each frame, 0 to 1, where it is known: light that comes and goes must not flash. */
  readonly luminance: readonly (number | null)[]
}

type ChosenPlaying = NonNullable<CheckOfTake['playing']['chosen']>

type Laid = 'nothing' | 'before' | 'first'

/** Turns and plays a take as it will be seen: at its own rate, in its loop, either way round; and blinks its seam. */
export function SpinViewer(props: {
  readonly spun: Spun
  /** Told which frame stands. */
  readonly here: Store<number>
  readonly onBeside: (frame: number) => void
  /** Keeps what is chosen, so that the viewer opens with it. */
  readonly onChoose: (playing: ChosenPlaying) => void
}) {
  const { spun, here } = props
  const { direction, picked } = spun.playing
  const { chosen, choose } = useChosen(spun.playing, props.onChoose)
  const { isReversed } = chosen
  const [isSeam, setSeam] = useState(false)
  const [changes, setChanges] = useState<string>('1')
  const [isBlinking, setBlinking] = useState(true)
  const [laid, setLaid] = useState<Laid>('nothing')
  const isReduced = useReducedMotion()
  const { leftOut } = spun.proposed
  const loop = loopWithin({ ...(chosen.loop ?? spun.proposed), leftOut }, spun.lastFrame)
  const calm = calmRate(
    framesOfLoop(loop).map((one) => spun.luminance[one - 1] ?? null),
    spun.rate,
  )
  const playing: Playing = { loop, rate: calm.rate, isReversed }
  const spin = useSpin(playing, picked?.startFrame ?? loop.inFrame)
  const seam = useSeam(loop, isSeam && isBlinking && !isReduced ? Number(changes) : undefined)
  const at = frameOnLoop(loop, spin.frame, 0)
  const frame = isSeam ? seam.frame : at
  useEffect(() => here.set(frame), [here, frame])
  const over =
    isSeam || laid === 'nothing' ? undefined : laid === 'first' ? loop.inFrame : frameOnLoop(loop, at, -1)
  const beside = [...(isSeam ? [loop.outFrame, loop.inFrame] : []), ...(over === undefined ? [] : [over])]
  const { addressOf, there } = spun
  const still = isSeam ? [loop.outFrame, loop.inFrame] : spin.isPlaying ? [] : [at]
  const pictures = useFramePictures({ addressOf, there, playing, frame: at, beside, still })
  const told = isSeam
    ? `${seam.which === 'last' ? 'Last' : 'First'} frame of the loop, ${frame}`
    : `Frame ${frame} of ${spun.lastFrame}`
  const within = ({ inFrame, outFrame }: PlayedLoop): ChosenPlaying => {
    const inTake = loopWithin({ inFrame, outFrame }, spun.lastFrame)
    return { ...chosen, loop: { inFrame: inTake.inFrame, outFrame: inTake.outFrame } }
  }
  const toggle = () => {
    setSeam(false)
    if (spin.isPlaying) spin.stop()
    else spin.play()
  }
  const step = (steps: number) => {
    if (isSeam) {
      setBlinking(false)
      seam.turn()
    } else spin.turnTo(frameOnLoop(loop, at, steps))
  }
  return (
    <div className={css.viewer}>
      <div className={css.stage}>
        <SpinView
          label={spun.label}
          {...{ pictures, loop, direction, frame, over, told }}
          onTurn={(to) => {
            setSeam(false)
            spin.turnTo(to)
          }}
          onStep={step}
          onSpace={isSeam ? () => setBlinking(!isBlinking) : toggle}
        />
        <Line {...{ loop, frame, spun }} fetched={pictures?.fetched() ?? 0} told={told} />
      </div>
      <div className={css.hands}>
        <ButtonRow>
          <Button kind="main" onClick={toggle}>
            {spin.isPlaying ? 'Stop' : 'Play'}
          </Button>
          <Button onClick={() => step(-1)}>One back</Button>
          <Button onClick={() => step(1)}>One on</Button>
          <Button aria-pressed={isReversed} onClick={() => choose({ ...chosen, isReversed: !isReversed })}>
            Other way round
          </Button>
          <Button
            aria-pressed={isSeam}
            onClick={() => {
              spin.stop()
              setBlinking(true)
              setSeam(!isSeam)
            }}
          >
            Blink the seam
          </Button>
          <Button onClick={() => props.onBeside(frame)}>Beside its neighbours</Button>
        </ButtonRow>
        <p className={css.quiet}>
          {rateText(playing, spun.isRateWanted, calm.isSlower ? spun.rate : undefined)}
        </p>
        {isSeam && isReduced ? (
          <p>Your computer asks for less motion, so the seam stands still: ‘One on’ shows its other frame.</p>
        ) : null}
        <FieldLine>
          <LoopField
            label="Loop from frame"
            name="loopIn"
            frame={loop.inFrame}
            onChange={(inFrame) => choose(within({ ...loop, inFrame }))}
          />
          <LoopField
            label="to frame"
            name="loopOut"
            frame={loop.outFrame}
            onChange={(outFrame) => choose(within({ ...loop, outFrame }))}
          />
          <div className={css.low}>
            <Button disabled={!chosen.loop} onClick={() => choose({ ...chosen, loop: null })}>
              As proposed
            </Button>
          </div>
        </FieldLine>
        <p className={css.quiet}>{chosenText(spun, chosen)}</p>
        <FieldLine>
          <SelectField
            label="Seam, changes a second"
            name="changes"
            value={changes}
            options={blinkRates.map((rate) => ({ value: String(rate), label: String(rate) }))}
            onChange={setChanges}
          />
          <SelectField
            label="Laid over, half through"
            name="laid"
            value={laid}
            options={[
              { value: 'nothing', label: 'nothing' },
              { value: 'before', label: 'the frame before' },
              { value: 'first', label: 'the loop’s first frame' },
            ]}
            onChange={setLaid}
          />
        </FieldLine>
      </div>
    </div>
  )
}

/** One end of the loop. What is typed stands until the field is left: 150 begins with 1, which may lie outside the loop. */
function LoopField(props: {
  readonly label: string
  readonly name: string
  readonly frame: number
  readonly onChange: (frame: number) => void
}) {
  const { label, name, frame, onChange } = props
  const [typed, setTyped] = useState<number | null>()
  return (
    <NumberField
      {...{ label, name }}
      width="narrow"
      value={typed === undefined ? frame : typed}
      onLeave={() => setTyped(undefined)}
      onChange={(to) => {
        setTyped(to)
        if (to !== null) onChange(to)
      }}
    />
  )
}

/** What a person chose here, kept once it has stood a moment: a figure is typed digit by digit. */
function useChosen(
  { chosen: kept, picked }: Spun['playing'],
  onChoose: (playing: ChosenPlaying) => void,
): { readonly chosen: ChosenPlaying; readonly choose: (playing: ChosenPlaying) => void } {
  const told = JSON.stringify(kept ?? { loop: null, isReversed: picked?.isReversed ?? false })
  const [chosen, setChosen] = useState(() => JSON.parse(told) as ChosenPlaying)
  const waiting = useRef<() => void>(undefined)
  // What was chosen in another window meanwhile is not to be overwritten by what stood here before.
  useEffect(() => {
    if (waiting.current === undefined) setChosen(JSON.parse(told))
  }, [told])
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined)
  const keep = useCallback(() => {
    clearTimeout(timer.current)
    waiting.current?.()
    waiting.current = undefined
  }, [])
  // Whoever leaves at once has chosen all the same.
  useEffect(() => keep, [keep])
  const choose = (playing: ChosenPlaying) => {
    setChosen(playing)
    waiting.current = () => onChoose(playing)
    clearTimeout(timer.current)
    timer.current = setTimeout(keep, keepAfterMs)
  }
  return { chosen, choose }
}

const keepAfterMs = 600

/** What stands otherwise than the check proposes, and who said so. */
function chosenText({ proposed, playing }: Spun, { loop, isReversed }: ChosenPlaying): string {
  const { picked } = playing
  const { inFrame, outFrame } = proposed
  const ofLoop = loop
    ? `This loop was chosen here; the check proposes frame ${inFrame} to ${outFrame}.`
    : 'The loop is as the check proposes it.'
  const way = isReversed ? ' It is played backwards.' : ''
  const ofPick = picked
    ? ` Picked to begin at frame ${picked.startFrame}${picked.isReversed ? ', backwards' : ''}.`
    : ''
  return `${ofLoop}${way}${ofPick}`
}

/** Where the frame stands in the take, what is in the loop, and how many pictures have come. */
function Line(props: {
  readonly loop: PlayedLoop
  readonly frame: number
  readonly spun: Spun
  readonly fetched: number
  readonly told: string
}) {
  const { loop, frame, spun, fetched } = props
  const x = (at: number) => `${(100 * at) / Math.max(1, spun.lastFrame)}%`
  return (
    <div className={css.line}>
      <svg className={css.track} aria-hidden="true">
        <rect className={css.taken} x="0" y="5" width="100%" height="4" />
        <rect
          className={css.looped}
          x={x(loop.inFrame - 1)}
          y="5"
          width={x(loop.outFrame - loop.inFrame + 1)}
          height="4"
        />
        <rect className={css.edge} x={x(loop.inFrame - 1)} y="1" width="2" height="12" />
        <rect
          className={css.edge}
          x={x(loop.outFrame)}
          y="1"
          width="2"
          height="12"
          transform="translate(-2 0)"
        />
        <circle className={css.here} cx={x(frame - 0.5)} cy="7" r="5" />
      </svg>
      <p className={css.number}>{props.told}</p>
      <p className={css.quiet}>
        {fetched < spun.there.length
          ? `${numberText(fetched)} of ${countText(spun.there.length, 'picture')} here`
          : '\u00a0'}
      </p>
    </div>
  )
}

/** `25 frames a second, a turn in 9.6 s`; where it plays slower, why. */
function rateText({ loop, rate }: Playing, isWanted: boolean, own: Playing['rate'] | undefined): string {
  const perSecond = rate.numerator / rate.denominator
  const round = `${numberText(perSecond, 3)} frames a second, round in ${numberText(loopLength(loop) / perSecond, 1)}\u00a0s.`
  const plays = isWanted ? round : `${round} No loop is wanted of this spin, so the rate is a usual one.`
  if (!own) return plays
  return `${plays} The light of this take comes and goes so fast that at ${numberText(own.numerator / own.denominator, 3)} it would flash more than three times a second.`
}
