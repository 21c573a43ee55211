import type { Bridge } from '../../main/api/types.ts'

declare global {
  interface Window {
    readonly turnsheet?: Bridge
  }
}

/** The desktop window's bridge, or undefined in a browser. */
export const bridge: Bridge | undefined = window.turnsheet
