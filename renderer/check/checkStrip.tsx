import { type ReactNode, useEffect, useRef, useState } from 'react'
import type { Finding } from '../../main/trade/check/finding.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { loopLength, type PlayedLoop } from '../../main/trade/check/spinning.ts'
import { countText, numberText } from '../parts/format.ts'
import { type Store, useStore } from '../shell/store.ts'
import { type Answered, standingOf } from './answered.ts'
import css from './strip.module.css'
import { frameAt, placedMarks, runsText, scaleEnd, shareOf, tracePath } from './stripGeometry.ts'

/** Least distance of marks that can be pressed, in px: WCAG 2.2, 2.5.8. */
const markApartPx = 26

/** Light beyond this is drawn large, in EV; below it a clean take would look restless. */
const leastLightEv = 0.1

export interface StripProps {
  readonly report: TakeReport
  /** The last frame that the strip has room for: those to come too, so that nothing moves as they arrive. */
  readonly frames: number
  /** The loop as it was chosen; left out, the one that is proposed. */
  readonly loop?: PlayedLoop
  readonly answers: readonly Answered[]
}

/**
 * What the check has read of a take along its frames: its light, how far each picture is from the one before, and how
 * well it matches the first frame. Findings stand above as marks: an open square asks, a filled disc is a fault, a stroke is
 * to be known. The figures stand in a table beside it.
 */
export function CheckStrip(
  props: StripProps & {
    /** The frame that the viewer beside it shows. */
    readonly here: Store<number>
    /** Opens a frame; what was found there, where a mark was pressed. */
    readonly onFrame: (frame: number, findings: readonly Finding[]) => void
  },
) {
  const { report, frames, here, loop = loopOf(report) } = props
  const place = useRef<HTMLDivElement>(null)
  const widthPx = useWidth(place)
  return (
    <div className={css.strip}>
      <Marks {...props} widthPx={widthPx} />
      {/* By keys the frames are gone along in the picture itself. */}
      <div
        ref={place}
        className={css.plot}
        aria-hidden="true"
        onClick={(event) => {
          const { left, width } = event.currentTarget.getBoundingClientRect()
          props.onFrame(frameAt((event.clientX - left) / width, frames), [])
        }}
      >
        <svg className={css.over} viewBox="0 0 1000 100" preserveAspectRatio="none" aria-hidden="true">
          <Loop loop={loop} frames={frames} />
          <Touched {...props} />
          <Pointer here={here} frames={frames} />
        </svg>
      </div>
      <Traces report={report} frames={frames} />
      <Axis loop={loop} frames={frames} />
      <svg className={css.said} role="img" aria-label={stripSentence(props)} />
    </div>
  )
}

/** The three traces in their lanes, each with its name and its scale. */
export function Traces({ report, frames }: { readonly report: TakeReport; readonly frames: number }) {
  const light = byFrame(report, frames, ({ luminanceEv }) => luminanceEv)
  const step = byFrame(report, frames, ({ stepRatio }) => stepRatio)
  const match = byFrame(report, frames, ({ match }) => match)
  const lightEnd = scaleEnd(light, leastLightEv)
  const stepEnd = Math.max(2, scaleEnd(step, 1))
  return (
    <>
      <Lane name="Light" scale={`±${withEv(lightEnd)}`}>
        <line className={css.level} x1="0" x2="1000" y1="50" y2="50" />
        <path className={css.trace} d={tracePath(light, frames, { from: -lightEnd, to: lightEnd })} />
      </Lane>
      <Lane name="Difference" scale={`0 to ${numberText(stepEnd)}\u00a0steps`}>
        <line className={css.level} x1="0" x2="1000" y1={100 - 100 / stepEnd} y2={100 - 100 / stepEnd} />
        <path className={css.trace} d={tracePath(step, frames, { from: 0, to: stepEnd })} />
      </Lane>
      <Lane name="Match" scale="0 to 1">
        <path className={css.trace} d={tracePath(match, frames, { from: 0, to: 1 })} />
      </Lane>
    </>
  )
}

function Lane(props: { readonly name: string; readonly scale: string; readonly children: ReactNode }) {
  return (
    <div className={css.lane} aria-hidden="true">
      <span>{props.name}</span>
      <svg viewBox="0 0 1000 100" preserveAspectRatio="none" aria-hidden="true">
        <line className={css.floor} x1="0" x2="1000" y1="100" y2="100" />
        {props.children}
      </svg>
      <span>{props.scale}</span>
    </div>
  )
}

/** What is not in the loop is veiled; the seam's two edges stand. */
function Loop({ loop, frames }: { readonly loop: PlayedLoop; readonly frames: number }) {
  const from = (1000 * (loop.inFrame - 1)) / Math.max(1, frames)
  const to = (1000 * loop.outFrame) / Math.max(1, frames)
  return (
    <>
      <rect className={css.outside} x="0" y="0" width={from} height="100" />
      <rect className={css.outside} x={to} y="0" width={Math.max(0, 1000 - to)} height="100" />
      <line className={css.seam} x1={from} x2={from} y1="0" y2="100" />
      <line className={css.seam} x1={to} x2={to} y1="0" y2="100" />
    </>
  )
}

/** A short stroke for every frame that something was found at. */
function Touched({ report, frames, answers }: StripProps) {
  const touched = report.findings.filter((one) => ['open', 'fault'].includes(standingOf(one, answers)))
  const places = new Set(touched.flatMap((finding) => finding.frames))
  const path = [...places].map((frame) => `M${Math.round(10_000 * shareOf(frame, frames)) / 10} 0v5`).join('')
  return <path className={css.touched} d={path} />
}

