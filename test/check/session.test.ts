import fs from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { takesToFollow } from '../../db/takeChecking.ts'
import { framesOfKeptCheck } from '../../db/takeChecks.ts'
import { framePicture, stopChecks } from '../../main/work/takeChecks.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { aCheckedBench, type CheckedBench, writeFrames } from './aCheckedBench.ts'
import { renderTake, turnAngles } from './render.ts'

const patient = { timeout: 15_000, interval: 100 }

/** What a camera would write, at the smallest size that the check is right at. */
const turns = new Map<number, ReturnType<typeof renderTake>>()
function aTurn(frames: number) {
  const drawn = turns.get(frames) ?? renderTake({ anglesDeg: turnAngles({ framesPerTurn: frames }) })
  turns.set(frames, drawn)
  return drawn
}

/** Waits until so many frames of the take were read, and its report rests on them. */
async function reads(bench: CheckedBench, takeId: number, frames: number) {
  await expect.poll(async () => (await bench.report(takeId)).report?.framesRead, patient).toBe(frames)
}

describe('the check of a take that is counted by its files', () => {
  it('has its first figures with the first frames, and goes on as they arrive', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    expect(await bench.status(takeId)).toMatchObject({ framesRead: 0, framesFound: 0 })
    let changes = 0
    bench.studio.house.listen(({ path: change }) => {
      if (change === 'takeCheck.read') changes += 1
    })
    await writeFrames(bench.folder, frames.slice(0, 4))
    await expect.poll(async () => (await bench.api.takes.one({ takeId })).frames.length, patient).toBe(4)
    // How soon the first report stands is measured in the bench: here other tests run beside this one.
    await reads(bench, takeId, 4)
    expect(changes).toBeGreaterThan(0)
    await writeFrames(bench.folder, frames.slice(4), 5)
    await reads(bench, takeId, 24)
    const { report, folders } = await bench.report(takeId)
    expect(report).toMatchObject({ framesOfTake: 24 })
    expect(report?.frames.map(({ frame, file }) => [frame, file])).toEqual(
      frames.map((_, k) => [k + 1, `IMG_${String(k + 1).padStart(4, '0')}.JPG`]),
    )
    expect(folders).toEqual([bench.folder])
    expect(await bench.status(takeId)).toMatchObject({
      state: 'watching',
      framesFound: 24,
      hasPictures: true,
    })
    await bench.act(takeId, { kind: 'end' })
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    expect(fs.readdirSync(bench.folder)).toHaveLength(24)
  })

  it('leaves void frames out and keeps the numbers of the others', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames.slice(0, 6))
    await reads(bench, takeId, 6)
    await bench.act(takeId, { kind: 'void', frame: 6 })
    await reads(bench, takeId, 5)
    // Mark 6 again: it is the take's frame 7.
    await writeFrames(bench.folder, frames.slice(5, 9), 7)
    await reads(bench, takeId, 9)
    const { report } = await bench.report(takeId)
    expect(report?.frames.map(({ frame }) => frame)).toEqual([1, 2, 3, 4, 5, 7, 8, 9, 10])
  })

  it('waits for a folder that went away, says so, and reads on once it is back', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames.slice(0, 6))
    await reads(bench, takeId, 6)
    fs.renameSync(bench.folder, `${bench.folder}-away`)
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('gone')
    expect((await bench.status(takeId)).sentence).toMatch(/not there any more/)
    expect((await bench.report(takeId)).report?.framesRead).toBe(6)
    fs.renameSync(`${bench.folder}-away`, bench.folder)
    await writeFrames(bench.folder, frames.slice(6, 9), 7)
    await reads(bench, takeId, 9)
    expect(await bench.status(takeId)).toMatchObject({ state: 'watching', sentence: null })
  })

  it('stops in the middle, keeps what it found, and is begun again by hand alone', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames.slice(0, 6))
    await reads(bench, takeId, 6)
    await bench.api.takeCheck.stop({ takeId })
    await writeFrames(bench.folder, frames.slice(6, 9), 7)
    await expect.poll(async () => (await bench.api.takes.one({ takeId })).frames.length, patient).toBe(9)
    expect(await bench.status(takeId)).toMatchObject({ state: 'stopped', hasPictures: false })
    expect((await bench.report(takeId)).report?.framesRead).toBe(6)
    // Two windows press at the same moment: it is one check.
    await Promise.all([bench.api.takeCheck.start({ takeId }), bench.api.takeCheck.start({ takeId })])
    await reads(bench, takeId, 9)
    await bench.api.takeCheck.start({ takeId })
    expect(await bench.status(takeId)).toMatchObject({ framesRead: 9, hasPictures: true })
  })

  it('names a frame whose file is no picture, and takes it once it has been put right', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames.slice(0, 3))
    const whole = fs.readFileSync(path.join(bench.folder, 'IMG_0003.JPG'))
    fs.writeFileSync(path.join(bench.folder, 'IMG_0004.JPG'), whole.subarray(0, whole.length / 2))
    await reads(bench, takeId, 4)
    const { report } = await bench.report(takeId)
    expect(report?.frames[3]?.problem).toMatch(/IMG_0004\.JPG/)
    expect(report?.findings.find(({ frames: [frame] }) => frame === 4)?.sentence).toMatch(/IMG_0004\.JPG/)
    fs.writeFileSync(path.join(bench.folder, 'IMG_0004.JPG'), whole)
    await expect.poll(async () => (await bench.report(takeId)).report?.frames[3]?.problem, patient).toBeNull()
  })

  it('takes a frame whose file had its whole length before it was filled', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames.slice(0, 3))
    const whole = fs.readFileSync(path.join(bench.folder, 'IMG_0003.JPG'))
    const filled = Buffer.concat([whole.subarray(0, whole.length / 2)], whole.length)
    fs.writeFileSync(path.join(bench.folder, 'IMG_0004.JPG'), filled)
    await reads(bench, takeId, 4)
    const problem = async () => (await bench.report(takeId)).report?.frames[3]?.problem
    expect(await problem()).toMatch(/cut short/)
    // Past the round in which every spoilt file is read once more.
    await new Promise((passed) => setTimeout(passed, 2500))
    expect(await problem()).toMatch(/cut short/)
    fs.writeFileSync(path.join(bench.folder, 'IMG_0004.JPG'), whole)
    await expect.poll(problem, patient).toBeNull()
  })
})

