import type { Answers, Asks } from '../../main/api/types.ts'
import { type ActedTake, applyAct, type BenchAct } from '../../main/trade/benchActs.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { storeOf } from '../shell/store.ts'
import type { ActKeep, KeptAct, TakeRef } from './actKeep.ts'

type Sent = Pick<Asks['takes']['act'], 'acts'>['acts']
type Answered = Answers['takes']['act']

/** What the queue needs of its device. */
export interface QueueDevice {
  readonly keep: ActKeep
  /** This device's clock, in milliseconds since 1970. */
  readonly nowMs: () => number
  readonly wait: (ms: number) => Promise<void>
}

/** The studio answers, but does not let this browser in any more: it was started again since. */
export class SignedOut extends Error {}

/**
 * Carries acts to the studio. A `Refusal` is its answer to all of them; any other failure leaves open whether
 * they arrived, and they are sent again.
 */
export type SendActs = (
  acts: Sent,
  /** When they set out by the studio's clock, as far as the device knows it: one may be long on its way. */
  sentMs: number | undefined,
) => Promise<Answered>

/** A take as the studio last told it, with the number of acts that are in it. */
export interface ToldTake {
  readonly take: ActedTake
  readonly acts: number
}

export interface QueueState {
  /** What the studio has kept, as far as this page knows. */
  readonly confirmed: ActedTake | undefined
  /** That, and what this device has durably kept for it. */
  readonly onDevice: ActedTake | undefined
  /** That, and what has just been done. New acts are checked against it. */
  readonly ahead: ActedTake | undefined
  /** Acts the studio has not answered. */
  readonly waiting: readonly KeptAct[]
  /** Acts that were refused for good, until somebody has seen them. */
  readonly refused: readonly KeptAct[]
  /** Why the last act was not even begun. */
  readonly objection: { readonly code: string; readonly sentence: string } | undefined
  /** True from a time without an answer until all acts are answered. */
  readonly isCut: boolean
  /** True where the studio was started again and has not let this browser in since. */
  readonly isSignedOut: boolean
  /** True where another device has the take: what waits is not sent. */
  readonly isTurnedAway: boolean
  /** False until what an earlier page left is known. */
  readonly isLoaded: boolean
  /** False where this device cannot keep acts: they are lost with the page. */
  readonly isKeeping: boolean
}

/** As many as one call carries. */
const batch = 50
const retryMs = 1000
/** Without an answer for so long the bench goes on by itself. */
const patienceMs = 1500

const nothing: QueueState = {
  confirmed: undefined,
  onDevice: undefined,
  ahead: undefined,
  waiting: [],
  refused: [],
  objection: undefined,
  isCut: false,
  isSignedOut: false,
  isTurnedAway: false,
  isLoaded: false,
  isKeeping: true,
}

/**
 * The acts of one take at one device: each is kept on the device, then sent, in order, until the studio has
 * answered it; the studio does each once, whatever is lost on the way or sent again.
 */
export class ActQueue {
  readonly state = storeOf<QueueState>(nothing)
  readonly #take: TakeRef
  readonly #device: QueueDevice
  readonly #send: SendActs
  #told: ToldTake | undefined
  #waiting: KeptAct[] = []
  #refused: KeptAct[] = []
  /** Answered since the studio last told the take, with their numbers. */
  #answered: { readonly number: number; readonly kept: KeptAct }[] = []
  readonly #stored = new Set<string>()
  #objection: QueueState['objection']
  #isCut = false
  #isSignedOut = false
  #isTurnedAway = false
  #isLoaded = false
  #isKeeping = true
  #isSending = false
  #isStopped = false
  #lastOrder = 0
  /** Between these lies the studio's clock less the device's, as far as the answers tell. */
  #aheadMs: readonly [least: number, most: number] | undefined
  #idle: (() => void)[] = []

  constructor(take: TakeRef, device: QueueDevice, send: SendActs) {
    this.#take = take
    this.#device = device
    this.#send = send
  }