function Pointer({ here, frames }: { readonly here: Store<number>; readonly frames: number }) {
  const x = 1000 * shareOf(useStore(here), frames)
  return <line className={css.here} x1={x} x2={x} y1="0" y2="100" />
}

const shortLoopShare = 1 / 3

function Axis({ loop, frames }: { readonly loop: PlayedLoop; readonly frames: number }) {
  const at = (share: number) => ({ left: `${100 * share}%` })
  const from = (loop.inFrame - 1) / Math.max(1, frames)
  const to = loop.outFrame / Math.max(1, frames)
  const [first, last] = [`loop from ${loop.inFrame}`, `to ${loop.outFrame}`]
  // The words at the two ends of a short loop would lie over each other.
  if (to - from < shortLoopShare) {
    const isLeft = from < 0.5
    return (
      <div className={css.axis} aria-hidden="true">
        <span className={isLeft ? css.first : css.last} style={at(isLeft ? from : to)}>
          {`${first} ${last}`}
        </span>
      </div>
    )
  }
  return (
    <div className={css.axis} aria-hidden="true">
      <span className={css.first} style={at(from)}>
        {first}
      </span>
      <span className={css.last} style={at(to)}>
        {last}
      </span>
    </div>
  )
}

function Marks(
  props: StripProps & {
    readonly widthPx: number
    readonly onFrame: (frame: number, findings: readonly Finding[]) => void
  },
) {
  const { report, frames, answers, widthPx } = props
  const shown = report.findings.filter((finding) => standingOf(finding, answers) !== 'none')
  return (
    <ul className={css.marks} aria-label="Marks along the take">
      {placedMarks(shown, frames, widthPx, markApartPx).map(({ frame, share, keys }) => {
        const here = shown.filter(({ key }) => keys.includes(key))
        const standings = here.map((finding) => standingOf(finding, answers))
        return (
          <li key={keys[0]} style={{ left: `${100 * share}%` }}>
            <button
              type="button"
              className={css.mark}
              aria-label={`Frame ${frame}: ${here.map(({ sentence }) => sentence).join(' ')}`}
              title={here.map(({ sentence }) => sentence).join('\n')}
              onClick={() => props.onFrame(frame, here)}
            >
              <MarkShape standing={standings.includes('open') ? 'open' : (standings[0] ?? 'open')} />
              {here.length > 1 ? <span>{here.length}</span> : null}
            </button>
          </li>
        )
      })}
    </ul>
  )
}

/** An open square asks, a filled disc is a fault of the take, a stroke is to be known, a dash is none any more. */
export function MarkShape({ standing }: { readonly standing: ReturnType<typeof standingOf> }) {
  return (
    <svg className={css.shape} width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
      {standing === 'fault' ? (
        <circle className={css.filled} cx="7" cy="7" r="5.5" />
      ) : standing === 'open' ? (
        <rect className={css.open} x="2" y="2" width="10" height="10" />
      ) : standing === 'none' ? (
        <line className={css.off} x1="3" x2="11" y1="7" y2="7" />
      ) : (
        <line className={css.open} x1="7" x2="7" y1="1" y2="13" />
      )}
    </svg>
  )
}

/** The loop that a report proposes. */
export function loopOf({ closing, leftOut }: TakeReport): PlayedLoop {
  return { inFrame: closing.loopIn, outFrame: Math.max(closing.loopIn, closing.loopOut), leftOut }
}

/** `24 of 240 frames`, or `240 frames` once all are read. */
export function readText({ framesRead, framesOfTake }: TakeReport): string {
  return framesRead >= framesOfTake
    ? countText(framesRead, 'frame')
    : `${numberText(framesRead)} of ${countText(framesOfTake, 'frame')}`
}

/** A figure for each frame of a take in its order, null where it was not read. */
export function byFrame(
  report: TakeReport,
  frames: number,
  figure: (of: TakeReport['frames'][number]) => number | null,
): (number | null)[] {
  const values: (number | null)[] = Array.from({ length: Math.max(0, frames) }, () => null)
  for (const one of report.frames) if (one.frame <= frames) values[one.frame - 1] = figure(one)
  return values
}

/** What the strip shows, in a sentence. */
export function stripSentence({ report, frames, answers, loop = loopOf(report) }: StripProps): string {
  const light = report.frames.flatMap(({ luminanceEv }) => luminanceEv ?? [])
  const open = report.findings.filter((finding) => standingOf(finding, answers) === 'open')
  const places = open.flatMap(({ frames: [first] }) => first ?? [])
  return [
    `Light, difference and match along the take: ${countText(report.framesRead, 'frame')} of ${numberText(frames - report.leftOut.length)} read`,
    light.length > 0
      ? `light from ${withEv(Math.min(...light))} to ${withEv(Math.max(...light))} of its median`
      : undefined,
    `loop from frame ${loop.inFrame} to ${loop.outFrame}, ${countText(loopLength(loop), 'frame')}`,
    open.length === 0
      ? 'nothing waits for an answer'
      : `${countText(open.length, 'finding')} to answer${places.length > 0 ? `, at frame ${runsText(places)}` : ''}`,
  ]
    .filter(Boolean)
    .join('; ')
}

/** A difference of light: `−0.12 EV`. */
export function withEv(ev: number): string {
  // A figure that rounds to nothing has no sign.
  return `${numberText(Math.abs(ev) < 0.005 ? 0 : ev, 2)}\u00a0EV`
}

/** The width of a drawn thing in px, followed as the window changes. */
function useWidth(of: React.RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(800)
  useEffect(() => {
    const element = of.current
    if (!element) return
    const watch = new ResizeObserver(() => setWidth(element.clientWidth))
    watch.observe(element)
    return () => watch.disconnect()
  }, [of])
  return width
}
