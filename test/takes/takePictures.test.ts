import fs from 'node:fs'
import { crc32 } from 'node:zlib'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import { atTheBench } from './aSpin.ts'

/** A plain picture of a given size, as a camera would hand it over. */
function aFrame(width: number, height: number) {
  return sharp({ create: { width, height, channels: 3, background: '#8a6d3b' } })
}

async function aKeptPicture(picture: Buffer, name = 'frame_001.jpg') {
  const bench = await atTheBench()
  const takeId = await bench.keep()
  const { attachmentId } = await bench.api.takePictures.keep({
    takeId,
    name,
    base64: picture.toString('base64'),
  })
  return { ...bench, takeId, attachmentId }
}

/** The same PNG with another size in its header: IHDR holds it at bytes 16 to 23, its CRC at 29 (ISO/IEC 15948). */
function claiming(png: Buffer, width: number, height: number): Buffer {
  const other = Buffer.from(png)
  other.writeUInt32BE(width, 16)
  other.writeUInt32BE(height, 20)
  other.writeUInt32BE(crc32(other.subarray(12, 29)), 29)
  return other
}

describe('the picture of a take', () => {
  it('is kept as a JPEG of at most 640 pixels a side, in its own proportions', async () => {
    const { studio, attachmentId } = await aKeptPicture(await aFrame(2400, 1600).png().toBuffer())
    const kept = attachmentById(studio.db, attachmentId)
    expect(kept?.mediaType).toBe('image/jpeg')
    const file = fs.readFileSync(attachmentPath(studio.folder, kept?.sha256 ?? ''))
    expect(await sharp(file).metadata()).toMatchObject({ format: 'jpeg', width: 640, height: 427 })
  })

  it('stands upright as the camera was held, and keeps no word of where it was shot', async () => {
    // EXIF orientation 6: the camera was turned a quarter (CIPA DC-008).
    const held = await aFrame(1200, 800).withMetadata({ orientation: 6 }).jpeg().toBuffer()
    const { studio, attachmentId } = await aKeptPicture(held)
    const file = fs.readFileSync(
      attachmentPath(studio.folder, attachmentById(studio.db, attachmentId)?.sha256 ?? ''),
    )
    const metadata = await sharp(file).metadata()
    expect([metadata.width, metadata.height]).toEqual([427, 640])
    expect(metadata.exif).toBeUndefined()
  })

  it('gives way to another, and can be taken away; the take itself stays as it was', async () => {
    const first = await aKeptPicture(await aFrame(64, 64).jpeg().toBuffer())
    const { api, studio, takeId } = first
    const other = await sharp({ create: { width: 80, height: 64, channels: 3, background: '#fff' } })
      .webp()
      .toBuffer()
    const { attachmentId } = await api.takePictures.keep({
      takeId,
      name: 'other.webp',
      base64: other.toString('base64'),
    })
    const pictures = () => studio.db.prepare('SELECT attachment_id FROM take_picture').pluck().all()
    expect(pictures()).toEqual([attachmentId])
    expect(attachmentId).not.toBe(first.attachmentId)
    await api.takePictures.remove({ takeId })
    expect(pictures()).toEqual([])
    expect(attachmentById(studio.db, attachmentId as Id<'attachment'>)).toBeDefined()
  })

  it('refuses what is no picture, what was cut short and what is too large, and keeps nothing of it', async () => {
    const { api, keep, studio } = await atTheBench()
    const takeId = await keep()
    const noise = await sharp({
      create: {
        width: 800,
        height: 600,
        channels: 3,
        background: '#777',
        noise: { type: 'gaussian', mean: 128, sigma: 40 },
      },
    })
      .jpeg()
      .toBuffer()
    const ask = (base64: string) => api.takePictures.keep({ takeId, name: 'frame_001.jpg', base64 })
    await expect(ask(Buffer.from('%PDF-1.7').toString('base64'))).rejects.toMatchObject({
      cause: { code: 'no-picture', field: 'picture' },
    })
    await expect(ask(noise.subarray(0, noise.length / 2).toString('base64'))).rejects.toMatchObject({
      cause: { code: 'picture-damaged', field: 'picture' },
    })
    await expect(ask('A'.repeat(53_333_340))).rejects.toThrow('over 40')
    const trap = claiming(await aFrame(8, 8).png().toBuffer(), 20_000, 20_000)
    await expect(ask(trap.toString('base64'))).rejects.toMatchObject({ cause: { code: 'picture-too-large' } })
    expect(studio.db.prepare('SELECT count(*) FROM take_picture').pluck().get()).toBe(0)
  })

  it('refuses a take that the studio does not have', async () => {
    const { api } = await atTheBench()
    const base64 = (await aFrame(64, 64).jpeg().toBuffer()).toString('base64')
    await expect(api.takePictures.keep({ takeId: 99, name: 'a.jpg', base64 })).rejects.toThrow(
      'not in the studio',
    )
  })
})