describe('the check of a take that goes on in another folder', () => {
  /** A camera that begins a new folder after 9999, in the middle of a take: the same names as long ago in the first. */
  async function aTakeOverTwo() {
    const bench = await aCheckedBench(12)
    const { frames } = aTurn(12)
    const [first, next] = [path.join(bench.folder, '100ABCDE'), path.join(bench.folder, '101ABCDE')]
    for (const folder of [first, next]) fs.mkdirSync(folder)
    // Frames of an older take, of the names that the counter will come to again.
    await writeFrames(first, aTurn(24).frames.slice(12, 20))
    const takeId = await bench.startByFolder(first)
    await writeFrames(first, frames.slice(0, 5), 9995)
    await reads(bench, takeId, 5)
    return { bench, frames, first, next, takeId }
  }
  const filesIn = async (bench: CheckedBench, takeId: number) =>
    (await bench.report(takeId)).report?.frames.map(({ file }) => file)
  const namesFrom = (from: number, count: number) =>
    Array.from({ length: count }, (_, k) => `IMG_${String(from + k).padStart(4, '0')}.JPG`)

  it('takes it along, looks for each frame in its own, and lets the first card be taken out', async () => {
    const { bench, frames, first, next, takeId } = await aTakeOverTwo()
    await bench.api.frameFolders.watch({ takeId, folder: next })
    // The camera has its card changed: what was read of it stays read.
    fs.renameSync(first, `${first}-away`)
    await writeFrames(next, frames.slice(5), 1)
    await reads(bench, takeId, 12)
    expect(await bench.status(takeId)).toMatchObject({
      state: 'watching',
      sentence: null,
      folders: [first, next],
    })
    const whole = [...namesFrom(9995, 5), ...namesFrom(1, 7)]
    expect(await filesIn(bench, takeId)).toEqual(whole)
    const { report, folders } = await bench.report(takeId)
    expect(folders).toEqual([first, next])
    expect(report?.findings.filter(({ key }) => /^(?:names|number|same)/u.test(key))).toEqual([])
    await bench.act(takeId, { kind: 'end' })
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    await expect.poll(async () => (await bench.report(takeId)).strip?.frames.length, patient).toBe(12)
    const [one, six] = await Promise.all(
      [1, 6].map((frame) => framePicture(bench.studio.db, takeId as Id<'take'>, frame, 'small')),
    )
    expect(one?.tag).toBeDefined()
    expect(six?.tag).not.toBe(one?.tag)

    // Read again from the start, it knows both, and says what lies on the card that is out.
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    await bench.api.takeCheck.stop({ takeId })
    expect((await bench.report(takeId)).known).toEqual([first, next])
    await bench.api.takeCheck.start({ takeId })
    await expect.poll(async () => (await bench.status(takeId)).framesRead, patient).toBe(7)
    expect(await bench.status(takeId)).toMatchObject({ state: 'gone', framesFound: 12 })
    expect((await bench.status(takeId)).sentence).toContain(`${first} is not there`)
    expect((await bench.status(takeId)).sentence).toMatch(/5\sframes of this take lie there/)
    fs.renameSync(`${first}-away`, first)
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    expect(await filesIn(bench, takeId)).toEqual(whole)
  })

  it('never takes an older frame of the first folder for one of the second, whichever is named', async () => {
    const { bench, frames, first, next, takeId } = await aTakeOverTwo()
    await bench.api.frameFolders.watch({ takeId, folder: next })
    await writeFrames(next, frames.slice(5), 1)
    await reads(bench, takeId, 12)
    await bench.act(takeId, { kind: 'end' })
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    await bench.api.takeCheck.stop({ takeId })
    const copy = aFrameFolder()
    fs.cpSync(first, copy, { recursive: true })
    fs.renameSync(next, `${next}-away`)
    await bench.api.takeCheck.start({ takeId, folders: [copy] })
    await expect.poll(async () => (await bench.status(takeId)).framesRead, patient).toBe(5)
    await expect.poll(async () => (await bench.status(takeId)).sentence, patient).toContain(next)
    expect(await bench.status(takeId)).toMatchObject({
      state: 'gone',
      framesFound: 12,
      folders: [copy, next],
    })
    expect((await bench.status(takeId)).sentence).toMatch(/7\sframes of this take lie there/)
    expect((await bench.report(takeId)).report?.findings.filter(({ key }) => key.startsWith('same'))).toEqual(
      [],
    )
    // The second card was copied too, and is named beside the first.
    const both = aFrameFolder()
    for (const folder of [first, `${next}-away`]) {
      for (const name of fs.readdirSync(folder)) {
        if (folder !== first || name.startsWith('IMG_99'))
          fs.cpSync(path.join(folder, name), path.join(both, name))
      }
    }
    await bench.api.takeCheck.start({ takeId, folders: [both, both] })
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    expect(await bench.status(takeId)).toMatchObject({ framesRead: 12, sentence: null })
  })
})

