import { useCallback, useEffect, useReducer, useRef, useState } from 'react'
import {
  framePlayed,
  type PlayedLoop,
  type Playing,
  seamShown,
  unpackedFrames,
} from '../../main/trade/check/spinning.ts'
import { type AddressOf, type FramePictures, framePictures, mostUnpacked } from './framePictures.ts'

/** Runs `show` with the milliseconds since it began, once for every picture that the screen draws. */
function useEachFrame(isOn: boolean, show: (elapsedMs: number) => void): void {
  useEffect(() => {
    if (!isOn) return
    let from: number | undefined
    let request = requestAnimationFrame(function next(nowMs) {
      from ??= nowMs
      show(nowMs - from)
      request = requestAnimationFrame(next)
    })
    return () => cancelAnimationFrame(request)
  }, [isOn, show])
}

/** The frame that stands while a loop is played, or is turned by hand while it is not. */
export function useSpin(playing: Playing, startFrame: number) {
  const { loop, rate, isReversed } = playing
  const { inFrame, outFrame, leftOut } = loop
  const { numerator, denominator } = rate
  const [frame, setFrame] = useState(startFrame)
  const [isPlaying, setPlaying] = useState(false)
  const stands = useRef(frame)
  stands.current = frame
  const from = useRef(frame)
  const show = useCallback(
    (elapsedMs: number) => {
      // Whatever changes begins anew from the frame that stands.
      if (elapsedMs === 0) from.current = stands.current
      const played = { loop: { inFrame, outFrame, leftOut }, rate: { numerator, denominator }, isReversed }
      setFrame(framePlayed(played, from.current, elapsedMs))
    },
    [inFrame, outFrame, leftOut, numerator, denominator, isReversed],
  )
  useEachFrame(isPlaying, show)
  const turnTo = (to: number) => {
    setPlaying(false)
    setFrame(to)
  }
  return { frame, turnTo, isPlaying, play: () => setPlaying(true), stop: () => setPlaying(false) }
}

/** The frame at the seam that stands: by itself in turn while `changes` a second are given, else as it is turned. */
export function useSeam(loop: PlayedLoop, changes: number | undefined) {
  const [which, setWhich] = useState<'last' | 'first'>('last')
  const show = useCallback(
    (elapsedMs: number) => changes !== undefined && setWhich(seamShown(elapsedMs, changes)),
    [changes],
  )
  useEachFrame(changes !== undefined, show)
  return {
    which,
    frame: which === 'last' ? loop.outFrame : loop.inFrame,
    turn: () => setWhich(which === 'last' ? 'first' : 'last'),
  }
}

/** A frame that stands so long is stopped at, and not passed on the way to another, in ms. */
const stoppedAfterMs = 250

/** The pictures of a take, with those unpacked that are about to be seen from `frame` on. */
export function useFramePictures(props: {
  readonly addressOf: AddressOf
  readonly there: readonly number[]
  readonly playing: Playing
  readonly frame: number
  /** Frames that are seen beside the one that stands: the seam's, or the one laid over it. */
  readonly beside: readonly number[]
  /** Frames that a person stops at. */
  readonly still: readonly number[]
}): FramePictures | undefined {
  const { addressOf, there, playing, frame } = props
  const [, redraw] = useReducer((count: number) => count + 1, 0)
  const [pictures, setPictures] = useState<FramePictures>()
  useEffect(() => {
    const opened = framePictures(addressOf, redraw)
    setPictures(opened)
    return () => opened.close()
  }, [addressOf])
  useEffect(() => pictures?.follow(there), [pictures, there])
  const wanted = [
    ...new Set([
      ...props.beside,
      ...unpackedFrames(playing.loop, frame, playing.isReversed, mostUnpacked - 4),
    ]),
  ]
  const key = wanted.join()
  // The frames by what they are: their list is a new one each time.
  useEffect(() => pictures?.want(wanted), [pictures, key])
  const stillKey = props.still.join()
  const isStillThere = props.still.every((one) => pictures?.isFetched(one))
  useEffect(() => {
    pictures?.enlarge([])
    if (!isStillThere || props.still.length === 0) return
    const wait = setTimeout(() => pictures?.enlarge(props.still), stoppedAfterMs)
    return () => clearTimeout(wait)
  }, [pictures, stillKey, isStillThere])
  return pictures
}

/** Whether the person has asked their computer for less motion. */
export function useReducedMotion(): boolean {
  const [isReduced, setReduced] = useState(() => matchMedia('(prefers-reduced-motion: reduce)').matches)
  useEffect(() => {
    const query = matchMedia('(prefers-reduced-motion: reduce)')
    const hear = () => setReduced(query.matches)
    query.addEventListener('change', hear)
    return () => query.removeEventListener('change', hear)
  }, [])
  return isReduced
}
