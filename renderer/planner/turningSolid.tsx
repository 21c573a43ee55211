import { useEffect, useRef } from 'react'
import { light } from '../shell/light.ts'
import { useStore } from '../shell/store.ts'
import type { PictureView } from './pictureView.ts'
import css from './planner.module.css'
import { seenFaces, steppedSolid } from './solid.ts'

/** The longer side of the drawn picture, in CSS px. */
const longestPx = 280

interface TurningProps {
  readonly frames: number
  /** Delivered frames a second. */
  readonly perSecond: number
  readonly isPlaying: boolean
  readonly isAnticlockwise: boolean
  /** A delivered pixel on a pixel of the screen: the middle of the picture, as large as it will be. */
  readonly isTrueSize: boolean
  readonly picture: PictureView
}

/**
 * An abstract solid that turns frame by frame as the loop will, in the delivered frame: each frame stands for its
 * true time, none is blended.
 */
export function TurningSolid(props: TurningProps) {
  const { frames, picture, isPlaying, isTrueSize } = props
  const canvas = useRef<HTMLCanvasElement>(null)
  const latest = useRef(props)
  latest.current = props
  // Elapsed playing time, so that a pause goes on where it stopped.
  const played = useRef(0)
  const lightNow = useStore(light)
  const scale = longestPx / Math.max(picture.widthPx, picture.heightPx)
  const size = { width: Math.round(picture.widthPx * scale), height: Math.round(picture.heightPx * scale) }
  useEffect(() => {
    // The light decides the colours that are read below, the size how the solid is drawn.
    void lightNow
    void isTrueSize
    const element = canvas.current
    if (!element) return
    const colours = coloursOf(element)
    let shown = -1
    let wanted = 0
    let before: number | undefined
    const drawAt = () => {
      const now = latest.current
      const frame = Math.floor((played.current * now.perSecond) / 1000) % now.frames
      if (frame === shown) return
      shown = frame
      draw(element, now, frame, colours)
    }
    const tick = (time: number) => {
      if (before !== undefined) played.current += time - before
      before = time
      drawAt()
      wanted = requestAnimationFrame(tick)
    }
    draw(
      element,
      latest.current,
      Math.floor((played.current * latest.current.perSecond) / 1000) % frames,
      colours,
    )
    if (isPlaying) wanted = requestAnimationFrame(tick)
    return () => cancelAnimationFrame(wanted)
  }, [isPlaying, isTrueSize, lightNow, frames, picture])
  return (
    <canvas
      ref={canvas}
      className={css.solid}
      style={{ width: size.width, aspectRatio: `${size.width} / ${size.height}` }}
      role="img"
      aria-label={`A drawn solid turning in ${frames} frames${isTrueSize ? ', its middle at true size' : ''}${isPlaying ? '' : ', paused'}`}
    />
  )
}

interface Colours {
  readonly ground: string
  readonly rule: string
  readonly ink: string
  readonly shades: (light: number) => string
}

function coloursOf(element: HTMLElement): Colours {
  const style = getComputedStyle(element)
  const token = (name: string) => style.getPropertyValue(name).trim()
  const isDark = style.colorScheme === 'dark'
  return {
    ground: token('--sheet'),
    rule: token('--rule'),
    ink: token('--ink-2'),
    // Between the darkest and lightest grey that the room allows.
    shades: (light) => {
      const grey = Math.round(isDark ? 28 + light * 130 : 70 + light * 165)
      return `rgb(${grey} ${grey} ${grey})`
    },
  }
}

function draw(element: HTMLCanvasElement, props: TurningProps, frame: number, colours: Colours): void {
  const context = element.getContext('2d')
  if (!context) return
  const { picture } = props
  const dense = window.devicePixelRatio || 1
  const scale = (longestPx / Math.max(picture.widthPx, picture.heightPx)) * dense
  element.width = Math.round(picture.widthPx * scale)
  element.height = Math.round(picture.heightPx * scale)
  const pxPerMm = picture.axisPxPerMm * (props.isTrueSize ? 1 : scale)
  context.fillStyle = colours.ground
  context.fillRect(0, 0, element.width, element.height)
  context.translate(element.width / 2, element.height / 2)
  context.lineJoin = 'round'
  context.lineWidth = dense
  context.strokeStyle = colours.ink
  // Seen from above, clockwise is against the angle's own sense.
  const turnedDeg = ((props.isAnticlockwise ? 1 : -1) * frame * 360) / props.frames
  const solid = steppedSolid(picture.sweptMm, picture.heightMm)
  for (const face of seenFaces(solid, turnedDeg, picture)) {
    context.beginPath()
    for (const point of face.points) context.lineTo(point.x * pxPerMm, point.y * pxPerMm)
    context.closePath()
    context.fillStyle = colours.shades(face.light)
    context.fill()
    context.stroke()
  }
}