  /** Takes up what an earlier page of this device left, and sends it. */
  async takeUp(): Promise<void> {
    const { takeId, startedAt } = this.#take
    const kept = await this.#device.keep.list().catch((): readonly KeptAct[] => {
      this.#isKeeping = false
      return []
    })
    const known = new Set([...this.#waiting, ...this.#refused].map(({ key }) => key))
    const left = kept.filter(
      ({ key, take }) => take.takeId === takeId && take.startedAt === startedAt && !known.has(key),
    )
    for (const { key, order } of left) {
      this.#stored.add(key)
      this.#lastOrder = Math.max(this.#lastOrder, order)
    }
    this.#isLoaded = true
    const inOrder = (a: KeptAct, b: KeptAct) => a.order - b.order
    this.#waiting = [...left.filter(({ refusal }) => !refusal), ...this.#waiting].sort(inOrder)
    this.#refused = [...left.filter(({ refusal }) => refusal), ...this.#refused].sort(inOrder)
    this.#changed()
    void this.#pump()
  }

  /** Hears how the studio tells the take now. */
  follow(told: ToldTake): void {
    // An older answer may come in after a newer one.
    if (this.#told && told.acts < this.#told.acts) return
    this.#told = told
    this.#answered = this.#answered.filter(({ number }) => number > told.acts)
    this.#changed()
  }

  /** Does an act here: checks it, keeps it, sends it. What the rules refuse is told at once and goes nowhere. */
  act(act: BenchAct): void {
    const atMs = this.#device.nowMs()
    this.#objection = undefined
    try {
      const { ahead } = this.state.get()
      if (ahead) applyAct(ahead, act, this.#offsetMs(atMs))
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      this.#objection = { code: error.code, sentence: error.message }
      this.#changed()
      return
    }
    this.#lastOrder = Math.max(this.#lastOrder + 1, atMs * 1000)
    const kept: KeptAct = {
      key: newKey(this.#lastOrder),
      take: this.#take,
      order: this.#lastOrder,
      atMs,
      act,
    }
    this.#waiting = [...this.#waiting, kept]
    this.#changed()
    void this.#device.keep
      .put([kept])
      .catch(() => {
        this.#isKeeping = false
      })
      .then(() => {
        this.#stored.add(kept.key)
        this.#changed()
        return this.#pump()
      })
  }

  /** Sends again what another device's hold turned away: this device has the take once more. */
  goOn(): void {
    this.#isTurnedAway = false
    this.#changed()
    void this.#pump()
  }

  /** Forgets acts: refused ones that were seen, or waiting ones that are not to go into the take. */
  async forget(keys: readonly string[]): Promise<void> {
    const gone = new Set(keys)
    await this.#device.keep.remove(keys).catch(() => {})
    this.#waiting = this.#waiting.filter(({ key }) => !gone.has(key))
    this.#refused = this.#refused.filter(({ key }) => !gone.has(key))
    this.#changed()
  }

  /** Forgets the last objection. */
  clear(): void {
    this.#objection = undefined
    this.#changed()
  }

  /** Kept once nothing waits for an answer any more. */
  whenSent(): Promise<void> {
    return this.#isLoaded && this.#waiting.length === 0
      ? Promise.resolve()
      : new Promise((resolve) => this.#idle.push(resolve))
  }

  /** Sends nothing more: another page of this device goes on. */
  stop(): void {
    this.#isStopped = true
  }

  /** Goes on after `stop`, with what the other page left and without what it has sent. */
  async start(): Promise<void> {
    this.#isStopped = false
    this.#waiting = this.#waiting.filter(({ key }) => !this.#stored.has(key))
    this.#refused = []
    await this.takeUp()
  }

  async #pump(): Promise<void> {
    if (this.#isSending) return
    this.#isSending = true
    try {
      while (!this.#isStopped && !this.#isTurnedAway) {
        const stored = this.#waiting.findIndex(({ key }) => !this.#stored.has(key))
        const acts = this.#waiting.slice(0, Math.min(batch, stored < 0 ? batch : stored))
        if (acts.length === 0) break
        if (!(await this.#sendOnce(acts))) await this.#device.wait(retryMs)
      }
    } finally {
      this.#isSending = false
    }
    if (!this.#isLoaded || this.#waiting.length > 0) return
    const idle = this.#idle
    this.#idle = []
    for (const resolve of idle) resolve()
  }

  /** True where the studio answered. */
  async #sendOnce(acts: readonly KeptAct[]): Promise<boolean> {
    const late = setTimeout(() => this.#cut(), patienceMs)
    const nowMs = this.#device.nowMs()
    const sent = acts.map(({ key, atMs, act }) => ({
      key,
      agoMs: Math.max(0, Math.round(nowMs - atMs)),
      act,
    }))
    try {
      const { answers, nowMs: studioMs } = await this.#send(sent, this.#atStudioMs(nowMs))
      this.#setClock(studioMs, nowMs, this.#device.nowMs())
      await this.#settle(acts, answers)
      return true
    } catch (error) {
      if (!(error instanceof Refusal)) {
        this.#isSignedOut = error instanceof SignedOut
        this.#cut()
        return false
      }
      if (error.code === 'other-studio') {
        this.#isStopped = true
        return true
      }
      await this.#refuseAll(acts, error)
      return true
    } finally {
      clearTimeout(late)
    }
  }

  /**
   * Reads the studio's clock off an answer, which was given somewhere between the sending and now. Each answer
   * narrows what the others told; one that contradicts them tells that a clock was set.
   */
  #setClock(studioMs: number, sentMs: number, nowMs: number): void {
    // The studio tells whole milliseconds.
    const [least, most] = [studioMs - nowMs, studioMs + 1 - sentMs]
    const before = this.#aheadMs ?? [least, most]
    const both = [Math.max(least, before[0]), Math.min(most, before[1])] as const
    this.#aheadMs = both[0] <= both[1] ? both : [least, most]
  }

  /** An instant of this device by the studio's clock; undefined until an answer has told it. */
  #atStudioMs(deviceMs: number): number | undefined {
    const [least, most] = this.#aheadMs ?? []
    return least === undefined || most === undefined ? undefined : Math.round(deviceMs + (least + most) / 2)
  }

  /** A call refused as a whole says nothing of each act: they are asked one by one. */
  async #refuseAll(acts: readonly KeptAct[], { code, message }: Refusal): Promise<void> {
    const [first] = acts
    if (first && acts.length > 1) {
      await this.#sendOnce([first])
      return
    }
    await this.#settle(
      acts,
      acts.map(({ key }) => ({
        key,
        number: null,
        frame: null,
        mark: null,
        refusal: { code, sentence: message },
      })),
    )
  }

  async #settle(acts: readonly KeptAct[], answers: Answered['answers']): Promise<void> {
    const byKey = new Map(answers.map((answer) => [answer.key, answer]))
    const done: KeptAct[] = []
    const refused: KeptAct[] = []
    for (const kept of acts) {
      const answer = byKey.get(kept.key)
      if (!answer) continue
      if (answer.refusal?.code === 'take-held') this.#isTurnedAway = true
      else if (answer.refusal) refused.push({ ...kept, refusal: answer.refusal })
      else {
        done.push(kept)
        if (answer.number !== null && answer.number > (this.#told?.acts ?? 0)) {
          this.#answered.push({ number: answer.number, kept })
        }
      }
    }
    const settled = new Set([...done, ...refused].map(({ key }) => key))
    this.#waiting = this.#waiting.filter(({ key }) => !settled.has(key))
    this.#refused = [...this.#refused, ...refused]
    if (this.#waiting.length === 0) this.#isCut = false
    this.#isSignedOut = false
    this.#changed()
    try {
      if (refused.length > 0) await this.#device.keep.put(refused)
      if (done.length > 0) await this.#device.keep.remove(done.map(({ key }) => key))
    } catch {
      // What stays on the device is sent again by its key, and done no second time.
      this.#isKeeping = false
    }
  }

  #cut(): void {
    this.#isCut = true
    this.#changed()
  }

  #offsetMs(atMs: number): number {
    return (this.#atStudioMs(atMs) ?? Math.round(atMs)) - Date.parse(this.#take.startedAt)
  }

  #changed(): void {
    const answered = [...this.#answered].sort((a, b) => a.number - b.number).map(({ kept }) => kept)
    const confirmed = this.#told && this.#after(this.#told.take, answered)
    const stored = this.#waiting.filter(({ key }) => this.#stored.has(key))
    const onDevice = confirmed && this.#after(confirmed, stored)
    const rest = this.#waiting.filter(({ key }) => !this.#stored.has(key))
    this.state.set({
      confirmed,
      onDevice,
      ahead: onDevice && this.#after(onDevice, rest),
      waiting: this.#waiting,
      refused: this.#refused,
      objection: this.#objection,
      isCut: this.#isCut,
      isSignedOut: this.#isSignedOut,
      isTurnedAway: this.#isTurnedAway,
      isLoaded: this.#isLoaded,
      isKeeping: this.#isKeeping,
    })
  }

  #after(take: ActedTake, acts: readonly KeptAct[]): ActedTake {
    return acts.reduce((before, { act, atMs }) => {
      try {
        return applyAct(before, act, this.#offsetMs(atMs))
      } catch (error) {
        // The studio will refuse it too, and its sentence is shown then.
        if (error instanceof Refusal) return before
        throw error
      }
    }, take)
  }
}

// A page that came over plain HTTP from another device has no crypto.randomUUID.
const pageKey = Math.random().toString(36).slice(2, 12)

function newKey(order: number): string {
  return `${order.toString(36)}-${pageKey}`
}
