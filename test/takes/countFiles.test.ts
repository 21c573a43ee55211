import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, it, vi } from 'vitest'
import { aFrameFolder, aPhotograph } from './aFolder.ts'
import { atTheBench, turnFrames } from './aSpin.ts'

type Api = Awaited<ReturnType<typeof atTheBench>>['api']

async function readAll(api: Api, folder: string) {
  await api.frameFolders.read({ folder })
  return vi.waitFor(
    async () => {
      const reading = await api.frameFolders.reading()
      if (reading?.state !== 'done') throw new Error(`still ${reading?.state}`)
      return reading.found
    },
    { timeout: 15_000, interval: 20 },
  )
}

/** Frames 6 s apart from 08:30 local on, as a camera writes them; 7:30 in UTC. */
async function aTurnOnDisk(folder: string, frames: number, offset?: string) {
  for (let k = 0; k < frames; k += 1) {
    const seconds = k * 6
    const at = `2026:03:02 08:3${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
    const photograph = await aPhotograph({ at, subSeconds: '25', ...(offset ? { offset } : {}) })
    fs.writeFileSync(
      path.join(folder, `IMG_${String(((9997 + k - 1) % 9999) + 1).padStart(4, '0')}.JPG`),
      photograph,
    )
  }
}

describe('a take counted by its files', () => {
  it('has each frame’s own time and file, its pace and its pauses', async () => {
    const { api, shootIds, stand, studio } = await atTheBench()
    const folder = aFrameFolder()
    await aTurnOnDisk(folder, turnFrames + 2)
    fs.writeFileSync(path.join(folder, 'IMG_9997.CR2'), 'a raw file beside its picture')
    const late = await aPhotograph({ at: '2026:03:02 08:50:00' })
    fs.writeFileSync(path.join(folder, 'IMG_0008.JPG'), late)
    const found = await readAll(api, folder)
    expect(found).toHaveLength(turnFrames + 3)
    expect(found[0]).toMatchObject({ file: 'IMG_9997.JPG', files: 2, clock: 'camera, local' })
    const files = { folder, first: 'img_9997', last: 'img_0008' }
    const { takeId } = await api.takes.countFiles({ shootId: Number(shootIds[0]), ...stand, files })
    const { take, frames, pauses } = await api.takes.one({ takeId })
    expect(take).toMatchObject({
      countedBy: 'files',
      folder,
      startedAt: '2026-03-02T07:30:00.250Z',
      endedAt: '2026-03-02T07:50:00.000Z',
      framesShot: turnFrames + 3,
      medianStepMs: 6000,
    })
    expect(frames.slice(0, 4)).toMatchObject([
      { file: 'IMG_9997.JPG', offsetMs: 0, mark: 0 },
      { file: 'IMG_9998.JPG', offsetMs: 6000, mark: 1 },
      { file: 'IMG_9999.JPG', offsetMs: 12_000, mark: 2 },
      { file: 'IMG_0001.JPG', offsetMs: 18_000, mark: 3 },
    ])
    expect(pauses).toMatchObject([{ fromMs: 54_000, toMs: 1_199_750 }])
    await api.takes.judge({ takeId, verdict: 'keep' })
    expect(studio.db.pragma('foreign_key_check')).toEqual([])
  })

  it('says what lacks where a missing number is a lost frame', async () => {
    const { api, shootIds, stand } = await atTheBench()
    const folder = aFrameFolder()
    await aTurnOnDisk(folder, turnFrames)
    fs.rmSync(path.join(folder, 'IMG_9999.JPG'))
    await readAll(api, folder)
    const files = { folder, first: 'img_9997', last: 'img_0005', gapsAreMarks: true }
    const { takeId } = await api.takes.countFiles({ shootId: Number(shootIds[0]), ...stand, files })
    expect((await api.takes.one({ takeId })).frames.map(({ mark }) => mark)).toEqual([0, 1, 3, 4, 5, 6, 7])
    await expect(api.takes.judge({ takeId, verdict: 'keep' })).rejects.toMatchObject({
      cause: { code: 'frames-missing', message: expect.stringMatching(/lacks 1 of 8 frames/) },
    })
  })

  it('follows the camera’s own zone, a clock put right, and the file’s time where it holds none', async () => {
    const { api, shootIds, stand } = await atTheBench()
    const folder = aFrameFolder()
    await aTurnOnDisk(folder, 2, '+02:00')
    const plain = path.join(folder, 'IMG_0003.JPG')
    fs.writeFileSync(plain, await aPhotograph())
    fs.utimesSync(plain, new Date('2026-03-02T06:31:00Z'), new Date('2026-03-02T06:31:00Z'))
    const found = await readAll(api, folder)
    expect(found.map(({ clock, atMs }) => [clock, new Date(atMs).toISOString()])).toEqual([
      ['camera', '2026-03-02T06:30:00.250Z'],
      ['camera', '2026-03-02T06:30:06.250Z'],
      ['file', '2026-03-02T06:31:00.000Z'],
    ])
    const files = { folder, first: 'img_9997', last: 'img_9998', clockAheadMs: 3_720_000 }
    const { takeId } = await api.takes.countFiles({ shootId: Number(shootIds[0]), ...stand, files })
    expect((await api.takes.one({ takeId })).take.startedAt).toBe('2026-03-02T05:28:00.250Z')
  })

  it('is refused where the files were not read, are in the wrong order, or lie in the future', async () => {
    const { api, shootIds, stand } = await atTheBench()
    const folder = aFrameFolder()
    await aTurnOnDisk(folder, 3)
    const count = (files: Partial<Parameters<Api['takes']['countFiles']>[0]['files']>) =>
      api.takes.countFiles({
        shootId: Number(shootIds[0]),
        ...stand,
        files: { folder, first: 'img_9997', last: 'img_9999', ...files },
      })
    await expect(count({})).rejects.toMatchObject({ cause: { code: 'folder-not-read' } })
    await readAll(api, folder)
    await expect(count({ first: 'img_9999', last: 'img_9997' })).rejects.toMatchObject({
      cause: { code: 'take-ends-first' },
    })
    await expect(count({ clockAheadMs: -3_600_000 })).rejects.toMatchObject({
      cause: { code: 'take-in-future', field: 'clockAhead' },
    })
    await expect(api.frameFolders.read({ folder: path.join(folder, 'none') })).rejects.toMatchObject({
      cause: { code: 'no-folder' },
    })
  })

  it('reads half-written, empty and foreign files without stopping', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    const whole = await aPhotograph({ at: '2026:03:02 08:30:00' })
    fs.writeFileSync(path.join(folder, 'IMG_0001.JPG'), whole.subarray(0, 90))
    fs.writeFileSync(path.join(folder, 'IMG_0002.JPG'), '')
    fs.writeFileSync(path.join(folder, 'IMG_0003.CR2'), 'no picture at all')
    fs.writeFileSync(path.join(folder, 'IMG_0004.JPG'), whole)
    const found = await readAll(api, folder)
    expect(found.map(({ file, clock }) => [file, clock]).sort()).toEqual([
      ['IMG_0001.JPG', 'file'],
      ['IMG_0002.JPG', 'file'],
      ['IMG_0003.CR2', 'file'],
      ['IMG_0004.JPG', 'camera, local'],
    ])
  })

  it('reads 500 files without keeping the studio from answering, and can be stopped', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    const photograph = await aPhotograph({ at: '2026:03:02 08:30:00' })
    for (let k = 1; k <= 500; k += 1) {
      fs.writeFileSync(path.join(folder, `IMG_${String(k).padStart(4, '0')}.JPG`), photograph)
    }
    const longest = longestStretchMs()
    expect(await readAll(api, folder)).toHaveLength(500)
    expect(longest()).toBeLessThan(50)
    await api.frameFolders.read({ folder })
    await api.frameFolders.stopReading()
    expect(await api.frameFolders.reading()).toMatchObject({ state: 'stopped' })
  })
})

/** The longest time this thread worked without answering anything else: its own time, whatever else the machine does. */
function longestStretchMs(): () => number {
  let before = process.threadCpuUsage()
  let longest = 0
  const timer = setInterval(() => {
    const { user, system } = process.threadCpuUsage(before)
    longest = Math.max(longest, (user + system) / 1000)
    before = process.threadCpuUsage()
  }, 1)
  return () => {
    clearInterval(timer)
    return longest
  }
}
