import { parentPort, workerData } from 'node:worker_threads'
import type { ExifTime } from '../trade/captureTime.ts'
import { captureMs } from '../trade/captureTime.ts'
import { TicketFrames } from '../trade/check/files/ticketFrames.ts'
import { luminancesOf } from '../trade/check/light/luminance.ts'
import { type MatchPicture, matchPicture } from '../trade/check/turn/matching.ts'
import { tinyFrame } from './checkPicture.ts'
import { readTags } from './frameBytes.ts'
import { readTicketText } from './ticketReading.ts'

// A thread of its own: reads off cards when each frame was shot and which of them show a ticket.

/** A folder of frames in the order they were shot; each frame by its files, its picture before its raw file. */
export interface Card {
  readonly folder: string
  readonly frames: readonly (readonly string[])[]
}

/** What the thread is given; the first cell of `flag` asks it to end. */
export interface CardWork {
  readonly cards: readonly Card[]
  readonly flag: Int32Array
}

/** What it says of one frame, card after card, frame after frame. */
export interface CardAnswer {
  readonly card: number
  readonly time: ExifTime | null
  readonly ticket: string | null
}

/** sharp decodes best in one thread with four pictures at once. */
const atOnce = 4

const { cards, flag } = workerData as CardWork
const isStopped = () => Atomics.load(flag, 0) !== 0
for (const [card, { folder, frames }] of cards.entries()) {
  const ticketFrames = new TicketFrames()
  for (let from = 0; from < frames.length && !isStopped(); from += atOnce) {
    const lot = frames.slice(from, from + atOnce)
    const seen = await Promise.all(lot.map((files) => look(folder, files)))
    const hinted = seen.map(({ picture, time }) => ticketFrames.hintOf(picture, atMs(time)))
    const answers = await Promise.all(
      seen.map(async ({ time }, index) => {
        const isWorthIt = hinted[index] !== null && !isStopped()
        const ticket = isWorthIt ? await readTicketText(folder, lot[index] ?? []) : null
        return { card, time, ticket } satisfies CardAnswer
      }),
    )
    for (const answer of answers) parentPort?.postMessage(answer)
  }
}

async function look(folder: string, files: readonly string[]) {
  const tiny = await tinyFrame(folder, files)
  const picture: MatchPicture | null = tiny ? matchPicture({ ...tiny, y: luminancesOf(tiny) }) : null
  const times = files.map((file) => readTags(folder, file).time)
  return { picture, time: times.find((time) => time !== null) ?? null }
}

/** For the gaps between frames alone, so the zone does not matter. */
function atMs(time: ExifTime | null): number | null {
  return time ? (captureMs(time, 'UTC') ?? null) : null
}
