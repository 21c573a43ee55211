import { useEffect, useRef } from 'react'
import { frameDragged, frameOnLoop, nearestFrame, type PlayedLoop } from '../../main/trade/check/spinning.ts'
import type { FramePictures } from './framePictures.ts'
import css from './spin.module.css'

/**
 * The picture of a spin: a hand, a finger or the arrow keys turn it, the space bar plays it. It is a slider along the
 * frames, so that a screen reader can turn it too.
 */
export function SpinView(props: {
  readonly label: string
  readonly pictures: FramePictures | undefined
  readonly loop: PlayedLoop
  /** Which way the product turns, seen from above, as the frames go on. */
  readonly direction: 'clockwise' | 'anticlockwise'
  readonly frame: number
  /** Laid half over the frame. */
  readonly over: number | undefined
  /** What stands, in words: `Frame 12 of 310`. */
  readonly told: string
  readonly onTurn: (frame: number) => void
  /** Left and right: one frame back or on. */
  readonly onStep: (steps: number) => void
  readonly onSpace: () => void
}) {
  const { loop, direction, frame, pictures } = props
  const hold = useRef<{ readonly fromPx: number; readonly frame: number }>(undefined)
  const steps: Record<string, (() => void) | undefined> = {
    ArrowLeft: () => props.onStep(-1),
    ArrowDown: () => props.onStep(-1),
    ArrowRight: () => props.onStep(1),
    ArrowUp: () => props.onStep(1),
    PageUp: () => props.onTurn(frameOnLoop(loop, frame, 10)),
    PageDown: () => props.onTurn(frameOnLoop(loop, frame, -10)),
    Home: () => props.onTurn(loop.inFrame),
    End: () => props.onTurn(loop.outFrame),
    ' ': props.onSpace,
  }
  return (
    <div
      className={css.view}
      role="slider"
      tabIndex={0}
      aria-label={props.label}
      aria-valuemin={loop.inFrame}
      aria-valuemax={loop.outFrame}
      aria-valuenow={frame}
      aria-valuetext={props.told}
      onKeyDown={(event) => {
        const step = event.altKey || event.ctrlKey || event.metaKey ? undefined : steps[event.key]
        if (!step) return
        event.preventDefault()
        step()
      }}
      onPointerDown={(event) => {
        if (event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        hold.current = { fromPx: event.clientX, frame }
      }}
      onPointerMove={(event) => {
        const held = hold.current
        if (!held) return
        const moved = event.clientX - held.fromPx
        props.onTurn(frameDragged({ loop, direction }, held.frame, moved, event.currentTarget.clientWidth))
      }}
      onPointerUp={() => {
        hold.current = undefined
      }}
      onPointerCancel={() => {
        hold.current = undefined
      }}
    >
      <Picture pictures={pictures} loop={loop} frame={frame} over={props.over} />
    </div>
  )
}

/** The room of a spin whose pictures are not there, and why: nothing moves when they come. */
export function NoSpin({ why }: { readonly why: string }) {
  return (
    <div className={`${css.view} ${css.still}`}>
      <p>{why}</p>
    </div>
  )
}

/** The frame drawn, or the nearest that has come while its own is on its way; the other half over it. */
function Picture(props: {
  readonly pictures: FramePictures | undefined
  readonly loop: PlayedLoop
  readonly frame: number
  readonly over: number | undefined
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { pictures, loop, frame } = props
  const isThere = (one: number) => pictures?.at(one) !== undefined
  const own = pictures?.at(frame)
  const shown = own ?? pictures?.at(nearestFrame(loop, frame, isThere) ?? frame)
  const over = props.over === undefined ? undefined : pictures?.at(props.over)
  useEffect(() => {
    const place = canvas.current
    const pen = place?.getContext('2d')
    if (!place || !pen || !shown) return
    if (place.width !== shown.width || place.height !== shown.height) {
      place.width = shown.width
      place.height = shown.height
    }
    pen.globalAlpha = 1
    pen.drawImage(shown, 0, 0)
    if (over) {
      pen.globalAlpha = 0.5
      pen.drawImage(over, 0, 0, shown.width, shown.height)
    }
  }, [shown, over])
  return (
    <canvas
      ref={canvas}
      className={shown ? css.picture : css.noPicture}
      data-frame={own ? frame : undefined}
    />
  )
}
