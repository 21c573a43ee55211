import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type ActedTake, applyAct, type BenchAct } from '../../main/trade/benchActs.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import type { ActKeep, KeptAct } from '../../renderer/takes/actKeep.ts'
import { ActQueue, type SendActs } from '../../renderer/takes/actQueue.ts'
import { clockOf } from '../../renderer/takes/deviceClock.ts'
import { actedTake, type TakePage } from '../../renderer/takes/turningState.ts'
import { type AtTheBench, atTheBench, theTablet } from './aSpin.ts'
import { anAct } from './benchActs.ts'

/** What becomes of one call on its way: nothing, lost going, lost coming back, or delivered twice. */
const fates = ['arrives', 'request lost', 'answer lost', 'arrives twice'] as const
type Fate = (typeof fates)[number]

/** The tablet's clock is wrong by this much, all the time. */
const skewMs = -37_000

/** A tablet whose pages come and go while its disk stays. */
class Tablet {
  readonly disk = new Map<string, KeptAct>()
  /** Every act that ever was on the disk, in order: what the take must come out as. */
  readonly kept: KeptAct[] = []
  readonly #bench: AtTheBench
  readonly #page: TakePage
  #fates: Fate[]
  #alive: { isAlive: boolean } = { isAlive: false }
  queue: ActQueue

  constructor(bench: AtTheBench, page: TakePage, given: readonly Fate[]) {
    this.#bench = bench
    this.#page = page
    this.#fates = [...given]
    this.queue = this.#load()
  }

  reload(): void {
    this.queue = this.#load()
  }

