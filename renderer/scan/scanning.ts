import { useEffect, useRef } from 'react'
import { storeOf } from '../shell/store.ts'
import { hearKey, quietWedge } from './wedge.ts'

/** Whether the camera looks for a ticket. */
export const isCameraOpen = storeOf(false)

/** The code read last, by whatever way; the count tells the same code read twice. */
export const lastScan = storeOf<{ readonly code: string; readonly count: number } | undefined>(undefined)

/** Hands in a code that was read: by the camera, a hand scanner, or typed. */
export function reportScan(code: string): void {
  lastScan.set({ code, count: (lastScan.get()?.count ?? 0) + 1 })
}

/** Hears a hand scanner anywhere outside a field; what it types into a field is the field's. */
export function useHandScanner(onScan: (code: string) => void): void {
  const latest = useRef(onScan)
  latest.current = onScan
  useEffect(() => {
    let wedge = quietWedge
    const hear = (event: KeyboardEvent) => {
      const { target } = event
      const isField =
        target instanceof Element && target.closest('input, textarea, select, [contenteditable]')
      // A key that is held down repeats as fast as a scanner types.
      if (isField || event.repeat || event.ctrlKey || event.altKey || event.metaKey) {
        wedge = quietWedge
        return
      }
      const heard = hearKey(wedge, event.key, event.timeStamp)
      wedge = heard.wedge
      if (heard.isOurs) {
        // Its letters are keys of the bench and of the board, its Enter presses what has the focus.
        event.preventDefault()
        event.stopImmediatePropagation()
      }
      if (heard.scanned !== undefined) latest.current(heard.scanned)
    }
    window.addEventListener('keydown', hear, { capture: true })
    return () => window.removeEventListener('keydown', hear, { capture: true })
  }, [])
}
