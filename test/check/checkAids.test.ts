import { execFile } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { promisify } from 'node:util'
import { describe, expect, it } from 'vitest'
import { takeToCheck } from '../../db/checkedTakes.ts'
import { keepContactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import { contactSheet } from '../../main/work/contactSheet.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { atTheBench, turnFrames } from '../takes/aSpin.ts'
import { asJpeg, writeFrames } from './frameFiles.ts'
import { renderTake } from './render.ts'

/** Frames of a size that shows what a camera's do. */
const camera = { widthPx: 240, heightPx: 180 }

describe('the white test of a frame in a folder', () => {
  it('says by exposure where the backdrop is near white and the product dark', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    await writeFrames(
      folder,
      renderTake({ ...camera, anglesDeg: [0], backdropY: 0.8, productY: 0.12 }).frames,
    )
    const answer = await api.checkAids.white({ folder, key: null, whiteCode: 245 })
    expect(answer).toMatchObject({ file: 'IMG_0001.JPG', trouble: null })
    expect(answer.pictureUrl).toMatch(/^data:image\/jpeg;base64,/)
    expect(answer.white?.answer).toBe('by exposure')
    expect(answer.white?.neededEv).toBeGreaterThan(0)
  })

  it('says cut-out where the product is brighter than a grey backdrop', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    await writeFrames(folder, renderTake({ ...camera, anglesDeg: [0], backdropY: 0.2, productY: 0.9 }).frames)
    const { white } = await api.checkAids.white({ folder, key: null, whiteCode: 255 })
    expect(white?.answer).toBe('cut-out')
  })

  it('names a file that is still being written or damaged, and looks at it again once it is whole', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    const [name = ''] = await writeFrames(folder, renderTake({ ...camera, anglesDeg: [0] }).frames)
    const file = path.join(folder, name)
    const whole = readFileSync(file)
    writeFileSync(file, whole.subarray(0, whole.length / 2))
    const half = await api.checkAids.newest({ folder })
    const cut = await api.checkAids.white({ folder, key: null, whiteCode: 250 })
    expect(cut).toMatchObject({
      white: null,
      pictureUrl: null,
      trouble: expect.stringMatching(/IMG_0001\.JPG/),
    })
    writeFileSync(file, whole)
    expect((await api.checkAids.newest({ folder })).newest?.stamp).not.toBe(half.newest?.stamp)
    expect((await api.checkAids.white({ folder, key: null, whiteCode: 250 })).trouble).toBeNull()
  })

  it('refuses an empty folder, a frame that is gone and a folder that is not there', async () => {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    const asked = { folder, key: null, whiteCode: 250 }
    await expect(api.checkAids.white(asked)).rejects.toMatchObject({ cause: { code: 'no-frame' } })
    await expect(api.checkAids.white({ ...asked, key: 'img_0009' })).rejects.toMatchObject({
      cause: { code: 'frame-gone' },
    })
    await expect(api.checkAids.white({ ...asked, folder: `${folder}/none` })).rejects.toMatchObject({
      cause: { code: 'no-folder' },
    })
  })
})

