import { renameSync } from 'node:fs'
import { describe, expect, it, vi } from 'vitest'
import { takeToCheck } from '../../db/checkedTakes.ts'
import type { Id } from '../../db/ids.ts'
import { ticketKey } from '../../db/tickets.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { type AtTheBench, atTheBench, turnFrames } from '../takes/aSpin.ts'
import { follow } from './aCheckedBench.ts'
import { asJpeg, writeCard } from './frameFiles.ts'
import { renderTake, turnAngles } from './render.ts'
import { ticketPicture } from './ticketPicture.ts'

const frames = renderTake({
  kind: 'mug',
  anglesDeg: turnAngles({ framesPerTurn: turnFrames }),
}).frames
const shots = Promise.all(frames.map((frame) => asJpeg(frame)))

/** A bench with a kettle and a jug, both planned, and a card: the kettle by its ticket, then a turn that no ticket names. */
async function withACard() {
  const bench = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
  const { api, shootIds, stand, studio } = bench
  const { rigRevisionId, settingsId } = stand
  await api.rigs.plan({ shootIds: [...shootIds], rigRevisionId, settingsId })
  const turn = await shots
  const code = ticketText({ studioKey: ticketKey(studio.db), shootId: Number(shootIds[0]), product: null })
  const folder = aFrameFolder()
  const ticket = await ticketPicture(code, 960, 720)
  await writeCard(folder, [ticket, ...turn], { firstNumber: 1, at: '2026-03-02T08:00:00' })
  await writeCard(folder, turn, { firstNumber: 21, at: '2026-03-02T08:30:00' })
  return { ...bench, folder }
}

async function sorted(
  api: AtTheBench['api'],
  asked: Parameters<AtTheBench['api']['takesFound']['sorting']>[0],
) {
  return vi.waitFor(
    async () => {
      const sorting = await api.takesFound.sorting(asked)
      if (sorting?.state !== 'done') throw new Error(`still ${sorting?.state}`)
      return sorting
    },
    { timeout: 30_000, interval: 50 },
  )
}

