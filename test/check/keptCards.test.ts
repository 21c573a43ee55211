import { describe, expect, it, vi } from 'vitest'
import { ticketKey } from '../../db/tickets.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { type AtTheBench, atTheBench, turnFrames } from '../takes/aSpin.ts'
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