describe('centring by quick frames in a folder', () => {
  it('tells offset and mark of a mug off its axis from four frames as they arrive, by its body', async () => {
    const { api, shootIds, stand } = await atTheBench()
    const folder = aFrameFolder()
    // The bench of the test turns 8 frames; the brief's direction is clockwise.
    const asked = {
      shootId: Number(shootIds[0]),
      row: 1,
      rigRevisionId: stand.rigRevisionId,
      settingsId: stand.settingsId,
    }
    const about = await api.checkAids.stand(asked)
    expect(about).toMatchObject({ framesPerTurn: turnFrames, turns: 'clockwise', lastTime: null })
    expect(about.marksMm).toHaveLength(turnFrames)
    const { after } = await api.checkAids.before({ folder, back: 0 })
    expect(after).toBeNull()
    const { frames, truth } = renderTake({
      ...camera,
      kind: 'mug',
      offsetMm: 4,
      offsetBearingDeg: 70,
      anglesDeg: [0, 90, 180, 270],
    })
    const centre = () =>
      api.checkAids.centre({
        ...asked,
        folder,
        after,
        count: 4,
        choice: 'body',
        longSideMm: truth.mmPerPx * camera.widthPx,
        pointerBearingDeg: 0,
      })
    await writeFrames(folder, frames.slice(0, 3))
    expect(await centre()).toMatchObject({ centre: null, frames: [{ trouble: null }, {}, {}] })
    await writeFrames(folder, frames)
    const { centre: found } = await centre()
    if (found?.state !== 'found') throw new Error(`The centre was not found: ${found?.sentence}`)
    expect(found.measuredOn).toBe('round body')
    expect(Math.abs(found.offset - truth.body.offsetMm)).toBeLessThan(Math.max(0.3, 0.05 * 4))
    // Pushed to the side opposite of where it stands; with the pointer at the camera a mark comes there as the platter turns.
    const towards = (((0 - (truth.body.bearingDeg + 180)) % 360) + 360) % 360
    expect(Math.abs(((found.nudge.towardsDeg - towards + 540) % 360) - 180)).toBeLessThan(6)
  })

  it('keeps where the pointer stands for the rig as it stands and the row, and the take knows it', async () => {
    const { api, studio, shootIds, stand, start } = await atTheBench()
    const { rigRevisionId, settingsId } = stand
    const about = (row: number) =>
      api.checkAids.stand({ shootId: Number(shootIds[0]), row, rigRevisionId, settingsId })
    expect((await about(1)).pointer).toBeNull()
    const takeId = await start()
    const known = () => takeToCheck(studio.db, takeId as Id<'take'>)?.take.pointerSide
    expect(known()).toBeNull()
    await api.checkAids.pointerStands({ rigRevisionId, row: 1, side: 'left' })
    await api.checkAids.pointerStands({ rigRevisionId, row: 1, side: 'behind' })
    await api.checkAids.pointerStands({ rigRevisionId, row: 1, side: 'behind' })
    await api.checkAids.pointerStands({ rigRevisionId, row: 2, side: 'right' })
    expect((await about(1)).pointer).toBe('behind')
    expect(known()).toBe('behind')
    const said = studio.db.prepare(`SELECT count(*) FROM event WHERE what = 'place of the pointer said'`)
    expect(said.pluck().get()).toBe(3)
    await expect(
      api.checkAids.pointerStands({ rigRevisionId: 9999, row: 1, side: 'left' }),
    ).rejects.toMatchObject({ cause: { code: 'no-rig' } })
  })

  it('refuses to take the newest four of three, and goes on without one that is damaged', async () => {
    const { api, shootIds, stand } = await atTheBench()
    const folder = aFrameFolder()
    const { frames, truth } = renderTake({ ...camera, kind: 'mug', anglesDeg: [0, 72, 144, 216, 288] })
    await writeFrames(folder, frames.slice(0, 3))
    await expect(api.checkAids.before({ folder, back: 4 })).rejects.toMatchObject({
      cause: { code: 'too-few-frames', message: expect.stringMatching(/3 frames/) },
    })
    await writeFrames(folder, frames)
    writeFileSync(path.join(folder, 'IMG_0002.JPG'), 'no picture')
    const { after } = await api.checkAids.before({ folder, back: 5 })
    const { rigRevisionId, settingsId } = stand
    const answer = await api.checkAids.centre({
      shootId: Number(shootIds[0]),
      row: 1,
      rigRevisionId,
      settingsId,
      folder,
      after,
      count: 5,
      choice: 'body',
      longSideMm: truth.mmPerPx * camera.widthPx,
      pointerBearingDeg: 0,
    })
    expect(answer.frames[1]?.trouble).toMatch(/IMG_0002\.JPG is damaged/)
    expect(answer.centre?.sentence).toBeTruthy()
  })
})

describe('the newest frame against the approved one', () => {
  it('finds nothing where nothing moved, and says what to move by how much where the camera did', async () => {
    const bench = await atTheBench()
    const { api } = bench
    const folder = aFrameFolder()
    const takeId = await bench.keep()
    // Three frames of one scene, each with noise of its own; the third a quarter of a stop brighter.
    const { frames, truth } = renderTake({
      ...camera,
      kind: 'mug',
      productY: 0.1,
      backdropY: 0.5,
      anglesDeg: [20, 20, 20],
      lightEv: [0, 0, 0.25],
    })
    const [approved, same, brighter] = frames
    if (!approved || !same || !brighter) throw new Error('Nothing was rendered.')
    const asked = { folder, key: null, takeId, longSideMm: truth.mmPerPx * camera.widthPx }
    await writeFrames(folder, [same])
    await expect(api.checkAids.match(asked)).rejects.toMatchObject({ cause: { code: 'no-picture' } })
    const base64 = (await asJpeg(approved)).toString('base64')
    await api.takePictures.keep({ takeId, name: 'IMG_0001.JPG', base64 })
    expect((await api.checkAids.match(asked)).match?.sentences).toEqual([])
    await writeFrames(folder, [brighter])
    const { match } = await api.checkAids.match(asked)
    expect(match?.exposureEv).toBeCloseTo(0.25, 1)
    expect(match?.pose).toBeNull()
    expect(match?.sentences.join(' ')).toMatch(/brighter than approved: expose 0\.\d+\sEV less/)
  })
})

