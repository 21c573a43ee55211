import fs from 'node:fs'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'
import { aRevision, aRig } from './builders.ts'

/** A plain photograph of a given size and grey. */
function aPhoto(width: number, height: number, grey = 120) {
  return sharp({ create: { width, height, channels: 3, background: { r: grey, g: grey, b: grey } } })
}

const base64 = async (picture: ReturnType<typeof aPhoto>) =>
  (await picture.jpeg().toBuffer()).toString('base64')

describe('photographs of the set', () => {
  it('are kept upright, at most 2,400 px, without what the camera wrote into them', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    // EXIF orientation 6: the camera was turned a quarter (CIPA DC-008).
    const held = await aPhoto(3600, 2400).withMetadata({ orientation: 6 }).jpeg().toBuffer()
    await studio.api.rigPhotos.add({ rigRevisionId, name: 'set.jpg', base64: held.toString('base64') })
    const [photo] = await studio.api.rigPhotos.of({ rigRevisionId })
    expect(photo).toMatchObject({ widthPx: 1600, heightPx: 2400, caption: null })
    const file = fs.readFileSync(attachmentPath(studio.folder, photo?.sha256 ?? ''))
    const { width, height, exif } = await sharp(file).metadata()
    expect([width, height, exif]).toEqual([1600, 2400, undefined])
  })

  it('join a revision also later, and change nothing of it', async () => {
    const studio = aStudio()
    const { rigId, platterId, rigRevisionId } = await aRig(studio)
    await studio.api.rigs.revise({
      rigId,
      revision: aRevision(platterId, { cameraHeightMm: 300, why: 'higher' }),
    })
    const before = await studio.api.rigs.revision({ rigRevisionId })
    await studio.api.rigPhotos.add({
      rigRevisionId,
      name: 'set.png',
      caption: 'the cards beside the glass',
      base64: (await aPhoto(300, 200).png().toBuffer()).toString('base64'),
    })
    expect(await studio.api.rigs.revision({ rigRevisionId })).toEqual(before)
    expect((await studio.api.rigPhotos.of({ rigRevisionId })).map(({ caption }) => caption)).toEqual([
      'the cards beside the glass',
    ])
  })

  it('are taken off within the hour, and stay after it', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const add = async (grey: number) =>
      (
        await studio.api.rigPhotos.add({
          rigRevisionId,
          name: `${grey}.jpg`,
          base64: await base64(aPhoto(60, 40, grey)),
        })
      ).photoId
    const wrong = await add(10)
    const right = await add(200)
    await studio.api.rigPhotos.takeOff({ photoId: wrong })
    expect((await studio.api.rigPhotos.of({ rigRevisionId })).map(({ id }) => id)).toEqual([right])
    // The same can be added again, and the store itself keeps the row of what was taken off.
    await add(10)
    expect(studio.db.prepare('SELECT count(*) FROM rig_photo').pluck().get()).toBe(3)
    studio.setNow('2026-03-02T09:00:01.000Z')
    await expect(studio.api.rigPhotos.takeOff({ photoId: right })).rejects.toThrow('more than an hour')
    await studio.api.rigPhotos.caption({ photoId: right, caption: 'an older lamp' })
    expect((await studio.api.rigPhotos.of({ rigRevisionId }))[0]?.caption).toBe('an older lamp')
  })

  it('are refused by a sentence where they are no picture, damaged, there already or too many', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const add = (bytes: Buffer, name: string) =>
      studio.api.rigPhotos.add({ rigRevisionId, name, base64: bytes.toString('base64') })
    await expect(add(Buffer.from('no picture'), 'list.csv')).rejects.toThrow(
      'list.csv is no JPEG, PNG or WebP',
    )
    const whole = await aPhoto(400, 300).jpeg().toBuffer()
    await expect(add(whole.subarray(0, whole.length / 2), 'cut.jpg')).rejects.toThrow(
      'damaged or was cut short',
    )
    await add(whole, 'set.jpg')
    await expect(add(whole, 'again.jpg')).rejects.toThrow('with this revision already')
    for (let grey = 1; grey < 12; grey += 1)
      await add(
        await aPhoto(30, 20, grey * 20)
          .jpeg()
          .toBuffer(),
        'more.jpg',
      )
    await expect(add(await aPhoto(30, 20, 7).jpeg().toBuffer(), 'one more.jpg')).rejects.toThrow(
      '12 photographs',
    )
    await expect(
      studio.api.rigPhotos.add({ rigRevisionId: 99, name: 'set.jpg', base64: whole.toString('base64') }),
    ).rejects.toThrow('not in the studio')
  })

  it('stand on the rebuild sheet with their captions', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    await studio.api.rigPhotos.add({
      rigRevisionId,
      name: 'set.jpg',
      caption: 'from the door',
      base64: await base64(aPhoto(300, 200)),
    })
    const { paperId } = await studio.api.prints.rebuildSheet({ rigRevisionId, paper: 'A4' })
    const sha256 = studio.db.prepare('SELECT sha256 FROM attachment WHERE id = ?').pluck().get(paperId)
    const pdf = fs.readFileSync(attachmentPath(studio.folder, String(sha256)))
    expect(pdf.toString('latin1')).toContain('/Subtype /Image')
    const { pages } = await readPdf(pdf)
    expect(pages).toHaveLength(1)
    expect(pages[0]).toContain('from the door')
  })
})
