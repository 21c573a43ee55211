import { useEffect, useRef } from 'react'

/** What a key does at the bench. Remotes for slides send PageDown and PageUp. */
export interface BenchActs {
  readonly frame: () => void
  readonly voidLast: () => void
  readonly pause: () => void
  readonly fault: () => void
  readonly back: () => void
  readonly end: () => void
}

const actOfKey: Readonly<Record<string, keyof BenchActs>> = {
  ' ': 'frame',
  PageDown: 'frame',
  Backspace: 'voidLast',
  PageUp: 'voidLast',
  p: 'pause',
  f: 'fault',
  b: 'back',
  e: 'end',
}

/** Hears the bench's keys while no dialog is open and nothing is typed. */
export function useBenchKeys(acts: BenchActs, isOn: boolean): void {
  const latest = useRef(acts)
  latest.current = acts
  useEffect(() => {
    if (!isOn) return
    const hear = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return
      const act = actOfKey[event.key.length === 1 ? event.key.toLowerCase() : event.key]
      const { target } = event
      if (!act || (target instanceof Element && target.closest('input, textarea, select, dialog'))) return
      // A button that was reached by Tab is pressed with the space bar, as everywhere.
      if (
        event.key === ' ' &&
        target instanceof Element &&
        target.matches('button:focus-visible, a:focus-visible')
      ) {
        return
      }
      event.preventDefault()
      if (!event.repeat) latest.current[act]()
    }
    window.addEventListener('keydown', hear)
    return () => window.removeEventListener('keydown', hear)
  }, [isOn])
}

/** Keeps the screen of a tablet awake while a take runs, where the page may. */
export function useAwake(isOn: boolean): void {
  useEffect(() => {
    if (!isOn || !('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | undefined
    let isOver = false
    const hold = () => {
      if (document.visibilityState !== 'visible') return
      navigator.wakeLock.request('screen').then(
        (held) => {
          if (isOver) void held.release()
          else lock = held
        },
        // A low battery or a plain-HTTP page refuses; the screen then sleeps as it always does.
        () => {},
      )
    }
    hold()
    document.addEventListener('visibilitychange', hold)
    return () => {
      isOver = true
      document.removeEventListener('visibilitychange', hold)
      void lock?.release()
    }
  }, [isOn])
}