describe('an approved frame that was kept small', () => {
  it('is matched in its own size, and the start pose by the contact strip of its take', async () => {
    const bench = await atTheBench()
    const { api } = bench
    const folder = aFrameFolder()
    const takeId = await bench.keep()
    const stripDeg = Array.from({ length: 24 }, (_, at) => at * 15)
    const seen = { ...camera, kind: 'unsymmetrical', productY: 0.1, backdropY: 0.5 } as const
    const { frames } = renderTake({ ...seen, anglesDeg: [...stripDeg, 0, 20] })
    const [approved] = frames
    const [same, turned] = frames.slice(24)
    if (!approved || !same || !turned) throw new Error('Nothing was rendered.')
    const base64 = (await asJpeg(approved, 300)).toString('base64')
    await api.takePictures.keep({ takeId, name: 'IMG_0001.JPG', base64 })
    const sheet = await contactSheet(frames.slice(0, 24).map((frame) => () => asJpeg(frame)))
    if (!sheet) throw new Error('No sheet was made.')
    // The bench of the test turns 8 frames, so that three of the strip's are one step.
    const numbers = stripDeg.map((deg) => 1 + (deg * turnFrames) / 360)
    const { writing, folder: studio } = bench.studio
    keepContactStrip({ ...writing, folder: studio }, takeId as Id<'take'>, { ...sheet, frames: numbers })
    const asked = { folder, key: null, takeId, longSideMm: null }
    await writeFrames(folder, [same])
    const { match, doubt } = await api.checkAids.match(asked)
    expect([doubt, match?.sentences]).toEqual([null, []])
    expect(Math.abs(match?.pose?.aheadDeg ?? Number.NaN)).toBeLessThan(3)
    await writeFrames(folder, [turned])
    expect((await api.checkAids.match(asked)).match?.pose?.aheadDeg).toBeCloseTo(20, -1)
  })
})

describe('the last mark shot again after a stop', () => {
  const turn = { ...camera, kind: 'unsymmetrical' as const }
  const steps = [0, 6, 12, 18, 24, 30]

  async function stopped() {
    const { api } = await atTheBench()
    const folder = aFrameFolder()
    await writeFrames(folder, renderTake({ ...turn, anglesDeg: steps }).frames)
    const { after } = await api.checkAids.before({ folder, back: 0 })
    const again = async (angleDeg: number) => {
      // Of one rendering with those before, so that it is the same product, with noise of its own.
      const { frames } = renderTake({ ...turn, anglesDeg: [...steps, angleDeg] })
      await writeFrames(folder, frames.slice(steps.length), 7)
      return api.checkAids.afterStop({ folder, after: after ?? '' })
    }
    return { api, folder, after: after ?? '', again }
  }

  it('waits for the frame, then says go on where it shows the same', async () => {
    const { api, folder, after, again } = await stopped()
    expect(await api.checkAids.afterStop({ folder, after })).toBeNull()
    const answer = await again(30)
    expect(answer).toMatchObject({ file: 'IMG_0007.JPG', trouble: null, afterStop: { advice: 'go on' } })
    expect(answer?.beforeUrl).toMatch(/^data:image\/jpeg/)
  })

  it('says start over where the product was turned by two steps', async () => {
    const { again } = await stopped()
    expect(await again(42)).toMatchObject({ afterStop: { advice: 'start over' } })
  })
})

it('lets the program end once it was asked', async () => {
  const folder = aFrameFolder()
  await writeFrames(folder, renderTake({ ...camera, anglesDeg: [0] }).frames)
  const program = path.join(folder, 'ask.mjs')
  writeFileSync(
    program,
    `import { askAid } from ${JSON.stringify(path.resolve('main/work/checkAids.ts'))}
    const frame = { folder: ${JSON.stringify(folder)}, files: ['IMG_0001.JPG'], stamp: '' }
    console.log((await askAid({ ask: 'white', frame, whiteCode: 250 })).trouble)`,
  )
  const { stdout } = await promisify(execFile)(process.execPath, [program], { timeout: 20_000 })
  expect(stdout).toBe('null\n')
}, 30_000)