  nowMs(): number {
    return Date.parse(this.#bench.studio.writing.now) + skewMs
  }

  #load(): ActQueue {
    this.#alive.isAlive = false
    const page = { isAlive: true }
    this.#alive = page
    const ref = { takeId: this.#page.take.id, startedAt: this.#page.take.startedAt }
    const device = { keep: this.#keepOf(page), nowMs: () => this.nowMs(), wait: () => breath() }
    const queue = new ActQueue(ref, device, this.#sendOf(page))
    queue.follow({ take: actedTake(this.#page), acts: this.#page.acts })
    void queue.takeUp()
    return queue
  }

  #keepOf(page: { isAlive: boolean }): ActKeep {
    return {
      list: async () => [...this.disk.values()].sort((a, b) => a.order - b.order),
      put: async (acts) => {
        await null
        if (!page.isAlive) return never()
        for (const act of acts) {
          if (!this.disk.has(act.key)) this.kept.push(act)
          this.disk.set(act.key, act)
        }
      },
      remove: async (keys) => {
        await null
        if (!page.isAlive) return never()
        for (const key of keys) this.disk.delete(key)
      },
    }
  }

  #sendOf(page: { isAlive: boolean }): SendActs {
    const { api } = this.#bench
    const { id: takeId, startedAt } = this.#page.take
    return async (acts) => {
      if (!page.isAlive) return never()
      const fate = this.#fates.shift() ?? 'arrives'
      const call = () => api.takes.act({ takeId, startedAt, holder: theTablet, acts: overTheWire(acts) })
      if (fate === 'request lost') throw new Error('cut')
      if (fate === 'arrives twice') await call()
      const answered = overTheWire(await call()) as Awaited<ReturnType<SendActs>>
      if (fate === 'answer lost') throw new Error('cut')
      if (!page.isAlive) return never()
      return answered
    }
  }
}

type Step = { readonly ms: number; readonly act: BenchAct } | 'reload' | 'breathe'

const steps: fc.Arbitrary<readonly Step[]> = fc.array(
  fc.oneof(
    { weight: 10, arbitrary: fc.record({ ms: fc.nat(9000), act: anAct }) },
    { weight: 1, arbitrary: fc.constant('reload' as const) },
    { weight: 4, arbitrary: fc.constant('breathe' as const) },
  ),
  { maxLength: 40 },
)

describe('the queue of acts at a bench', () => {
  it('ends with exactly the acts that were done, in order and at their times, whatever is lost or sent twice', async () => {
    const bench = await atTheBench()
    await fc.assert(
      fc
        .asyncProperty(steps, fc.array(fc.constantFrom(...fates), { maxLength: 30 }), async (given, fate) => {
          const takeId = await bench.start()
          const asked = async (): Promise<TakePage> =>
            JSON.parse(JSON.stringify(await bench.api.takes.one({ takeId })))
          const tablet = new Tablet(bench, await asked(), fate)
          const first = actedTake(await asked())
          const { startedAt } = (await asked()).take
          for (const step of given) {
            if (step === 'reload') tablet.reload()
            else if (step === 'breathe') await breath()
            else {
              bench.pass(step.ms)
              tablet.queue.act(step.act)
            }
          }
          while (isBusy(tablet.queue)) await breath()
          await breath()
          const doneMs = (atMs: number) => atMs - skewMs - Date.parse(startedAt)
          const refused: string[] = []
          const model = tablet.kept.reduce<ActedTake>((take, { act, atMs, key }) => {
            try {
              return applyAct(take, act, doneMs(atMs))
            } catch (error) {
              if (!(error instanceof Refusal)) throw error
              refused.push(key)
              return take
            }
          }, first)
          const plain = (take: ActedTake) => ({
            ...take,
            faults: take.faults.map(({ kind, frame, note }) => ({ kind, frame, note })),
          })
          expect(plain(actedTake(await asked()))).toEqual(plain(model))
          // What was refused for good stays on the device until somebody has seen it; nothing else stays.
          expect([...tablet.disk.keys()]).toEqual(refused)
          expect(tablet.queue.state.get().refused.map(({ key }) => key)).toEqual(refused)
        })
        .afterEach(async () => {
          // The spin is free for the next run, however this one went.
          for (const { id } of await bench.api.takes.running()) await bench.act(id, { kind: 'end' })
        }),
      { numRuns: 120 },
    )
  }, 60_000)

  it('shows what is kept on the tablet while the studio does not answer, by the same rules', async () => {
    const bench = await atTheBench()
    const takeId = await bench.start()
    const page: TakePage = JSON.parse(JSON.stringify(await bench.api.takes.one({ takeId })))
    const tablet = new Tablet(
      bench,
      page,
      Array.from({ length: 100_000 }, () => 'request lost' as const),
    )
    for (const act of [
      { kind: 'frame' },
      { kind: 'frame' },
      { kind: 'void', frame: 2 },
      { kind: 'frame' },
    ] as const) {
      bench.pass(6000)
      tablet.queue.act(act)
      await breath()
    }
    const cut = tablet.queue.state.get()
    expect(cut).toMatchObject({ isCut: true, confirmed: { frames: [] }, objection: undefined })
    expect(cut.waiting).toHaveLength(4)
    expect(cut.onDevice?.frames.map(({ mark, isVoid }) => [mark, isVoid])).toEqual([
      [0, false],
      [1, true],
      [1, false],
    ])
    tablet.queue.act({ kind: 'back', mark: 7 })
    const { objection, waiting } = tablet.queue.state.get()
    expect(objection).toMatchObject({ code: 'mark-ahead' })
    expect(waiting).toHaveLength(4)
    tablet.queue.stop()
  })

  it('keeps what another device’s take-over turned away, until it is sent after all or let go', async () => {
    const bench = await atTheBench()
    const { api } = bench
    const takeId = await bench.start()
    const page: TakePage = JSON.parse(JSON.stringify(await api.takes.one({ takeId })))
    const tablet = new Tablet(bench, page, [])
    tablet.queue.act({ kind: 'frame' })
    await breath()
    await api.takes.hold({ takeId, holder: { key: 'desk', place: 'the desktop window' }, takeOver: true })
    tablet.queue.act({ kind: 'frame' })
    await breath()
    expect(tablet.queue.state.get()).toMatchObject({ isTurnedAway: true, refused: [] })
    tablet.reload()
    await breath()
    expect(tablet.queue.state.get().waiting).toHaveLength(1)
    expect((await api.takes.one({ takeId })).frames).toHaveLength(1)
    await api.takes.hold({ takeId, holder: theTablet, takeOver: true })
    tablet.queue.goOn()
    await breath()
    expect((await api.takes.one({ takeId })).frames).toHaveLength(2)
    expect(tablet.disk.size).toBe(0)
  })

  it('tells what came after the take had ended elsewhere, and keeps it until it was seen', async () => {
    const bench = await atTheBench()
    const { api } = bench
    const takeId = await bench.start()
    const page: TakePage = JSON.parse(JSON.stringify(await api.takes.one({ takeId })))
    const tablet = new Tablet(bench, page, [])
    await api.takes.act({
      takeId,
      holder: { key: 'desk', place: 'the desktop window' },
      acts: [{ key: 'end', agoMs: 0, act: { kind: 'end' } }],
    })
    tablet.queue.act({ kind: 'frame' })
    await breath()
    tablet.reload()
    await breath()
    const { refused } = tablet.queue.state.get()
    expect(refused).toMatchObject([
      { refusal: { sentence: 'Take 1 has ended. Start a new take of this spin.' } },
    ])
    await tablet.queue.forget(refused.map(({ key }) => key))
    expect(tablet.disk.size).toBe(0)
  })
})

describe('the clock of the device', () => {
  it('counts sleep, and does not run backwards when it is set', () => {
    let wall = 1_000_000
    let elapsed = 0
    const now = clockOf(
      () => wall,
      () => elapsed,
    )
    const pass = (wallMs: number, elapsedMs: number) => {
      wall += wallMs
      elapsed += elapsedMs
      return now()
    }
    expect(pass(1000, 1000)).toBe(1_001_000)
    // An hour's sleep, through which the second clock stood still.
    expect(pass(3_600_000, 0)).toBe(4_601_000)
    // Set back by ten minutes: goes on from where it was.
    expect(pass(-600_000, 500)).toBe(4_601_500)
    expect(pass(1000, 1000)).toBe(4_602_500)
  })
})

function isBusy({ state }: ActQueue): boolean {
  const { isLoaded, waiting } = state.get()
  return !isLoaded || waiting.length > 0
}

/** Where the code of a page that is gone would go on. */
function never(): Promise<never> {
  return new Promise(() => {})
}

/** As JSON carries it. */
function overTheWire<T>(value: T): T {
  return JSON.parse(JSON.stringify(value))
}

/** Lets everything that is on its way come to rest. */
function breath(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 5))
}
