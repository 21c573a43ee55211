import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import fc from 'fast-check'
import sharp from 'sharp'
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest'
import { rawPreviews } from '../../main/trade/check/files/rawPreview.ts'
import { checkPicture } from '../../main/work/checkPicture.ts'
import { RawFile } from './rawFiles.ts'

const picture = (width: number, height: number, progressive = false) =>
  sharp({ create: { width, height, channels: 3, background: '#a07040' } })
    .composite([
      { input: { create: { width: 8, height: 8, channels: 3, background: '#fff' } }, left: 0, top: 0 },
    ])
    .jpeg({ quality: 90, progressive })
    .toBuffer()

let large: Buffer
let small: Buffer
let progressive: Buffer
beforeAll(async () => {
  ;[large, small, progressive] = await Promise.all([
    picture(1200, 800),
    picture(160, 120),
    picture(900, 600, true),
  ])
})

/** Reads of a file in memory, and how much was read. */
function reader(bytes: Uint8Array) {
  const read = { bytes: 0 }
  const range = (from: number, count: number) => {
    const part = bytes.subarray(from, from + count)
    read.bytes += part.length
    return part
  }
  return { read, range }
}

const at = { sub: 200, second: 400, spare: 600, small: 1000, large: 100_000, sensor: 1_000_000 }

/** A raw file of 8 MB: a small picture in IFD 1, the large one in a SubIFD, packed sensor data in another. */
function aRaw(isLittle: boolean, magic?: number, orientation = 6): RawFile {
  const raw = new RawFile(isLittle, 8_000_000, magic)
  raw.ifd(
    8,
    {
      entries: [
        [0x0112, 3, [orientation]],
        [0x014a, 4, [at.sub, at.sub + 100]],
      ],
    },
    at.second,
    at.spare,
  )
  raw.ifd(at.sub, {
    entries: [
      [0x0103, 3, [6]],
      [0x0201, 4, [at.large]],
      [0x0202, 4, [large.length]],
    ],
  })
  raw.ifd(at.sub + 100, {
    entries: [
      [0x0103, 3, [7]],
      [0x0111, 4, [at.sensor]],
      [0x0117, 4, [5_000_000]],
    ],
  })
  raw.ifd(at.second, {
    entries: [
      [0x0201, 4, [at.small]],
      [0x0202, 4, [small.length]],
    ],
  })
  raw.put(at.small, small)
  raw.put(at.large, large)
  // Lossless JPEG, SOF3 (ITU-T T.81, table B.1), 6000 × 4000: raw data, no picture.
  raw.put(at.sensor, Buffer.from('ffd8ffc3000b0e0fa0177001011100', 'hex'))
  return raw
}

describe('a raw file’s picture', () => {
  // 42 is TIFF's; 'RO' and 'RS' (0x4f52, 0x5352) and 0x55 stand in its place in some makers' files, from memory.
  it.each([
    [true, 42],
    [false, 42],
    [true, 0x4f52],
    [true, 0x5352],
    [true, 0x55],
  ])(
    'is the largest JPEG its IFDs name (little endian %s, number %i), and not the packed sensor data',
    (isLittle, magic) => {
      const { bytes } = aRaw(isLittle, magic)
      const { read, range } = reader(bytes)
      const { jpegs, orientation } = rawPreviews(range)
      expect(orientation).toBe(6)
      expect(jpegs).toEqual([
        { from: at.large, bytes: large.length, widthPx: 1200, heightPx: 800 },
        { from: at.small, bytes: small.length, widthPx: 160, heightPx: 120 },
      ])
      expect(read.bytes).toBeLessThan(500_000)
    },
  )

  it('is found in a strip with compression 6, as older files have it', () => {
    const raw = new RawFile(true, 400_000)
    raw.ifd(8, {
      entries: [
        [0x0103, 3, [6]],
        [0x0111, 4, [5000]],
        [0x0117, 4, [large.length]],
      ],
    })
    raw.put(5000, large)
    expect(rawPreviews(reader(raw.bytes).range).jpegs).toEqual([
      { from: 5000, bytes: large.length, widthPx: 1200, heightPx: 800 },
    ])
  })

  it('is found by JPEG’s own markers where no IFD names one, baseline and progressive, or the file is no TIFF', () => {
    const noise = Buffer.from(Array.from({ length: 70_000 }, (_, k) => (k * 7919) % 251))
    const bytes = Buffer.concat([noise, small, noise, progressive, noise, large, noise])
    const { jpegs } = rawPreviews(reader(bytes).range)
    expect(jpegs.map(({ widthPx }) => widthPx)).toEqual([1200, 900, 160])
    for (const { from, bytes: length, widthPx } of jpegs) {
      const found = bytes.subarray(from, from + length)
      expect(
        [large, small, progressive].some((jpeg) => jpeg.equals(found)),
        String(widthPx),
      ).toBe(true)
    }
  })

  it('never makes the search stumble, whatever the bytes are', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 0, maxLength: 300 }),
        fc.constantFrom('II*\0\b\0\0\0', 'MM\0*\0\0\0\b', ''),
        (bytes, head) => {
          const whole = Buffer.concat([Buffer.from(head, 'latin1'), bytes])
          for (const { from, bytes: length } of rawPreviews(reader(whole).range).jpegs) {
            expect(from).toBeGreaterThanOrEqual(0)
            expect(length).toBeGreaterThan(0)
          }
        },
      ),
      { numRuns: 500 },
    )
    // IFDs that name themselves and each other come to an end.
    const raw = new RawFile(false, 4000)
    raw.ifd(8, { entries: [[0x014a, 4, [8, 8]]] }, 8, 900)
    expect(rawPreviews(reader(raw.bytes).range).jpegs).toEqual([])
  })
})

describe('a raw file on the disk', () => {
  const onDisk = (name: string, bytes: Uint8Array) => {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-raw-'))
    onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
    fs.writeFileSync(path.join(folder, name), bytes)
    return checkPicture(folder, [name])
  }

  it('is looked at by its large picture, upright as the raw file says', async () => {
    const { facts, small: frame } = await onDisk('IMG_0001.NEF', aRaw(true).bytes)
    expect(facts).toMatchObject({
      from: 'raw preview',
      trouble: null,
      widthPx: 800,
      heightPx: 1200,
      orientation: 6,
    })
    expect(frame).toMatchObject({ widthPx: 341, heightPx: 512 })
    // The white corner, upper left in the file, is upper right once turned by 90° clockwise.
    const right = frame ? frame.rgb[(frame.widthPx - 2) * 3] : undefined
    expect(right).toBeGreaterThan(240)
  })

  it('falls to the smaller picture where the large one is spoilt', async () => {
    const raw = aRaw(true, 42, 1)
    raw.bytes.fill(0, at.large + 700, at.large + large.length)
    const { facts } = await onDisk('IMG_0002.ARW', raw.bytes)
    expect(facts).toMatchObject({ from: 'raw preview', trouble: null, widthPx: 160, heightPx: 120 })
  })

  it('without a picture in it is named, with what to do', async () => {
    const { facts } = await onDisk('IMG_0003.CR3', Buffer.alloc(300_000, 7))
    expect(facts.trouble).toMatchObject({ kind: 'no preview' })
    expect(facts.trouble?.sentence).toContain('Let the camera write a JPEG beside each')
  })
})
