import type { Change } from '../api/house.ts'

/** One call as the page sends it: an address under `/api/`, and text both ways. */
export interface BridgeRequest {
  readonly url: string
  readonly method: string
  readonly headers: Readonly<Record<string, string>>
  readonly body?: string | null
}

export interface BridgeAnswer {
  readonly status: number
  readonly headers: Readonly<Record<string, string>>
  readonly body: string
}

/** What the page finds as `window.turnsheet` in the desktop window, and nowhere else. */
export interface Bridge {
  readonly door: 'desktop'
  /** Answers one call. Fails only where the studio process has died under it. */
  call(request: BridgeRequest): Promise<BridgeAnswer>
  /** Hears of every change until the returned function is called. */
  onChange(listener: (change: Change) => void): () => void
  /** Opens a copy of a kept paper, under its real name, in the program the computer has for it. */
  openPaper(id: number): Promise<void>
  /** Asks the person for a folder; undefined where they turned it down. */
  pickStudioFolder(): Promise<string | undefined>
  /** Asks the person for the folder that a camera or tether writes to; undefined where they turned it down. */
  pickFrameFolder(): Promise<string | undefined>
}