describe('takes found on a card', () => {
  it('are written down once the person says so, and not before, and not twice', async () => {
    const { api, shootIds, folder, studio } = await withACard()
    await api.takesFound.start({ folders: [folder] })
    const { takes, spins } = await sorted(api, {})
    expect(takes).toMatchObject([
      { standing: 'whole', frames: turnFrames, firstFile: 'IMG_0002.JPG', kept: null },
      { standing: 'not named', frames: turnFrames, firstFile: 'IMG_0021.JPG', spin: null },
    ])
    expect(takes[0]?.spin).toMatchObject({ shootId: shootIds[0], by: 'ticket' })
    expect(takes[1]?.candidates[0]).toMatchObject({ shootId: shootIds[1], fits: true })
    expect(spins.map(({ shootId }) => shootId)).toContain(shootIds[1])
    const counted = () => studio.db.prepare('SELECT count(*) FROM take').pluck().get()
    expect(counted()).toBe(0)
    const [kettle = { key: '' }, jug = { key: '' }] = takes
    await expect(api.takesFound.keep({ keys: [kettle.key, jug.key] })).rejects.toMatchObject({
      cause: { code: 'spin-not-said', message: expect.stringMatching(/IMG_0021\.JPG/) },
    })
    expect(counted()).toBe(0)
    const decided = { [jug.key]: Number(shootIds[1]) }
    expect(await api.takesFound.keep({ decided, keys: [kettle.key, jug.key] })).toEqual({ takes: 2 })
    const { takes: after } = await sorted(api, { decided })
    expect(after.map(({ kept }) => kept?.number)).toEqual([1, 1])
    await expect(api.takesFound.keep({ decided, keys: [jug.key] })).rejects.toMatchObject({
      cause: { code: 'take-kept', message: expect.stringMatching(/Jug.*take 1/) },
    })
    const takeId = Number(studio.db.prepare('SELECT min(id) FROM take').pluck().get())
    const { take, frames: kept } = await api.takes.one({ takeId })
    expect(take).toMatchObject({
      countedBy: 'files',
      folder,
      framesShot: turnFrames,
      medianStepMs: 6000,
      startedAt: '2026-03-02T07:00:06.000Z',
    })
    expect(kept[0]).toMatchObject({ file: 'IMG_0002.JPG', mark: 0 })
    expect(studio.db.pragma('foreign_key_check')).toEqual([])
  })

  it('join over two folders where the numbers pass from 9999 to 0001, and the check reads both', async () => {
    const bench = await withACard()
    const { api, shootIds, studio } = bench
    follow(bench)
    const [first, next] = [aFrameFolder(), aFrameFolder()]
    const turn = await shots
    const parted = 5
    await writeCard(first, turn.slice(0, parted), {
      firstNumber: 9999 - parted + 1,
      at: '2026-03-02T08:00:00',
    })
    await writeCard(next, turn.slice(parted), { firstNumber: 1, at: '2026-03-02T08:00:30' })
    await api.takesFound.start({ folders: [next, first] })
    const { takes: apart } = await sorted(api, {})
    const [earlier = { key: '' }, later = { key: '' }] = apart
    expect(apart).toMatchObject([
      { folders: [first], frames: parted, goesOn: null },
      { folders: [next], frames: turnFrames - parted, goesOn: { key: earlier.key } },
    ])
    const joins = { [later.key]: earlier.key }
    const decided = { [earlier.key]: Number(shootIds[1]) }
    const { takes } = await sorted(api, { joins, decided })
    expect(takes).toMatchObject([
      { standing: 'whole', frames: turnFrames, folders: [first, next], joined: [later.key] },
    ])
    await api.takesFound.keep({ joins, decided, keys: [earlier.key] })
    // Sorted anew without a word, both parts are known to be written down, and nothing is offered any more.
    const { takes: after } = await sorted(api, {})
    expect(after.map(({ kept, goesOn }) => [kept?.number, goesOn])).toEqual([
      [1, null],
      [1, null],
    ])
    const takeId = Number(studio.db.prepare('SELECT max(id) FROM take').pluck().get()) as Id<'take'>
    expect(takeToCheck(studio.db, takeId)?.folders).toEqual([first, next])
    expect((await api.takeCheck.report({ takeId })).known).toEqual([first, next])
    // One card is in the drawer: the other is read, and it is waited for.
    renameSync(next, `${next}-away`)
    await api.takeCheck.start({ takeId })
    await vi.waitFor(
      async () => {
        const status = await api.takeCheck.status({ takeId })
        expect(status).toMatchObject({ state: 'gone', framesRead: parted, framesFound: turnFrames })
        expect(status.sentence).toContain(next)
      },
      { timeout: 15_000, interval: 100 },
    )
    renameSync(`${next}-away`, next)
    await vi.waitFor(
      async () => {
        const { report } = await api.takeCheck.report({ takeId })
        expect(report?.framesRead).toBe(turnFrames)
        expect(report?.frames.every(({ problem }) => problem === null)).toBe(true)
        expect(report?.frames.slice(parted - 1, parted + 1).map(({ file }) => file)).toEqual([
          'IMG_9999.JPG',
          'IMG_0001.JPG',
        ])
        expect(
          report?.findings.filter(({ key }) => key.startsWith('names') || key.startsWith('number')),
        ).toEqual([])
      },
      { timeout: 30_000, interval: 100 },
    )
    await api.takes.judge({ takeId, verdict: 'keep' })
    await vi.waitFor(
      async () => expect((await api.takeCheck.report({ takeId })).strip?.frames).toHaveLength(turnFrames),
      {
        timeout: 15_000,
        interval: 100,
      },
    )
  })

  it('follow a clock that is put right, and are refused in the future', async () => {
    const { api, folder } = await withACard()
    await api.takesFound.start({ folders: [folder] })
    const { takes } = await sorted(api, {})
    const keys = takes.slice(0, 1).map(({ key }) => key)
    await expect(api.takesFound.keep({ keys, clockAheadMs: -7_200_000 })).rejects.toMatchObject({
      cause: { code: 'take-in-future' },
    })
    await api.takesFound.keep({ keys, clockAheadMs: 3_600_000 })
    const { takes: after } = await sorted(api, { clockAheadMs: 3_600_000 })
    expect(after[0]).toMatchObject({ kept: { number: 1 } })
  })

  it('are refused where a folder is not there, none is named, or nothing was read', async () => {
    const { api } = await atTheBench()
    await expect(api.takesFound.start({ folders: ['/no/such/card'] })).rejects.toMatchObject({
      cause: { code: 'no-folder' },
    })
    await expect(api.takesFound.start({ folders: [] })).rejects.toThrow()
    await expect(api.takesFound.keep({ keys: ['x'] })).rejects.toMatchObject({
      cause: { code: 'cards-not-read' },
    })
    expect(await api.takesFound.sorting({})).toBeNull()
  })
})