describe('the check of a take whose files the person points at', () => {
  /** A take counted by the key, with its frames in a folder beside strangers from another time. */
  async function aPressedTake(framesShot = 10) {
    const bench = await aCheckedBench(framesShot)
    const { frames } = aTurn(framesShot)
    const takeId = await bench.start()
    await bench.shoot(takeId, framesShot)
    await bench.act(takeId, { kind: 'end' })
    const { take } = await bench.api.takes.one({ takeId })
    return { bench, frames, takeId, at: new Date(Date.parse(take.startedAt) + 30_000) }
  }

  it('takes the files that were written while it ran, by their order', async () => {
    const { bench, frames, takeId, at } = await aPressedTake()
    await expect(bench.api.takeCheck.start({ takeId })).rejects.toThrow(/Choose their folder/)
    await writeFrames(bench.folder, frames.slice(0, 3), 90, new Date(at.getTime() - 3_600_000))
    await writeFrames(bench.folder, frames, 101, at)
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder] })
    await reads(bench, takeId, 10)
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    const { report } = await bench.report(takeId)
    expect(report?.frames[0]).toMatchObject({ frame: 1, file: 'IMG_0101.JPG' })
    expect(fs.readdirSync(bench.folder)).toHaveLength(13)
  })

  it('goes on in the folder by itself when the program is begun anew, unless a person had stopped it', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const { db, house } = bench.studio
    const takeId = await bench.start()
    await bench.shoot(takeId, 10)
    const { take } = await bench.api.takes.one({ takeId })
    const at = new Date(Date.parse(take.startedAt) + 30_000)
    await writeFrames(bench.folder, frames.slice(0, 6), 1, at)
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder] })
    await reads(bench, takeId, 6)
    stopChecks(db)
    expect(await bench.status(takeId)).toMatchObject({ state: 'none' })
    await writeFrames(bench.folder, frames.slice(6, 10), 7, at)
    house.changed('takes')
    await reads(bench, takeId, 10)
    expect((await bench.status(takeId)).folders).toEqual([bench.folder])
    await bench.api.takeCheck.stop({ takeId })
    stopChecks(db)
    house.changed('takes')
    expect(await bench.status(takeId)).toMatchObject({ state: 'none' })
    const second = aFrameFolder()
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder, second] })
    expect((await bench.status(takeId)).folders).toEqual([bench.folder, second])
    // Of a take that has ended nothing goes on by itself.
    await bench.act(takeId, { kind: 'end' })
    expect(takesToFollow(db)).toEqual([])
  })

  it('says where the folder holds another number of frames, and where none is of its time', async () => {
    const { bench, frames, takeId, at } = await aPressedTake()
    await writeFrames(bench.folder, frames.slice(0, 8), 101, at)
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder] })
    await reads(bench, takeId, 8)
    expect((await bench.status(takeId)).sentence).toMatch(/holds 8\sframes .* the take counts 10/)
    for (const name of fs.readdirSync(bench.folder)) fs.rmSync(path.join(bench.folder, name))
    await expect
      .poll(async () => (await bench.status(takeId)).sentence, patient)
      .toMatch(/no frame that was written while this take ran/)
    // The last report stays to be seen.
    expect((await bench.report(takeId)).report?.framesRead).toBe(8)
  })

  it('reads a take over two folders with the same names in both, and waits for the one that went away', async () => {
    const { bench, frames, takeId, at } = await aPressedTake()
    const second = aFrameFolder()
    await writeFrames(bench.folder, frames.slice(0, 6), 1, at)
    await writeFrames(second, frames.slice(6), 1, new Date(at.getTime() + 60_000))
    await expect(
      bench.api.takeCheck.start({ takeId, folders: [bench.folder, bench.folder] }),
    ).rejects.toThrow(/named twice/)
    // The person names the rest once the first part has been read.
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder] })
    await reads(bench, takeId, 6)
    expect((await bench.status(takeId)).sentence).toMatch(/holds 6\sframes .* the take counts 10/)
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder, second] })
    await reads(bench, takeId, 10)
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('done')
    const { report, folders } = await bench.report(takeId)
    expect(folders).toEqual([bench.folder, second])
    expect(report?.frames.slice(5, 7).map(({ frame, file }) => [frame, file])).toEqual([
      [6, 'IMG_0006.JPG'],
      [7, 'IMG_0001.JPG'],
    ])
    const [one, seven] = await Promise.all(
      [1, 7].map((frame) => framePicture(bench.studio.db, takeId as Id<'take'>, frame, 'small')),
    )
    expect(seven?.tag).toBeDefined()
    expect(seven?.tag).not.toBe(one?.tag)

    // Begun again without a word, it knows both folders, and takes none of the frames for another's.
    await bench.api.takeCheck.stop({ takeId })
    fs.renameSync(second, `${second}-away`)
    await bench.api.takeCheck.start({ takeId })
    await expect.poll(async () => (await bench.status(takeId)).state, patient).toBe('gone')
    expect((await bench.status(takeId)).sentence).toContain(second)
    expect((await bench.report(takeId)).report?.framesRead).toBe(10)
    fs.renameSync(`${second}-away`, second)
    await expect.poll(async () => (await bench.status(takeId)).framesRead, patient).toBe(10)
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    await expect.poll(async () => (await bench.report(takeId)).strip?.frames.length, patient).toBe(10)
  })

  it('holds a report back only while the one that is kept of the same folders rests on more', async () => {
    const { bench, frames, takeId, at } = await aPressedTake()
    const id = takeId as Id<'take'>
    await writeFrames(bench.folder, frames, 1, at)
    await bench.api.takeCheck.start({ takeId, folders: [bench.folder] })
    await reads(bench, takeId, 10)
    const { db } = bench.studio
    await expect.poll(() => framesOfKeptCheck(db, id, [bench.folder]), patient).toBe(10)
    expect(framesOfKeptCheck(db, id, [`${bench.folder}-of-another-take`])).toBe(0)
    expect(framesOfKeptCheck(db, id)).toBe(10)
  })

  it('refuses a folder that is not there', async () => {
    const { bench, takeId } = await aPressedTake(4)
    await expect(bench.api.takeCheck.start({ takeId, folders: ['/nowhere/at/all'] })).rejects.toThrow(
      /There is no folder/,
    )
    await expect(bench.api.takeCheck.start({ takeId: 999, folders: [bench.folder] })).rejects.toThrow(
      /not in the studio/,
    )
  })
})

