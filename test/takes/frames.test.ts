import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { atTheBench } from './aSpin.ts'

type Act =
  | { readonly kind: 'press'; readonly key: number }
  | { readonly kind: 'void'; readonly frame: number }
  | { readonly kind: 'restore'; readonly frame: number }
  | { readonly kind: 'back'; readonly mark: number }
  | { readonly kind: 'pause' }

const acts = fc.array(
  fc.oneof(
    { weight: 6, arbitrary: fc.record({ kind: fc.constant('press' as const), key: fc.nat(30) }) },
    {
      weight: 2,
      arbitrary: fc.record({ kind: fc.constant('void' as const), frame: fc.integer({ min: 1, max: 20 }) }),
    },
    fc.record({ kind: fc.constant('restore' as const), frame: fc.integer({ min: 1, max: 20 }) }),
    fc.record({ kind: fc.constant('back' as const), mark: fc.nat(12) }),
    fc.record({ kind: fc.constant('pause' as const) }),
  ),
  { maxLength: 60 },
)

describe('frame presses', () => {
  it('end with exactly the pressed frames, in whatever order they are pressed, repeated and made void', async () => {
    const bench = await atTheBench()
    const { api } = bench
    await fc.assert(
      fc.asyncProperty(acts, async (given: readonly Act[]) => {
        const takeId = await bench.start()
        const keys: number[] = []
        for (const act of given) {
          bench.pass(1000)
          if (act.kind === 'press') {
            const { frame } = await api.takes.press({ takeId, pressKey: `key-number-${act.key}` })
            if (!keys.includes(act.key)) keys.push(act.key)
            expect(frame).toBe(keys.indexOf(act.key) + 1)
          } else await refusedOrDone(changeOf(bench, takeId, act))
        }
        const running = await api.takes.one({ takeId })
        expect(running.frames).toHaveLength(keys.length)
        const good = running.frames.filter(({ isVoid }) => !isVoid).map(({ mark }) => mark)
        expect(new Set(good).size).toBe(good.length)
        await api.takes.end({ takeId })
        const ended = await api.takes.one({ takeId })
        expect(ended.frames).toEqual(running.frames)
        expect(ended.take.framesShot).toBe(keys.length)
      }),
      { numRuns: 40 },
    )
  })

  it('shoot a void last frame again at its own mark, under the next number', async () => {
    const { api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await api.takes.voidFrame({ takeId, frame: 3 })
    expect(await api.takes.press({ takeId, pressKey: 'once-more' })).toMatchObject({
      frame: 4,
      mark: 2,
      nextMark: 3,
    })
    await expect(api.takes.restoreFrame({ takeId, frame: 3 })).rejects.toMatchObject({
      cause: { code: 'mark-shot-again' },
    })
  })

  it('fill a gap behind the pointer, and refuse a mark that has its frame', async () => {
    const { api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 4)
    await api.takes.voidFrame({ takeId, frame: 2 })
    expect(await api.takes.press({ takeId, pressKey: 'fill-the-gap', mark: 1 })).toMatchObject({
      frame: 5,
      mark: 1,
      nextMark: 4,
    })
    await expect(api.takes.press({ takeId, pressKey: 'one-too-many', mark: 1 })).rejects.toMatchObject({
      cause: { code: 'mark-not-missing' },
    })
  })

  it('go back to a mark by making every frame from there on void', async () => {
    const { api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 5)
    await api.takes.back({ takeId, mark: 2 })
    const { frames } = await api.takes.one({ takeId })
    expect(frames.map(({ isVoid }) => isVoid)).toEqual([false, false, true, true, true])
    expect(await api.takes.press({ takeId, pressKey: 'from-there' })).toMatchObject({ frame: 6, mark: 2 })
    await expect(api.takes.back({ takeId, mark: 3 })).rejects.toMatchObject({
      cause: { code: 'mark-ahead', message: 'The take has come to mark 3. Go back to one from 1 to 3.' },
    })
  })

  it('end a pause, whose time is not part of the pace', async () => {
    const { api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await api.takes.pause({ takeId, reason: 'lunch' })
    pass(3_600_000)
    await shoot(takeId, 2)
    await api.takes.end({ takeId })
    const { take, pauses } = await api.takes.one({ takeId })
    expect(take.medianStepMs).toBe(6000)
    expect(pauses).toMatchObject([{ reason: 'lunch', fromMs: 18_000, toMs: 3_624_000 }])
  })

  it('keep their order when the clock of the computer is set back', async () => {
    const { api, start, pass } = await atTheBench()
    const takeId = await start()
    for (const ms of [6000, 6000, -600_000, 6000]) {
      pass(ms)
      await api.takes.press({ takeId, pressKey: `clock-${ms}-${Math.random()}` })
    }
    await api.takes.end({ takeId })
    const { frames } = await api.takes.one({ takeId })
    expect(frames.map(({ offsetMs }) => offsetMs)).toEqual([6000, 12_000, 12_000, 12_000])
  })

  it('are refused once the take has ended', async () => {
    const { api, start } = await atTheBench()
    const takeId = await start()
    await api.takes.end({ takeId })
    await expect(api.takes.press({ takeId, pressKey: 'too-late-now' })).rejects.toMatchObject({
      cause: { code: 'take-ended' },
    })
  })
})

function changeOf(
  { api }: Awaited<ReturnType<typeof atTheBench>>,
  takeId: number,
  act: Exclude<Act, { kind: 'press' }>,
): Promise<unknown> {
  if (act.kind === 'void') return api.takes.voidFrame({ takeId, frame: act.frame })
  if (act.kind === 'restore') return api.takes.restoreFrame({ takeId, frame: act.frame })
  if (act.kind === 'back') return api.takes.back({ takeId, mark: act.mark })
  return api.takes.pause({ takeId })
}

/** A refusal is a fair answer to a random act; anything else is a bug. */
async function refusedOrDone(change: Promise<unknown>): Promise<void> {
  try {
    await change
  } catch (error) {
    expect(error).toMatchObject({ cause: { name: 'Refusal' } })
  }
}
