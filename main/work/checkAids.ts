import path from 'node:path'
import { Worker } from 'node:worker_threads'
import { Refusal } from '../trade/refusal.ts'
import type { AidAnswers, AidAsk, AidTold } from './checkAidsWorker.ts'
import { tellThreadFault } from './threadFaults.ts'

/** A thread that waits for a share that hangs is given up after so long, in ms. */
const patienceMs = 10_000

// The bundle has the thread's program beside it; from the sources Node reads the file as it stands.
const program = import.meta.filename.endsWith('.ts') ? 'checkAidsWorker.ts' : 'checkAidsWorker.js'

interface Waiting {
  readonly resolve: (answer: never) => void
  readonly reject: (error: unknown) => void
}

/** One thread for all helps of the program: it starts with the first question, and keeps no program alive. */
let thread: Worker | undefined
let lastId = 0
const waiting = new Map<number, Waiting>()

/**
 * Asks the thread that looks at frames for the helps beside a take. It decodes each frame once and keeps the last
 * ones, so that an answer about one new frame costs one picture.
 * Refuses where the folder's drive does not answer within 10 s.
 */
export function askAid<K extends AidAsk['ask']>(
  ask: Extract<AidAsk, { readonly ask: K }>,
): Promise<AidAnswers[K]> {
  lastId += 1
  const id = lastId
  const worker = thread ?? startThread()
  return new Promise<AidAnswers[K]>((resolve, reject) => {
    const patience = setTimeout(() => giveUp(worker, silent()), patienceMs)
    waiting.set(id, {
      resolve: (answer) => {
        clearTimeout(patience)
        resolve(answer)
      },
      reject: (error) => {
        clearTimeout(patience)
        reject(error)
      },
    })
    worker.postMessage({ id, ask })
  })
}

function startThread(): Worker {
  const worker = new Worker(path.join(import.meta.dirname, program))

  worker.on('message', (told: AidTold) => {
    const one = waiting.get(told.id)
    waiting.delete(told.id)
    if ('answer' in told) one?.resolve(told.answer as never)
    else one?.reject(new Error(told.failed))
  })
  worker.once('error', (error) => giveUp(worker, error))
  worker.once('exit', () => giveUp(worker, new Error('The thread of the helps ended.')))
  // After the listeners: one that listens keeps the program alive again.
  worker.unref()
  thread = worker
  return worker
}

/** Ends a thread; whatever it was asked is refused, and the next question starts another. */
function giveUp(worker: Worker, why: unknown): void {
  if (thread !== worker) return
  thread = undefined
  // Whoever waits is told, and the door writes it down.
  if (waiting.size === 0) tellThreadFault('the helps beside a take', why)
  for (const { reject } of waiting.values()) reject(why)
  waiting.clear()
  void worker.terminate()
}

function silent(): Refusal {
  return new Refusal(
    'folder-silent',
    'The drive that holds the frames does not answer. Check the card, the cable or the network, then ask again.',
    { field: 'folder' },
  )
}
