import './fileThreads.ts'
import { join } from 'node:path'
import { Refusal } from '../trade/refusal.ts'
import { studioArgument } from './arguments.ts'
import { type BrowserDoor, openBrowserDoor } from './browserDoor.ts'
import type { AskKind, FromStudio, StudioAsks, ToStudio } from './messages.ts'
import { type OpenHouse, openHouse } from './openHouse.ts'
import { paperBytes } from './paper.ts'
import { refusalSentence } from './refusalSentence.ts'
import { webApplication } from './web.ts'

// The studio process of the desktop program: store, calls and browser door live here, so that no long
// query ever stops a window. The window's process speaks with it over its message port alone.

const port = process.parentPort
const tell = (message: FromStudio) => port.postMessage(message)

// Ctrl+C in a terminal reaches every process of the program; the window's process says when this one ends.
process.on('SIGINT', () => {})

try {
  serve(openHouse(studioArgument(process.argv.slice(2)), join(import.meta.dirname, '../renderer')))
} catch (error) {
  tell({ notice: 'refused', sentence: refusalSentence(error) })
}

function serve(opened: OpenHouse): void {
  const { inside } = opened
  const closing = new AbortController()
  // Only the window's process reaches this application, and it lets in its own page alone.
  const app = webApplication({ ...inside, guard: (_c, next) => next(), closing: closing.signal })
  let door: BrowserDoor | undefined

  const answers: { [K in AskKind]: (ask: StudioAsks[K]['ask']) => Promise<StudioAsks[K]['answer']> } = {
    async call({ url, method, headers, body }) {
      const answer = await app.fetch(new Request(url, { method, headers, body: body ?? null }))
      return { status: answer.status, headers: Object.fromEntries(answer.headers), body: await answer.text() }
    },
    async file({ path }) {
      const answer = await app.fetch(new Request(new URL(path, 'studio://turnsheet')))
      const bytes = new Uint8Array(await answer.arrayBuffer())
      return { status: answer.status, headers: Object.fromEntries(answer.headers), bytes }
    },
    async paper({ id }) {
      const paper = await inside.openPaper(id)
      return paper && { name: paper.name, bytes: await paperBytes(paper) }
    },
    async openDoor(ask) {
      door ??= await openBrowserDoor(inside, ask.port)
      return { address: door.newAddress() }
    },
    async closeDoor() {
      await door?.close()
      door = undefined
      return undefined
    },
    async close() {
      closing.abort()
      await door?.close()
      opened.close()
      return undefined
    },
  }

  inside.house.listen((change) => tell({ notice: 'change', change }))
  port.on('message', ({ data }: { data: ToStudio }) => {
    const answered = answers[data.kind](data.ask as never)
    answered.then(
      (answer: unknown) => tell({ id: data.id, answer }),
      (error: unknown) => {
        if (!(error instanceof Refusal)) inside.log.bug(`the window asked for ${data.kind}`, error)
        tell({ id: data.id, failure: refusalSentence(error) })
      },
    )
  })
  tell({ notice: 'ready' })
}
