import type { Change } from '../api/house.ts'
import type { BridgeAnswer, BridgeRequest } from './bridge.ts'

/** What the window's process may ask of the studio process, and what it gets. */
export interface StudioAsks {
  /** A call of the page. */
  call: { ask: BridgeRequest; answer: BridgeAnswer }
  /** A paper or file that the page shows, by its path (`/papers/3`). */
  file: { ask: { path: string }; answer: FileAnswer }
  /** A paper to be opened outside the page. */
  paper: { ask: { id: number }; answer: { name: string; bytes: Uint8Array<ArrayBuffer> } | undefined }
  /** Opens the browser door, or gives a fresh address of the open one. */
  openDoor: { ask: { port: number }; answer: { address: string } }
  closeDoor: { ask: undefined; answer: undefined }
  /** Closes door and store; the process ends after its answer. */
  close: { ask: undefined; answer: undefined }
}

export type AskKind = keyof StudioAsks

export interface FileAnswer {
  readonly status: number
  readonly headers: Readonly<Record<string, string>>
  readonly bytes: Uint8Array<ArrayBuffer>
}

/** To the studio process. */
export type ToStudio = { [K in AskKind]: { id: number; kind: K; ask: StudioAsks[K]['ask'] } }[AskKind]

/** From the studio process: answers by their number, and what it says unasked. */
export type FromStudio =
  | { id: number; answer: unknown }
  | { id: number; failure: string }
  | { notice: 'ready' }
  | { notice: 'refused'; sentence: string }
  | { notice: 'change'; change: Change }