describe('what a check leaves', () => {
  it('answers for the pictures of frames while it lives', async () => {
    const bench = await aCheckedBench()
    const { frames } = aTurn(24)
    const takeId = (await bench.startByFolder()) as Id<'take'>
    await writeFrames(bench.folder, frames.slice(0, 2))
    await reads(bench, takeId, 2)
    const picture = await framePicture(bench.studio.db, takeId, 2, 'small')
    expect(await sharp(picture?.jpeg).metadata()).toMatchObject({ format: 'jpeg', width: 120, height: 90 })
    const large = await framePicture(bench.studio.db, takeId, 2, 'large')
    expect(await sharp(large?.jpeg).metadata()).toMatchObject({ format: 'jpeg', width: 120, height: 90 })
    expect(large?.tag).not.toBe(picture?.tag)
    expect(await framePicture(bench.studio.db, takeId, 3, 'small')).toBeUndefined()
    await bench.api.takeCheck.stop({ takeId })
    expect(await framePicture(bench.studio.db, takeId, 2, 'small')).toBeUndefined()
  })

  it('keeps a contact strip of a kept take, which is there when its folder is not', async () => {
    const bench = await aCheckedBench(48)
    const { frames } = aTurn(48)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, frames)
    await reads(bench, takeId, 48)
    await bench.act(takeId, { kind: 'end' })
    expect((await bench.report(takeId)).strip).toBeNull()
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    await expect.poll(async () => (await bench.report(takeId)).strip, patient).not.toBeNull()
    fs.rmSync(bench.folder, { recursive: true })
    const { strip } = await bench.report(takeId)
    // floor(i × 48 ÷ 24) for i from 0: every second frame of the turn, without its overlap.
    expect(strip?.frames).toEqual(Array.from({ length: 24 }, (_, i) => 2 * i + 1))
    const sheet = sharp(path.join(bench.studio.folder, 'files', strip?.sha256 ?? ''))
    expect(await sheet.metadata()).toMatchObject({ format: 'jpeg', width: 6 * 192, height: 4 * 144 })
    const cell = await sheet.extract({ left: 192, top: 0, width: 192, height: 144 }).raw().toBuffer()
    const shot = await sharp(frames[2]?.rgb, { raw: { width: 120, height: 90, channels: 3 } })
      .resize(192, 144)
      .raw()
      .toBuffer()
    const apart = cell.reduce((sum, code, at) => sum + Math.abs(code - (shot[at] ?? 0)), 0) / cell.length
    expect(apart).toBeLessThan(4)
  })

  it('keeps the strip of a take that nobody checked, where its files can be read', async () => {
    const bench = await aCheckedBench(8)
    const { frames } = aTurn(8)
    const takeId = await bench.startByFolder()
    await bench.api.takeCheck.stop({ takeId })
    await writeFrames(bench.folder, frames)
    await expect.poll(async () => (await bench.api.takes.one({ takeId })).frames.length, patient).toBe(8)
    await bench.act(takeId, { kind: 'end' })
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    await expect.poll(async () => (await bench.report(takeId)).strip?.frames.length, patient).toBe(8)
  })

  it('keeps the strip that a pick or the client’s yes rests on, once its frames can be read again', async () => {
    const bench = await aCheckedBench(8)
    const { frames } = aTurn(8)
    const takeId = await bench.startByFolder()
    await bench.api.takeCheck.stop({ takeId })
    await writeFrames(bench.folder, frames)
    await expect.poll(async () => (await bench.api.takes.one({ takeId })).frames.length, patient).toBe(8)
    await bench.act(takeId, { kind: 'end' })
    // The card is out while the take is kept and picked, and back when the client says yes.
    fs.renameSync(bench.folder, `${bench.folder}-away`)
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    await bench.api.picks.newest({ shootIds: [...bench.shootIds] })
    expect((await bench.report(takeId)).strip).toBeNull()
    fs.renameSync(`${bench.folder}-away`, bench.folder)
    const { items } = await bench.api.answers.ofJob({ jobId: bench.jobId })
    const shown = items.map(({ shootId, deliverableId }) => ({ shootId, deliverableId }))
    await bench.api.answers.answer({ verdict: 'yes', items: shown })
    await expect.poll(async () => (await bench.report(takeId)).strip?.frames.length, patient).toBe(8)
  })
})
