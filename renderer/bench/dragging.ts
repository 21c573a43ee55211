import { type PointerEvent, type SyntheticEvent, useEffect, useRef } from 'react'
import type { Answers } from '../../main/api/types.ts'
import type { Stretch } from '../parts/dayStrip.tsx'
import { blocksOf, type Moving, type Target } from './lifted.ts'

type Plan = Answers['benches']['plan']

/** So far a pointer must go before a press becomes a drag, in px. */
const slackPx = 5
/** So near to the window's edge the page begins to scroll, and so fast, in px and px a frame. */
const edgePx = 56
const scrollPx = 14

interface Grab {
  readonly bookingId: number
  readonly pointerId: number
  readonly x: number
  readonly y: number
  /** From the block's begin, with its set change, to where it was taken. */
  grabMinutes: number
  isDragged: boolean
}

/**
 * Moves blocks by mouse, pen or finger: the block under the pointer follows it in steps of 15 minutes, with Shift of 5,
 * from strip to strip; Escape leaves it. The page scrolls at the window's edges.
 */
export function useDragging(plan: Plan, hours: Stretch, moving: Moving) {
  const grab = useRef<Grab | undefined>(undefined)
  const pointer = useRef({ x: 0, y: 0, isFine: false })
  const swallowsClick = useRef(false)
  const isDragged = moving.lifted?.by === 'pointer' && !moving.lifted.isDown
  const follow = () => {
    const held = grab.current
    const place = held && placeUnder(pointer.current, hours, held.grabMinutes)
    if (place) moving.moveTo(place)
  }
  const latest = useRef(follow)
  useEffect(() => {
    latest.current = follow
  })
  useEffect(() => {
    if (!isDragged) return
    let frame = requestAnimationFrame(function scroll() {
      const { y } = pointer.current
      const by = y < edgePx + topLinePx() ? -scrollPx : y > window.innerHeight - edgePx ? scrollPx : 0
      if (by !== 0) {
        window.scrollBy(0, by)
        latest.current()
      }
      frame = requestAnimationFrame(scroll)
    })
    return () => {
      cancelAnimationFrame(frame)
      // Left by Escape: what the pointer still does moves nothing.
      grab.current = undefined
    }
  }, [isDragged])

  const onPointerDown = (event: PointerEvent) => {
    swallowsClick.current = false
    const element = event.target instanceof Element ? event.target.closest('[data-block]') : null
    if (!element || event.button !== 0 || !event.isPrimary) return
    grab.current = {
      bookingId: Number(element.getAttribute('data-block')),
      pointerId: event.pointerId,
      x: event.clientX,
      y: event.clientY,
      grabMinutes: 0,
      isDragged: false,
    }
  }
  const onPointerMove = (event: PointerEvent) => {
    const held = grab.current
    if (!held || event.pointerId !== held.pointerId) return
    pointer.current = { x: event.clientX, y: event.clientY, isFine: event.shiftKey }
    if (!held.isDragged) {
      if (Math.hypot(event.clientX - held.x, event.clientY - held.y) < slackPx) return
      const block = blocksOf(plan).find(({ id }) => id === held.bookingId)
      const from = stripUnder(held.x, held.y)
      if (!block || !from) return
      held.isDragged = true
      swallowsClick.current = true
      event.currentTarget.setPointerCapture(held.pointerId)
      const begin = moving.lift(block, plan, 'pointer')
      held.grabMinutes = minuteAt(from, held.x, hours) - begin.fromMinute
    }
    follow()
  }
  const onPointerUp = (event: PointerEvent) => {
    const held = grab.current
    grab.current = undefined
    if (held?.isDragged && event.pointerId === held.pointerId) moving.letGo()
  }
  const onPointerCancel = () => {
    if (grab.current?.isDragged) moving.leave()
    grab.current = undefined
  }
  /** The press that ended a drag opens nothing. */
  const onClickCapture = (event: SyntheticEvent) => {
    if (!swallowsClick.current) return
    swallowsClick.current = false
    event.preventDefault()
    event.stopPropagation()
  }
  return { onPointerDown, onPointerMove, onPointerUp, onPointerCancel, onClickCapture }
}

/** The line that stays at the window's top, under which nothing can be let go. */
function topLinePx(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--top-line'))
}

function stripUnder(x: number, y: number): Element | null {
  return document.elementFromPoint(x, y)?.closest('[data-strip]') ?? null
}

function minuteAt(strip: Element, x: number, hours: Stretch): number {
  const { left, width } = strip.getBoundingClientRect()
  return hours.fromMinute + ((x - left) / width) * (hours.toMinute - hours.fromMinute)
}

/** The place under the pointer, or undefined between the strips, where the block stays over the last one. */
function placeUnder(
  { x, y, isFine }: { readonly x: number; readonly y: number; readonly isFine: boolean },
  hours: Stretch,
  grabMinutes: number,
): Target | undefined {
  const strip = stripUnder(x, y)
  const [bench, day] = strip?.getAttribute('data-strip')?.split(' ') ?? []
  if (!strip || !bench || !day) return undefined
  const step = isFine ? 5 : 15
  const minute = Math.round((minuteAt(strip, x, hours) - grabMinutes) / step) * step
  return { benchId: Number(bench), day, fromMinute: Math.min(1440 - step, Math.max(0, minute)) }
}
