import { join } from 'node:path'
import { type UtilityProcess, utilityProcess } from 'electron'
import type { Change } from '../api/house.ts'
import type { AskKind, FromStudio, StudioAsks } from './messages.ts'

interface Waiting {
  readonly resolve: (answer: never) => void
  readonly reject: (error: Error) => void
}

interface LinkEvents {
  readonly onChange: (change: Change) => void
  /** The process could not open its studio, and says why. */
  readonly onRefused: (sentence: string) => void
  /** The process died without being asked to. */
  readonly onLost: () => void
}

/** The window's end of the studio process: asks it, hears it, starts it again. */
export class StudioLink {
  readonly #folder: string
  readonly #events: LinkEvents
  readonly #waiting = new Map<number, Waiting>()
  #process: UtilityProcess | undefined
  #ready: Promise<void> = Promise.resolve()
  #lastId = 0
  #closing = false

  constructor(folder: string, events: LinkEvents) {
    this.#folder = folder
    this.#events = events
  }

  /** Starts the process; what is asked before it is ready waits for it. */
  start(): void {
    const child = utilityProcess.fork(
      join(import.meta.dirname, 'studioProcess.js'),
      ['--studio', this.#folder],
      {
        serviceName: 'Turnsheet studio',
        stdio: 'inherit',
      },
    )
    this.#process = child
    this.#ready = new Promise((resolve, reject) => {
      child.on('message', (message: FromStudio) => {
        if ('notice' in message && message.notice === 'ready') resolve()
        else this.#hear(message)
      })
      child.on('exit', () => {
        reject(new Error('The studio process ended before it was ready.'))
        this.#lost(child)
      })
    })
    // Nobody may be waiting when it fails; whoever asks later still gets the failure.
    this.#ready.catch(() => {})
  }

  /** Kept once the process answers; fails where it ends before that. */
  get ready(): Promise<void> {
    return this.#ready
  }

  /** Asks the studio process; fails where it dies before it answers. */
  async ask<K extends AskKind>(kind: K, ask: StudioAsks[K]['ask']): Promise<StudioAsks[K]['answer']> {
    await this.#ready
    const child = this.#process
    if (!child) throw new Error('The studio process is not running.')
    this.#lastId += 1
    const id = this.#lastId
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject })
      child.postMessage({ id, kind, ask })
    })
  }

  /** Closes the store and ends the process; after five seconds without an answer it is ended all the same. */
  async close(): Promise<void> {
    this.#closing = true
    const child = this.#process
    if (!child) return
    const patience = new Promise((resolve) => setTimeout(resolve, 5000))
    await Promise.race([this.ask('close', undefined).catch(() => {}), patience])
    child.kill()
  }

  #hear(message: FromStudio): void {
    if ('notice' in message) {
      if (message.notice === 'change') this.#events.onChange(message.change)
      if (message.notice === 'refused') {
        this.#closing = true
        this.#events.onRefused(message.sentence)
      }
      return
    }
    const waiting = this.#waiting.get(message.id)
    this.#waiting.delete(message.id)
    if ('failure' in message) waiting?.reject(new Error(message.failure))
    else waiting?.resolve(message.answer as never)
  }

  #lost(child: UtilityProcess): void {
    if (this.#process !== child) return
    this.#process = undefined
    for (const { reject } of this.#waiting.values()) reject(new Error('The studio process has stopped.'))
    this.#waiting.clear()
    if (!this.#closing) this.#events.onLost()
  }
}
