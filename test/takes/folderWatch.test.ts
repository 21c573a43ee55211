import fs from 'node:fs'
import path from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { describe, expect, it, vi } from 'vitest'
import { foldersOfTake } from '../../db/takeFolders.ts'
import { stopWatchingFolders, watchFolders } from '../../main/work/folderWatches.ts'
import { aFrameFolder, aPhotograph, atTheWatchedBench } from './aFolder.ts'

const put = (folder: string, name: string, text = 'a frame') => {
  fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true })
  fs.writeFileSync(path.join(folder, name), text)
}

async function filesOf({ api }: Awaited<ReturnType<typeof atTheWatchedBench>>, takeId: number) {
  return (await api.takes.one({ takeId })).frames.map(({ file }) => file)
}

/** Waits until the take's frames have these files. */
async function counts(
  bench: Awaited<ReturnType<typeof atTheWatchedBench>>,
  takeId: number,
  files: readonly string[],
) {
  await vi.waitFor(async () => expect(await filesOf(bench, takeId)).toEqual(files), {
    timeout: 8000,
    interval: 50,
  })
}

describe('a take counted by files arriving', () => {
  it('counts a burst in its order, pairs once, and nothing that lay there before', async () => {
    const bench = await atTheWatchedBench()
    put(bench.folder, 'IMG_9996.JPG')
    put(bench.folder, 'IMG_9997.JPG')
    const takeId = await bench.start()
    for (const name of ['IMG_9998', 'IMG_9999', 'IMG_0001']) {
      put(bench.folder, `${name}.CR2`)
      put(bench.folder, `${name}.JPG`)
    }
    put(bench.folder, '.IMG_0002.JPG')
    put(bench.folder, 'IMG_0002.JPG.part')
    put(bench.folder, 'Output/IMG_0003.JPG')
    await counts(bench, takeId, ['IMG_9998.JPG', 'IMG_9999.JPG', 'IMG_0001.JPG'])
    put(bench.folder, 'DCIM/101ABCDE/IMG_0002.JPG')
    await counts(bench, takeId, [
      'IMG_9998.JPG',
      'IMG_9999.JPG',
      'IMG_0001.JPG',
      'DCIM/101ABCDE/IMG_0002.JPG',
    ])
    const { take, frames } = await bench.api.takes.one({ takeId })
    expect(take).toMatchObject({ countedBy: 'folder', folder: bench.folder })
    expect(frames.map(({ mark }) => mark)).toEqual([0, 1, 2, 3])
    expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({
      state: 'watching',
      counted: 4,
      last: { file: 'IMG_0002.JPG' },
    })
  })

  it('waits for a slow write and takes a file that is renamed into its place', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    const slow = path.join(bench.folder, 'IMG_0001.JPG')
    put(bench.folder, 'tether.tmp', 'whole')
    fs.writeFileSync(slow, 'a')
    for (let part = 0; part < 8; part += 1) {
      await pause(100)
      expect(await filesOf(bench, takeId)).toEqual([])
      fs.appendFileSync(slow, 'more')
    }
    await counts(bench, takeId, ['IMG_0001.JPG'])
    fs.renameSync(path.join(bench.folder, 'tether.tmp'), path.join(bench.folder, 'IMG_0002.JPG'))
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0002.JPG'])
  })

  it('keeps a frame whose file is deleted, says so, and counts its name again once the frame is void', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    put(bench.folder, 'IMG_0001.JPG')
    put(bench.folder, 'IMG_0002.JPG')
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0002.JPG'])
    fs.rmSync(path.join(bench.folder, 'IMG_0002.JPG'))
    await vi.waitFor(
      async () =>
        expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({
          counted: 2,
          deleted: 'IMG_0002.JPG',
        }),
      { timeout: 4000 },
    )
    await bench.act(takeId, { kind: 'void', frame: 2 })
    put(bench.folder, 'IMG_0002.JPG', 'shot once more')
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0002.JPG', 'IMG_0002.JPG'])
    const { frames } = await bench.api.takes.one({ takeId })
    expect(frames.map(({ mark, isVoid }) => [mark, isVoid])).toEqual([
      [0, false],
      [1, true],
      [1, false],
    ])
  })

  it('says that a name came again, and counts it once its first frame is made void', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    put(bench.folder, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_0001.JPG'])
    const status = () => bench.api.frameFolders.status({ takeId })
    fs.rmSync(path.join(bench.folder, 'IMG_0001.JPG'))
    await vi.waitFor(async () => expect(await status()).toMatchObject({ deleted: 'IMG_0001.JPG' }), {
      timeout: 4000,
    })
    put(bench.folder, 'IMG_0001.JPG', 'another')
    await vi.waitFor(
      async () => expect(await status()).toMatchObject({ deleted: null, again: 'IMG_0001.JPG', counted: 1 }),
      { timeout: 4000 },
    )
    await bench.act(takeId, { kind: 'void', frame: 1 })
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0001.JPG'])
    expect(await status()).toMatchObject({ again: null })
  })

  it('says that the folder has gone, and goes on when it is back with what came meanwhile', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    put(bench.folder, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_0001.JPG'])
    const out = `${bench.folder}-out`
    fs.renameSync(bench.folder, out)
    await vi.waitFor(
      async () => expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({ state: 'gone' }),
      { timeout: 4000 },
    )
    const status = await bench.api.frameFolders.status({ takeId })
    expect(status?.sentence).toMatch(/is not there any more\. Put the card or drive back/)
    put(out, 'IMG_0002.JPG')
    fs.renameSync(out, bench.folder)
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0002.JPG'])
    expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({
      state: 'watching',
      sentence: null,
    })
  })

  it('counts what came while the program was closed, at the files’ own times', async () => {
    const bench = await atTheWatchedBench()
    const { house, db } = bench.studio
    const takeId = await bench.start()
    put(bench.folder, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_0001.JPG'])
    stopWatchingFolders(db)
    for (const [name, at] of [
      ['IMG_0002.JPG', '2026-03-02T08:01:30.000Z'],
      ['IMG_0003.JPG', '2026-03-02T08:01:36.500Z'],
    ] as const) {
      put(bench.folder, name)
      fs.utimesSync(path.join(bench.folder, name), new Date(at), new Date(at))
    }
    bench.pass(600_000)
    if (house.studio) watchFolders(house.studio, () => house.changed('frameFolders.counted'))
    await counts(bench, takeId, ['IMG_0001.JPG', 'IMG_0002.JPG', 'IMG_0003.JPG'])
    const { frames } = await bench.api.takes.one({ takeId })
    // The take began at 08:01.
    expect(frames.map(({ offsetMs }) => offsetMs)).toEqual([0, 30_000, 36_500])
  })

  it('stops at the end of the take, changes nothing in the folder, and goes on with the next take', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    put(bench.folder, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_0001.JPG'])
    await bench.act(takeId, { kind: 'end' })
    expect(await bench.api.frameFolders.status({ takeId })).toBeNull()
    put(bench.folder, 'IMG_0002.JPG')
    const { takeId: next } = await bench.api.takes.again({ takeId, reason: 'bump' })
    put(bench.folder, 'IMG_0003.JPG')
    await counts(bench, next, ['IMG_0003.JPG'])
    expect(await filesOf(bench, takeId)).toEqual(['IMG_0001.JPG'])
    expect(fs.readdirSync(bench.folder).sort()).toEqual(['IMG_0001.JPG', 'IMG_0002.JPG', 'IMG_0003.JPG'])
    expect(fs.readFileSync(path.join(bench.folder, 'IMG_0001.JPG'), 'utf8')).toBe('a frame')
  })

  it('can be counted by the key from there on, or by another folder', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    await bench.api.frameFolders.stop({ takeId })
    put(bench.folder, 'IMG_0001.JPG')
    expect(await bench.api.frameFolders.status({ takeId })).toBeNull()
    await bench.act(takeId, { kind: 'frame' })
    await bench.api.frameFolders.watch({ takeId, folder: bench.folder })
    put(bench.folder, 'IMG_0002.JPG')
    await counts(bench, takeId, [null, 'IMG_0002.JPG'] as string[])
  })

  it('goes on in the camera’s next folder: the frames of each lie in their own, and a name counts in both', async () => {
    const bench = await atTheWatchedBench()
    const [first, next] = [path.join(bench.folder, '100ABCDE'), path.join(bench.folder, '101ABCDE')]
    for (const folder of [first, next]) fs.mkdirSync(folder)
    const takeId = await bench.start(first)
    put(first, 'IMG_0001.JPG')
    put(first, 'IMG_9999.JPG')
    await counts(bench, takeId, ['IMG_9999.JPG', 'IMG_0001.JPG'])
    // A slip: nothing was counted there, so it is none of the take's folders.
    await bench.api.frameFolders.watch({ takeId, folder: bench.folder })
    put(next, 'IMG_0000.JPG')
    await bench.api.frameFolders.watch({ takeId, folder: next })
    put(next, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_9999.JPG', 'IMG_0001.JPG', 'IMG_0001.JPG'])
    expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({ folder: next, counted: 3 })
    expect((await bench.api.takes.one({ takeId })).take.folder).toBe(next)
    // A name counts once in its folder, and once more where its frame is void.
    fs.rmSync(path.join(next, 'IMG_0001.JPG'))
    await bench.act(takeId, { kind: 'void', frame: 3 })
    await vi.waitFor(
      async () =>
        expect(await bench.api.frameFolders.status({ takeId })).toMatchObject({ deleted: 'IMG_0001.JPG' }),
      { timeout: 4000 },
    )
    put(next, 'IMG_0001.JPG', 'shot again')
    await counts(bench, takeId, ['IMG_9999.JPG', 'IMG_0001.JPG', 'IMG_0001.JPG', 'IMG_0001.JPG'])
    // Back in the first one, which then is no new one.
    await bench.api.frameFolders.watch({ takeId, folder: first })
    put(first, 'IMG_0002.JPG')
    await expect.poll(async () => (await filesOf(bench, takeId)).length, { timeout: 8000 }).toBe(5)
    await bench.act(takeId, { kind: 'end' })
    expect(foldersOfTake(bench.studio.db, takeId as never)).toEqual([first, next])
    const { frames } = await bench.api.takes.one({ takeId })
    expect(frames.map(({ folder = 0 }) => folder)).toEqual([0, 0, 1, 1, 0])
  })

  it('starts over in the folder that it went on in, and keeps where its files lie once the key counts', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    const next = aFrameFolder()
    put(bench.folder, 'IMG_9999.JPG')
    await counts(bench, takeId, ['IMG_9999.JPG'])
    await bench.api.frameFolders.watch({ takeId, folder: next })
    put(next, 'IMG_0001.JPG')
    await counts(bench, takeId, ['IMG_9999.JPG', 'IMG_0001.JPG'])
    await bench.api.frameFolders.stop({ takeId })
    expect(foldersOfTake(bench.studio.db, takeId as never)).toEqual([bench.folder, next])
    await bench.api.frameFolders.watch({ takeId, folder: next })
    const { takeId: again } = await bench.api.takes.again({ takeId, reason: 'bump' })
    put(next, 'IMG_0002.JPG')
    await counts(bench, again, ['IMG_0002.JPG'])
    expect(foldersOfTake(bench.studio.db, again as never)).toEqual([next])
  })

  it('is refused where the folder is not there or is no whole path, and no take is started', async () => {
    const { api, shootIds, stand, folder } = await atTheWatchedBench()
    const start = (named: string) =>
      api.takes.start({ shootId: Number(shootIds[0]), ...stand, folder: named })
    for (const named of [path.join(folder, 'gone'), 'frames', path.join(import.meta.dirname, 'aFolder.ts')]) {
      await expect(start(named)).rejects.toMatchObject({ cause: { code: 'no-folder', field: 'folder' } })
    }
    expect(await api.takes.running()).toEqual([])
  })

  it('remembers the folder for the bench', async () => {
    const bench = await atTheWatchedBench()
    const { benchId } = bench.stand
    expect(await bench.api.frameFolders.remembered({ benchId })).toEqual({ folder: null })
    await bench.start()
    expect(await bench.api.frameFolders.remembered({ benchId })).toEqual({ folder: bench.folder })
  })

  it('keeps the first frame as the picture of the take', async () => {
    const bench = await atTheWatchedBench()
    const takeId = await bench.start()
    fs.writeFileSync(path.join(bench.folder, 'IMG_0001.JPG'), await aPhotograph())
    const picture = () =>
      bench.studio.db
        .prepare('SELECT name FROM take_picture JOIN attachment a ON a.id = attachment_id WHERE take_id = ?')
        .pluck()
        .get(takeId)
    await vi.waitFor(() => expect(picture()).toBe('IMG_0001.JPG'), { timeout: 8000 })
  })
})
