import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react'
import {
  draggedDistanceMm,
  draggedHeightMm,
  draggedLight,
  draggedTiltDeg,
  turnedBearingDeg,
} from '../../main/trade/rigDrawing/dragging.ts'
import type { DrawnCamera, DrawnLight, DrawnRig, Grip } from '../../main/trade/rigDrawing/drawing.ts'
import type { Fit } from '../../main/trade/rigDrawing/fit.ts'
import type { Point } from '../../main/trade/rigDrawing/places.ts'
import { gripName, gripText } from '../../main/trade/rigDrawing/words.ts'
import css from './rigDrawing.module.css'

/** Figures that a drawing sets; what is left out stays as it is. */
export type CameraMoved = Partial<Pick<DrawnCamera, 'distanceMm' | 'heightMm' | 'tiltDeg'>>
export type LightMoved = Partial<Pick<DrawnLight, 'bearingDeg' | 'distanceMm' | 'heightMm'>>

/** Takes what is moved on a drawing. */
export interface RigHand {
  readonly onCamera: (moved: CameraMoved) => void
  readonly onLight: (index: number, moved: LightMoved) => void
}

type View = 'plan' | 'side'

/**
 * Something on a drawing that can be taken hold of: by pointer or finger, or by the arrow keys while it has the focus
 * (with Shift ten times as far). On the plan a light turns about the axis and moves from it; from the side it moves up
 * and down.
 */
export function GripHandle(props: {
  readonly grip: Grip
  readonly view: View
  readonly rig: DrawnRig
  readonly hand: RigHand
  readonly pageOf: (event: { readonly clientX: number; readonly clientY: number }) => Point
  readonly fit: Fit
  readonly onHold: () => void
  readonly onRelease: () => void
}) {
  const { grip, view, rig, hand, fit } = props
  const taken = useRef<{ readonly from: Point; readonly rig: DrawnRig }>(undefined)
  const element = useRef<SVGGElement>(null)
  useEffect(() => {
    const held = element.current
    // A finger drags what it holds and does not scroll the page. React listens passively, and touch-action counts for
    // a whole drawing alone, over which one would then never scroll.
    const keep = (event: TouchEvent) => event.preventDefault()
    held?.addEventListener('touchstart', keep, { passive: false })
    return () => held?.removeEventListener('touchstart', keep)
  }, [])
  const move = (event: PointerEvent) => {
    if (!taken.current) return
    const to = props.pageOf(event)
    const { from, rig: was } = taken.current
    dragged(grip, view, was, hand, { x: (to.x - from.x) / fit.perMm, y: (to.y - from.y) / fit.perMm })
  }
  const release = () => {
    taken.current = undefined
    props.onRelease()
  }
  return (
    <g
      ref={element}
      className={css.grip}
      role="slider"
      tabIndex={0}
      aria-label={gripName(grip, rig)}
      aria-valuenow={gripValue(grip, view, rig)}
      aria-valuetext={gripText(grip, rig)}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId)
        event.currentTarget.focus()
        taken.current = { from: props.pageOf(event), rig }
        props.onHold()
      }}
      onPointerMove={move}
      onPointerUp={release}
      onPointerCancel={release}
      onKeyDown={(event) => {
        if (pressed(event, grip, view, rig, hand)) event.preventDefault()
      }}
    >
      <circle className={css.reach} cx={grip.at.x} cy={grip.at.y} r={22} />
      <circle className={css.knob} cx={grip.at.x} cy={grip.at.y} r={grip.of === 'aim' ? 3.5 : 5} />
    </g>
  )
}

/** What a way dragged on the drawing sets, in mm, from where things stood when they were taken. */
function dragged(grip: Grip, view: View, rig: DrawnRig, hand: RigHand, moved: Point): void {
  const { camera } = rig
  const light = lightOf(grip, rig)
  if (light && view === 'plan') hand.onLight(grip.index, draggedLight(light, moved))
  else if (light)
    hand.onLight(grip.index, { heightMm: draggedHeightMm(light.heightMm, light.heightMm - moved.y) })
  else if (camera && view === 'plan') {
    hand.onCamera({ distanceMm: draggedDistanceMm(camera.distanceMm, camera.distanceMm + moved.y) })
  } else if (camera && grip.of === 'camera') {
    hand.onCamera({
      distanceMm: draggedDistanceMm(camera.distanceMm, camera.distanceMm - moved.x),
      heightMm: draggedHeightMm(camera.heightMm, camera.heightMm - moved.y),
    })
  } else if (camera) {
    const meets = camera.heightMm - camera.distanceMm * Math.tan((camera.tiltDeg * Math.PI) / 180)
    hand.onCamera({ tiltDeg: draggedTiltDeg(camera, meets - moved.y) })
  }
}

/** What an arrow key sets; false for any other key. */
function pressed(event: KeyboardEvent, grip: Grip, view: View, rig: DrawnRig, hand: RigHand): boolean {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key]
  if (!way) return false
  const [across = 0, down = 0] = way.map((step) => step * (event.shiftKey ? 10 : 1))
  const { camera } = rig
  const light = lightOf(grip, rig)
  if (light && view === 'plan') {
    hand.onLight(grip.index, {
      bearingDeg: turnedBearingDeg(light.bearingDeg, across),
      distanceMm: draggedDistanceMm(light.distanceMm, light.distanceMm - down * 10),
    })
  } else if (light) {
    hand.onLight(grip.index, { heightMm: draggedHeightMm(light.heightMm, light.heightMm - down * 10) })
  } else if (camera && grip.of === 'aim') {
    hand.onCamera({ tiltDeg: Math.min(89.5, Math.max(-89.5, camera.tiltDeg + down * 0.5)) })
  } else if (camera) {
    const away = view === 'plan' ? down : -across
    hand.onCamera({
      distanceMm: draggedDistanceMm(camera.distanceMm, camera.distanceMm + away * 10),
      ...(view === 'plan' ? {} : { heightMm: draggedHeightMm(camera.heightMm, camera.heightMm - down * 10) }),
    })
  }
  return true
}

function lightOf(grip: Grip, rig: DrawnRig): DrawnLight | undefined {
  return grip.of === 'light' ? rig.lights.find(({ index }) => index === grip.index) : undefined
}

function gripValue(grip: Grip, view: View, rig: DrawnRig): number {
  const light = lightOf(grip, rig)
  if (light) return view === 'plan' ? light.bearingDeg : light.heightMm
  if (grip.of === 'aim') return rig.camera?.tiltDeg ?? 0
  return (view === 'plan' ? rig.camera?.distanceMm : rig.camera?.heightMm) ?? 0
}
