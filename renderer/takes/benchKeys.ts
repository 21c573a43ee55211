import { useEffect, useRef } from 'react'
import { type FaultKind, faultKinds } from '../../main/trade/takes.ts'
import { actOfKey, type BenchKeys, faultDigits, type KeyAct } from './keyChoices.ts'

/** What the bench does when it is told to by a key or a button. */
export type KeyActs = Readonly<Record<KeyAct, () => void>>

/**
 * Hears the bench's keys while no dialog is open and nothing is typed; a digit names the kind of a fault.
 * @param isOn  false while something else has the keys
 */
export function useBenchKeys(
  acts: KeyActs,
  onFault: (kind: FaultKind) => void,
  keys: BenchKeys,
  isOn: boolean,
): void {
  const latest = useRef({ acts, onFault })
  latest.current = { acts, onFault }
  useEffect(() => {
    if (!isOn) return
    const hear = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return
      const kind = faultKinds[faultDigits.indexOf(event.key)]
      const act = actOfKey(keys, event.key)
      const { target } = event
      if (!act && !kind) return
      if (target instanceof Element && target.closest('input, textarea, select, dialog')) return
      // A button that was reached by Tab is pressed with the space bar or Enter, as everywhere.
      const isPress = event.key === ' ' || event.key === 'Enter'
      if (isPress && target instanceof Element && target.matches('button:focus-visible, a:focus-visible')) {
        return
      }
      event.preventDefault()
      if (event.repeat) return
      if (kind) latest.current.onFault(kind)
      else if (act) latest.current.acts[act]()
    }
    window.addEventListener('keydown', hear)
    return () => window.removeEventListener('keydown', hear)
  }, [isOn, keys])
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
