import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pressFrame } from '../../db/takeActs.ts'
import { watchFolder } from '../../db/takeWatch.ts'
import { applyAct } from '../../main/trade/benchActs.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { actedTake, type TakePage } from '../../renderer/takes/turningState.ts'
import { type AtTheBench, atTheBench } from './aSpin.ts'
import { anAct } from './benchActs.ts'

/** A take's page as it comes over the wire. */
async function told({ api }: AtTheBench, takeId: number) {
  return JSON.parse(JSON.stringify(await api.takes.one({ takeId }))) as TakePage
}

/** The faults without their rows' numbers, which the rules know nothing of. */
async function acted(bench: AtTheBench, takeId: number) {
  const take = actedTake(await told(bench, takeId))
  return { ...take, faults: take.faults.map(({ kind, frame, note }) => ({ kind, frame, note })) }
}

describe('acts at the bench', () => {
  it('come out in the store as the rules have them, refusals, times and repeats among them', async () => {
    const bench = await atTheBench()
    const keyed = fc.record({ act: anAct, key: fc.nat(40), agoMs: fc.nat(5000) })
    await fc.assert(
      fc.asyncProperty(fc.array(keyed, { maxLength: 50 }), async (given) => {
        const takeId = await bench.start()
        const { take } = await told(bench, takeId)
        let model = await acted(bench, takeId)
        const answers = new Map<string, unknown>()
        for (const one of given) {
          bench.pass(1000)
          const key = `${takeId}-${one.key}`
          const answer = await bench.act(takeId, one.act, { key, agoMs: one.agoMs })
          if (answers.has(key)) {
            expect(answer).toEqual(answers.get(key))
            continue
          }
          answers.set(key, answer)
          const doneMs = Date.parse(bench.studio.writing.now) - one.agoMs - Date.parse(take.startedAt)
          try {
            model = applyAct(model, one.act, doneMs) as typeof model
            expect(answer.refusal).toBeNull()
          } catch (error) {
            if (!(error instanceof Refusal)) throw error
            expect(answer.refusal).toEqual({ code: error.code, sentence: error.message })
          }
        }
        expect(await acted(bench, takeId)).toEqual(model)
        await bench.act(takeId, { kind: 'end' })
        const ended = await told(bench, takeId)
        expect(ended.frames).toEqual(model.frames)
        expect(ended.take.framesShot).toBe(model.frames.length)
      }),
      { numRuns: 60 },
    )
  })

  it('shoot a void last frame again at its own mark, under the next number', async () => {
    const { act, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await act(takeId, { kind: 'void', frame: 3 })
    expect(await act(takeId, { kind: 'frame' })).toMatchObject({ frame: 4, mark: 2, refusal: null })
    expect(await act(takeId, { kind: 'restore', frame: 3 })).toMatchObject({
      refusal: { code: 'mark-shot-again' },
    })
  })

  it('fill a gap behind the pointer, and refuse a mark that has its frame', async () => {
    const { act, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 4)
    await act(takeId, { kind: 'void', frame: 2 })
    expect(await act(takeId, { kind: 'frame', mark: 1 })).toMatchObject({ frame: 5, mark: 1 })
    expect(await act(takeId, { kind: 'frame', mark: 1 })).toMatchObject({
      frame: null,
      refusal: { code: 'mark-not-missing' },
    })
  })

  it('go back to a mark by making every frame from there on void', async () => {
    const { act, api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 5)
    await act(takeId, { kind: 'back', mark: 2 })
    const { frames } = await api.takes.one({ takeId })
    expect(frames.map(({ isVoid }) => isVoid)).toEqual([false, false, true, true, true])
    expect(await act(takeId, { kind: 'frame' })).toMatchObject({ frame: 6, mark: 2 })
    expect(await act(takeId, { kind: 'back', mark: 3 })).toMatchObject({
      refusal: {
        code: 'mark-ahead',
        sentence: 'The take has come to mark 3. Go back to one from 1 to 3.',
      },
    })
  })

  it('end a pause, whose time is not part of the pace', async () => {
    const { act, api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await act(takeId, { kind: 'pause', reason: 'lunch' })
    pass(3_600_000)
    await shoot(takeId, 2)
    await act(takeId, { kind: 'end' })
    const { take, pauses } = await api.takes.one({ takeId })
    expect(take.medianStepMs).toBe(6000)
    expect(pauses).toMatchObject([{ reason: 'lunch', fromMs: 18_000, toMs: 3_624_000 }])
  })

  it('keep the pace of a take over which the computer slept', async () => {
    const { act, api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 4)
    pass(5 * 3_600_000)
    await shoot(takeId, 4)
    await act(takeId, { kind: 'end' })
    expect((await api.takes.one({ takeId })).take.medianStepMs).toBe(6000)
  })

  it('keep the times at which they were done when they arrive late', async () => {
    const { act, api, start, pass } = await atTheBench()
    const takeId = await start()
    pass(100_000)
    for (const agoMs of [90_000, 84_000, 79_000]) await act(takeId, { kind: 'frame' }, { agoMs })
    await act(takeId, { kind: 'pause', reason: null }, { agoMs: 70_000 })
    await act(takeId, { kind: 'end' }, { agoMs: 60_000 })
    const { take, frames, pauses } = await api.takes.one({ takeId })
    expect(frames.map(({ offsetMs }) => offsetMs)).toEqual([10_000, 16_000, 21_000])
    expect(pauses).toMatchObject([{ fromMs: 30_000, toMs: 40_000 }])
    expect(Date.parse(take.endedAt ?? '') - Date.parse(take.startedAt)).toBe(40_000)
  })

  it('keep their times also where they were long on their way', async () => {
    const { api, start, pass, studio } = await atTheBench()
    const takeId = await start()
    pass(6000)
    const sentMs = Date.parse(studio.writing.now)
    pass(5000)
    const holder = { key: 'k', place: 'the tablet' }
    await api.takes.act({
      takeId,
      holder,
      sentMs,
      acts: [{ key: 'a', agoMs: 500, act: { kind: 'frame' } }],
    })
    pass(1000)
    // A clock that is ahead of the studio's is no reason to put a frame into the future.
    await api.takes.act({
      takeId,
      holder,
      sentMs: Date.parse(studio.writing.now) + 60_000,
      acts: [{ key: 'b', agoMs: 500, act: { kind: 'frame' } }],
    })
    const { frames } = await api.takes.one({ takeId })
    expect(frames.map(({ offsetMs }) => offsetMs)).toEqual([5500, 11_500])
  })

  it('keep their order when the clock of the computer is set back', async () => {
    const { act, api, start, pass } = await atTheBench()
    const takeId = await start()
    for (const ms of [6000, 6000, -600_000, 6000]) {
      pass(ms)
      await act(takeId, { kind: 'frame' })
    }
    await act(takeId, { kind: 'end' })
    const { frames } = await api.takes.one({ takeId })
    expect(frames.map(({ offsetMs }) => offsetMs)).toEqual([6000, 12_000, 12_000, 12_000])
  })

  it('are refused once the take has ended, but those that were done are answered as before', async () => {
    const { act, start } = await atTheBench()
    const takeId = await start()
    const frame = await act(takeId, { kind: 'frame' }, { key: 'the-frame' })
    const end = await act(takeId, { kind: 'end' }, { key: 'the-end' })
    expect(await act(takeId, { kind: 'frame' }, { key: 'the-frame' })).toEqual(frame)
    expect(await act(takeId, { kind: 'end' }, { key: 'the-end' })).toEqual(end)
    expect(await act(takeId, { kind: 'frame' })).toMatchObject({
      number: null,
      refusal: { code: 'take-ended', sentence: 'Take 1 has ended. Start a new take of this spin.' },
    })
  })

  it('are forgotten a week after the take, so that their keys do not pile up', async () => {
    const { act, start, pass, studio } = await atTheBench()
    const first = await start()
    await act(first, { kind: 'frame' })
    await act(first, { kind: 'end' })
    const acts = () => studio.db.prepare('SELECT count(*) FROM take_act WHERE take_id = ?').pluck().get(first)
    pass(6 * 86_400_000)
    const second = await start()
    expect(acts()).toBe(2)
    await act(second, { kind: 'end' })
    pass(6 * 86_400_000)
    await start()
    expect(acts()).toBe(0)
  })

  it('are refused for a take of another studio', async () => {
    const { api, start } = await atTheBench()
    const takeId = await start()
    await expect(
      api.takes.act({
        takeId,
        startedAt: '2026-02-02T08:00:00.000Z',
        holder: { key: 'k', place: 'the tablet' },
        acts: [{ key: 'a', agoMs: 0, act: { kind: 'frame' } }],
      }),
    ).rejects.toMatchObject({ cause: { code: 'other-studio' } })
  })

  it('stand beside the frames that the studio counts itself, each counted once', async () => {
    const { act, api, start, pass, studio } = await atTheBench()
    const takeId = await start()
    await act(takeId, { kind: 'frame' })
    pass(6000)
    const file = { name: 'IMG_0002.jpg', folder: '/card' }
    watchFolder(studio.writing, takeId as never, '/card', [])
    expect(() =>
      pressFrame(studio.writing, {
        takeId: takeId as never,
        pressKey: 'k',
        file: { ...file, folder: '/another' },
      }),
    ).toThrow(/not counted by the files in \/another/)
    const counted = { takeId: takeId as never, pressKey: 'IMG_0002.jpg', agoMs: 1500, file }
    expect(pressFrame(studio.writing, counted)).toEqual({ frame: 2, mark: 1 })
    expect(pressFrame(studio.writing, counted)).toEqual({ frame: 2, mark: 1 })
    const { frames, acts } = await api.takes.one({ takeId })
    expect(frames).toMatchObject([{ offsetMs: 0 }, { offsetMs: 4500, file: 'IMG_0002.jpg' }])
    expect(acts).toBe(2)
  })
})
