import { readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { aFrameFolder } from '../takes/aFolder.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { writeFrames } from './frameFiles.ts'
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
