/** What the desktop window gives the page; absent in a browser. */
export interface Bridge {
  readonly call: (request: {
    readonly url: string
    readonly method: string
    readonly headers: Readonly<Record<string, string>>
    readonly body?: string | null
  }) => Promise<{
    readonly status: number
    readonly headers: Readonly<Record<string, string>>
    readonly body: string
  }>
  /** Hears of every change until the returned function is called. */
  readonly onChange: (listener: () => void) => () => void
  /** Opens a kept paper in the program the computer has for it. */
  readonly openPaper: (id: number) => Promise<void>
  /** Asks for a folder; undefined where the person turned it down. */
  readonly pickStudioFolder: () => Promise<string | undefined>
}

declare global {
  interface Window {
    readonly turnsheet?: Bridge
  }
}

/** The desktop window's bridge, or undefined in a browser. */
export const bridge: Bridge | undefined = window.turnsheet
