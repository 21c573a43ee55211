import { describe, expect, it } from 'vitest'
import { agoWords, holderWords } from '../../main/trade/benchHold.ts'
import { atTheBench, theTablet } from './aSpin.ts'

const desk = { key: 'desk', place: 'the desktop window' }
const frame = (key: string) => [{ key, agoMs: 0, act: { kind: 'frame' as const } }]

describe('a running take', () => {
  it('is in one hand at a time: the second sees who has it, and what it sends is refused', async () => {
    const { api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 1)
    pass(61_000)
    expect((await api.takes.one({ takeId })).hold).toMatchObject({
      holderKey: theTablet.key,
      personName: 'Mara Quist',
      place: 'the tablet',
    })
    const sentence =
      'Somebody else has this take: Mara Quist, at the tablet, since 09:01, last frame a minute ago. Take it over to go on with it here.'
    await expect(api.takes.hold({ takeId, holder: desk, takeOver: false })).rejects.toMatchObject({
      cause: { code: 'take-held', message: sentence },
    })
    const { answers } = await api.takes.act({ takeId, holder: desk, acts: frame('from-the-desk') })
    expect(answers).toMatchObject([{ number: null, refusal: { code: 'take-held', sentence } }])
    expect((await api.takes.one({ takeId })).frames).toHaveLength(1)
  })

  it('is taken over by an explicit act, which the log tells; the one before is turned away from then on', async () => {
    const { api, act, start, shoot, studio } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 2)
    await api.takes.hold({ takeId, holder: desk, takeOver: true })
    expect((await api.takes.running())[0]).toMatchObject({ place: 'the desktop window', goodFrames: 2 })
    expect(await act(takeId, { kind: 'frame' })).toMatchObject({ refusal: { code: 'take-held' } })
    const { answers } = await api.takes.act({ takeId, holder: desk, acts: frame('third') })
    expect(answers).toMatchObject([{ frame: 3, refusal: null }])
    expect(
      studio.db.prepare(`SELECT detail FROM event WHERE what = 'take taken over'`).pluck().all(),
    ).toEqual([JSON.stringify({ from: 'the tablet', to: 'the desktop window' })])
  })

  it('answers the old holder truly about what had arrived before', async () => {
    const { api, act, start } = await atTheBench()
    const takeId = await start()
    const before = await act(takeId, { kind: 'frame' }, { key: 'answer-lost' })
    await api.takes.hold({ takeId, holder: desk, takeOver: true })
    expect(await act(takeId, { kind: 'frame' }, { key: 'answer-lost' })).toEqual(before)
  })

  it('is rejected and begun again only by the one who has it, who has the next one too', async () => {
    const { api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 1)
    await expect(api.takes.again({ takeId, reason: 'bump', holder: desk })).rejects.toMatchObject({
      cause: { code: 'take-held' },
    })
    pass(1000)
    const { takeId: next } = await api.takes.again({ takeId, reason: 'bump', holder: theTablet })
    expect((await api.takes.one({ takeId: next })).hold).toMatchObject({ holderKey: theTablet.key })
    expect((await api.takes.one({ takeId })).hold).toBeNull()
  })

  it('tells the log of acts that were let go', async () => {
    const { api, start, studio } = await atTheBench()
    const takeId = await start()
    await api.takes.letGo({ takeId, place: 'the tablet', acts: 13, frames: 12 })
    expect(studio.db.prepare(`SELECT detail FROM event WHERE what LIKE '%let go'`).pluck().get()).toBe(
      JSON.stringify({ place: 'the tablet', acts: 13, frames: 12 }),
    )
  })
})

describe('who has a take', () => {
  it('is told with its day only where that is not today', () => {
    const hold = { person: 'Anna', place: 'the tablet', sinceClock: '10:12', sinceDay: null }
    expect(holderWords({ ...hold, lastFrameMs: 61_000 })).toBe(
      'Anna, at the tablet, since 10:12, last frame a minute ago',
    )
    expect(holderWords({ ...hold, place: null, sinceDay: '2026-03-01', lastFrameMs: null })).toBe(
      'Anna, since 10:12 on 2026-03-01, no frame yet',
    )
  })

  it('is told with how long ago in round words', () => {
    expect([0, 59_999, 60_000, 150_000, 3_600_000, 10_000_000, 200_000_000].map(agoWords)).toEqual([
      'just now',
      'just now',
      'a minute ago',
      '2\u00a0minutes ago',
      'an hour ago',
      '2\u00a0hours ago',
      '2\u00a0days ago',
    ])
  })
})
