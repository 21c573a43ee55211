import { useEffect, useMemo } from 'react'
import type { BenchAct } from '../../main/trade/benchActs.ts'
import { countText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { useStore } from '../shell/store.ts'
import type { KeptAct, TakeRef } from './actKeep.ts'
import { ActQueue, type QueueState } from './actQueue.ts'
import { benchDevice, sendActsOf, thisDevice } from './benchDevice.ts'
import { type Grip, type WindowGrip, windowGrip } from './benchGrip.ts'
import { actedTake, type TakePage, type TurningState, turningState } from './turningState.ts'

/** A running take at this bench: what to show of it, and the one way to change it. */
export interface BenchQueue {
  /** What to show: what the studio has kept; while it does not answer, also what this device has kept for it. */
  readonly state: TurningState
  /** What the studio has kept. */
  readonly confirmed: TurningState
  /** The take after everything that was done here: a next act counts on it, such as the frame to make void. */
  readonly ahead: TurningState
  /**
   * Does an act: checked at once, kept on this device, sent in order, done by the studio exactly once. Does
   * nothing while somebody else has the take.
   */
  readonly act: (act: BenchAct) => void
  /** Acts, and frames among them, that the studio has not answered. */
  readonly waiting: number
  readonly framesWaiting: number
  readonly isCut: boolean
  /** True where the studio was started again and wants its new address from this browser. */
  readonly isSignedOut: boolean
  /** False where this browser cannot keep acts; they are then lost with the page. */
  readonly isKeeping: boolean
  /** Why the last act was not begun. */
  readonly objection: { readonly code: string; readonly sentence: string } | undefined
  /** Acts the studio refused for good; kept here until `seen`. */
  readonly refused: readonly KeptAct[]
  readonly seen: () => void
  readonly hand: Hand
  /** Takes it in hand here, from another device or window; what waits here is then sent. */
  readonly takeOver: () => void
  /** Lets go of what waits here and is not to go into the take; the log tells of it. */
  readonly letGo: () => void
  /** Kept once the studio has answered everything. */
  readonly whenSent: () => Promise<void>
}

/** Who has the take: this page, another window of this device, another device; or that is not known yet. */
export type Hand = 'here' | 'other window' | 'other device' | 'asking'

interface Bench {
  readonly queue: ActQueue
  readonly window: WindowGrip
  pages: number
}

const benches = new Map<string, Bench>()

/** The take of a page at this bench. The queue outlives the page until everything is sent. */
export function useBenchQueue(page: TakePage): BenchQueue {
  const { id: takeId, startedAt } = page.take
  const ref = useMemo<TakeRef>(() => ({ takeId, startedAt }), [takeId, startedAt])
  const { queue, window } = benchOf(ref)
  useEffect(() => comeTo(ref), [ref])
  const kept = useStore(queue.state)
  const grip = useStore(window.grip)
  useEffect(() => queue.follow({ take: actedTake(page), acts: page.acts }), [queue, page])
  const hold = useHold(page, grip, queue, window)
  const confirmed = useMemo(() => turningState(page, kept.confirmed), [page, kept.confirmed])
  const onDevice = useMemo(() => turningState(page, kept.onDevice), [page, kept.onDevice])
  const ahead = useMemo(() => turningState(page, kept.ahead), [page, kept.ahead])
  const letGo = useAct(async () => {
    const keys = kept.waiting.map(({ key }) => key)
    const { place } = thisDevice()
    await api.takes.letGo.mutate({ takeId, place, acts: keys.length, frames: framesOf(kept.waiting) })
    await queue.forget(keys)
  })
  return {
    state: kept.isCut ? onDevice : confirmed,
    confirmed,
    ahead,
    act: (act) => {
      if (hold.hand === 'here') queue.act(act)
    },
    waiting: kept.waiting.length,
    framesWaiting: framesOf(kept.waiting),
    isCut: kept.isCut,
    isSignedOut: kept.isSignedOut,
    isKeeping: kept.isKeeping,
    objection: kept.objection ?? hold.refusal ?? letGo.refusal,
    refused: kept.refused,
    seen: () => void queue.forget(kept.refused.map(({ key }) => key)),
    hand: hold.hand,
    takeOver: hold.takeOver,
    letGo: letGo.run,
    whenSent: () => queue.whenSent(),
  }
}

/** Takes a take in hand that nobody has, and tells who has it. */
function useHold(page: TakePage, grip: Grip, queue: ActQueue, window: WindowGrip) {
  const takeId = page.take.id
  const { hold } = page
  const isRunning = page.take.endedAt === null
  const isOurs = hold?.holderKey === thisDevice().key
  const take = useAct(
    (takeOver: boolean) => api.takes.hold.mutate({ takeId, holder: thisDevice(), takeOver }),
    () => queue.goOn(),
  )
  const isFree = isRunning && hold === null && grip === 'here'
  const { run } = take
  useEffect(() => {
    if (isFree) run(false)
  }, [isFree, run])
  // Ours again, as the studio tells it: what was turned away before may go.
  useEffect(() => {
    if (isOurs) queue.goOn()
  }, [isOurs, queue])
  const hand: Hand = isRunning && hold !== null && !isOurs ? 'other device' : grip === 'here' ? 'here' : grip
  return {
    hand,
    refusal: take.refusal?.code === 'take-held' ? undefined : take.refusal,
    takeOver: () => {
      if (grip !== 'here') window.steal()
      if (!isOurs) take.run(true)
    },
  }
}

/** Sends what an earlier page of this device kept and could not send, of whatever take. Call it once at the start. */
export async function sendWhatWasKept(): Promise<void> {
  const kept = await benchDevice.keep.list().catch(() => [])
  const takes = new Map(kept.filter(({ refusal }) => !refusal).map(({ take }) => [nameOf(take), take]))
  for (const take of takes.values()) letGoWhenSent(take)
}

/** What this device keeps and has not sent, in words: 'kept on this tablet, 12 frames to send'. */
export function waitingWords(queue: Waiting): string {
  return `kept on ${thisDevice().place === 'the tablet' ? 'this tablet' : 'this computer'}, ${waitingCount(queue)} to send`
}

/** What waits, counted: '12 frames and 2 other acts'. */
export function waitingCount({ waiting, framesWaiting }: Waiting): string {
  const others = waiting - framesWaiting
  return [
    framesWaiting > 0 ? countText(framesWaiting, 'frame') : undefined,
    others > 0 ? countText(others, framesWaiting > 0 ? 'other act' : 'act') : undefined,
  ]
    .filter(Boolean)
    .join(' and ')
}

type Waiting = Pick<BenchQueue, 'waiting' | 'framesWaiting'>

function benchOf(take: TakeRef): Bench {
  const name = nameOf(take)
  const known = benches.get(name)
  if (known) return known
  const queue = new ActQueue(take, benchDevice, sendActsOf(take))
  queue.stop()
  const window = windowGrip(name)
  const follow = () => {
    if (window.grip.get() === 'here') void queue.start()
    else queue.stop()
  }
  window.grip.listen(follow)
  if (window.grip.get() === 'here') follow()
  const bench: Bench = { queue, window, pages: 0 }
  benches.set(name, bench)
  return bench
}

function comeTo(take: TakeRef): () => void {
  const bench = benchOf(take)
  bench.pages += 1
  return () => {
    bench.pages -= 1
    // Not before the page that may take its place has come.
    setTimeout(() => letGoWhenSent(take), 0)
  }
}

/** Lets another window have the take, once nothing of this one waits and no page of it shows the take. */
function letGoWhenSent(take: TakeRef): void {
  const bench = benchOf(take)
  const { state } = bench.queue
  const look = () => {
    if (bench.pages > 0) return stop()
    const { waiting, isLoaded } = state.get()
    if (!isLoaded || waiting.length > 0) return
    stop()
    benches.delete(nameOf(take))
    bench.queue.stop()
    bench.window.release()
  }
  const stop = state.listen(look)
  look()
}

function nameOf({ takeId, startedAt }: TakeRef): string {
  return `turnsheet-take-${takeId}-${startedAt}`
}

function framesOf(acts: QueueState['waiting']): number {
  return acts.filter(({ act }) => act.kind === 'frame').length
}
