import { useEffect, useRef, useState } from 'react'
import { type Beat, beatAt, isMissed, nextBeat, type Rhythm } from '../../main/trade/pacing.ts'

/**
 * Runs the paced beat: gives each cue as it comes, reckoned from the clock and not from the timer before.
 * @param isOn      off, it stands still; on again, it begins with a `move`
 * @param onCue     hears every cue at its time
 * @param onMissed  hears that the page stood still for longer than a cue; the beat then stops
 * @returns the cue of now, or undefined while it stands still
 */
export function usePacing(
  rhythm: Rhythm,
  isOn: boolean,
  onCue: (beat: Beat) => void,
  onMissed: () => void,
): Beat | undefined {
  const [beat, setBeat] = useState<Beat>()
  const latest = useRef({ onCue, onMissed })
  latest.current = { onCue, onMissed }
  const { moveMs, waitMs, shootMs } = rhythm
  useEffect(() => {
    if (!isOn) {
      setBeat(undefined)
      return
    }
    const beats = { moveMs, waitMs, shootMs }
    const startedAt = performance.now()
    let timer: ReturnType<typeof setTimeout> | undefined
    const begin = (one: Beat) => {
      const elapsedMs = performance.now() - startedAt
      if (isMissed(one, elapsedMs)) {
        setBeat(undefined)
        latest.current.onMissed()
        return
      }
      setBeat(one)
      latest.current.onCue(one)
      const next = nextBeat(beats, one)
      timer = setTimeout(() => begin(next), Math.max(0, next.atMs - (performance.now() - startedAt)))
    }
    begin(beatAt(beats, 0))
    return () => clearTimeout(timer)
  }, [isOn, moveMs, waitMs, shootMs])
  return beat
}
