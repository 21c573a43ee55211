import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import zlib from 'node:zlib'
import sharp, { type Sharp } from 'sharp'
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest'
import { frameTrouble } from '../../main/trade/check/files/frameTrouble.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { checkPicture } from '../../main/work/checkPicture.ts'
import { runCheck } from '../../main/work/checkRun.ts'
import type { CheckedFrame } from '../../main/work/checkWorker.ts'

const patient = { timeout: 60_000 }

function aFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-hostile-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

const flat = (width: number, height: number): Sharp =>
  sharp({ create: { width, height, channels: 3, background: { r: 200, g: 100, b: 50 } } })

let jpeg: Buffer
beforeAll(async () => {
  // Noise, so that its scan is long enough to be cut.
  jpeg = await sharp({
    create: {
      width: 900,
      height: 600,
      channels: 3,
      background: '#777',
      noise: { type: 'gaussian', mean: 120, sigma: 30 },
    },
  })
    .jpeg({ quality: 92 })
    .toBuffer()
})

async function looked(name: string, bytes: Uint8Array) {
  const folder = aFolder()
  fs.writeFileSync(path.join(folder, name), bytes)
  return checkPicture(folder, [name])
}

describe('a spoilt file is named, and why', () => {
  it.each<[what: string, name: string, kind: string, bytes: () => Uint8Array | Promise<Uint8Array>]>([
    ['empty', 'IMG_0001.JPG', 'empty', () => new Uint8Array(0)],
    ['cut in its head', 'IMG_0001.JPG', 'cut short', () => jpeg.subarray(0, 400)],
    ['half written', 'IMG_0001.JPG', 'cut short', () => jpeg.subarray(0, Math.floor(jpeg.length / 2))],
    ['with half of it zeros', 'IMG_0001.JPG', 'cut short', () => zeroed(jpeg)],
    ['PNG cut short', 'a 1.png', 'cut short', async () => cut(await noise().png().toBuffer())],
    [
      'TIFF cut short',
      'a 1.tif',
      'damaged',
      async () => cut(await noise().tiff({ compression: 'none' }).toBuffer()),
    ],
    ['WebP cut short', 'a 1.webp', 'damaged', async () => cut(await noise().webp().toBuffer())],
    ['all zeros', 'IMG_0001.JPG', 'damaged', () => new Uint8Array(500_000)],
    ['a text', 'IMG_0001.JPG', 'damaged', () => Buffer.from('no picture at all')],
    ['HEIC', 'IMG_0001.HEIC', 'format', () => heic('heic')],
    ['HEIC under a JPEG’s name', 'IMG_0001.JPG', 'format', () => heic('mif1')],
    [
      'of more pixels than a camera has',
      'a 1.png',
      'too large',
      async () => huge(await flat(2, 2).png().toBuffer()),
    ],
  ])('%s', async (_, name, kind, bytes) => {
    const { facts, small, viewing } = await looked(name, await bytes())
    expect(facts.trouble?.kind).toBe(kind)
    expect(facts.trouble?.sentence).toContain(name)
    expect([small, viewing, facts.contentHash]).toEqual([null, null, null])
  })

  it('a folder under a frame’s name, a file that may not be read, and one that is gone', async () => {
    const folder = aFolder()
    fs.mkdirSync(path.join(folder, 'IMG_0001.JPG'))
    expect((await checkPicture(folder, ['IMG_0001.JPG'])).facts.trouble?.kind).toBe('damaged')
    expect((await checkPicture(folder, ['IMG_0002.JPG'])).facts.trouble?.kind).toBe('gone')
    fs.writeFileSync(path.join(folder, 'IMG_0003.JPG'), jpeg, { mode: 0 })
    const { facts } = await checkPicture(folder, ['IMG_0003.JPG'])
    // The system's own administrator may read everything.
    expect(facts.trouble?.kind ?? 'read').toBe(process.getuid?.() === 0 ? 'read' : 'not allowed')
  })
})

/** A PNG whose header says 20,000 × 14,000 pixels (ISO/IEC 15948: IHDR at byte 16, its CRC at byte 29). */
function huge(png: Buffer): Buffer {
  png.writeUInt32BE(20_000, 16)
  png.writeUInt32BE(14_000, 20)
  png.writeUInt32BE(zlib.crc32(png.subarray(12, 29)), 29)
  return png
}

function zeroed(bytes: Buffer): Buffer {
  const copy = Buffer.from(bytes)
  return copy.fill(0, Math.floor(copy.length / 2))
}

function cut(bytes: Buffer): Buffer {
  return bytes.subarray(0, Math.floor(bytes.length * 0.7))
}

function noise(): Sharp {
  return sharp(jpeg)
}

/** The beginning of an ISO base media file (ISO/IEC 14496-12) with this brand. */
function heic(brand: string): Buffer {
  const head = Buffer.from(`\0\0\0\u0018ftyp${brand}\0\0\0\0mif1heic`, 'latin1')
  return Buffer.concat([head, Buffer.alloc(2000)])
}

describe('an unusual picture is read all the same, in sRGB of 8 bits', () => {
  it.each<[what: string, name: string, make: () => Promise<Buffer>, near: number]>([
    // sharp's own 8-bit reading of the same colour; CMYK goes through a printing profile and back.
    ['16-bit PNG', 'a 1.png', () => flat(300, 200).toColourspace('rgb16').png().toBuffer(), 1],
    ['16-bit TIFF', 'a 1.tif', () => flat(300, 200).toColourspace('rgb16').tiff().toBuffer(), 1],
    ['CMYK JPEG', 'a 1.jpg', () => flat(300, 200).toColourspace('cmyk').jpeg({ quality: 98 }).toBuffer(), 40],
    ['PNG with transparency', 'a 1.png', () => flat(300, 200).ensureAlpha(1).png().toBuffer(), 1],
    ['PNG of a palette', 'a 1.png', () => flat(300, 200).png({ palette: true }).toBuffer(), 3],
    ['WebP without loss', 'a 1.webp', () => flat(300, 200).webp({ lossless: true }).toBuffer(), 1],
  ])('%s', async (_, name, make, near) => {
    const { facts, small } = await looked(name, await make())
    expect(facts).toMatchObject({ trouble: null, widthPx: 300, heightPx: 200 })
    expect(small?.rgb).toHaveLength(300 * 200 * 3)
    for (const [k, code] of [200, 100, 50].entries())
      expect(Math.abs((small?.rgb[k] ?? 0) - code)).toBeLessThanOrEqual(near)
  })

  it('grey, one pixel, and 20,000 pixels wide or high', async () => {
    const grey = await looked('a 1.jpg', await flat(300, 200).greyscale().jpeg().toBuffer())
    expect(grey.small?.rgb).toHaveLength(300 * 200 * 3)
    const one = await looked('a 1.png', await flat(1, 1).png().toBuffer())
    expect(one.small).toMatchObject({ widthPx: 1, heightPx: 1, rgb: new Uint8Array([200, 100, 50]) })
    const wide = await looked('a 1.jpg', await flat(20_000, 30).jpeg().toBuffer())
    expect(wide.small).toMatchObject({ widthPx: 512, heightPx: 1 })
    const high = await looked('a 1.jpg', await flat(30, 20_000).jpeg().toBuffer())
    expect(high.small).toMatchObject({ widthPx: 1, heightPx: 512 })
    for (const { small } of [grey, one, wide, high])
      if (small) expect(traceOf(small).frameY).toBeGreaterThan(0)
  })

  it('upright for each of the eight orientations of CIPA DC-008', async () => {
    for (let orientation = 1; orientation <= 8; orientation += 1) {
      const { facts, small } = await looked(
        'a 1.jpg',
        await flat(300, 200).withMetadata({ orientation }).jpeg().toBuffer(),
      )
      const isOnSide = orientation >= 5
      expect(small).toMatchObject(
        isOnSide ? { widthPx: 200, heightPx: 300 } : { widthPx: 300, heightPx: 200 },
      )
      expect(facts.orientation).toBe(orientation)
    }
  })
})

describe('odd names', () => {
  const long = `${'langer Name '.repeat(20)}7`.slice(0, 251)
  const names = [
    'new\nline 1.jpg',
    'quote\'s "1".jpg',
    'קומקום 1.jpg',
    '\u202egpj.1.jpg',
    '🫖 1.jpg',
    '-1.jpg',
    '--help1.jpg',
    'a[page=3]1.jpg',
    '%00 1.jpg',
    '$(x) `1`.jpg',
    '  1 .jpg',
    `${long}.jpg`,
  ]

  it.each(names.map((name) => [JSON.stringify(name).slice(0, 30), name]))('%s is read', async (_, name) => {
    const { facts } = await looked(name, jpeg)
    expect(facts).toMatchObject({ file: name, trouble: null, widthPx: 900 })
  })

  it('are said in one line, in their own order of letters, and not too long to read', () => {
    for (const name of names) {
      const { sentence } = frameTrouble('empty', name)
      expect(sentence).not.toMatch(/[\n\u202e]/u)
      expect([...sentence].length).toBeLessThan(170)
    }
  })
})

function follow(folder: string, names: readonly string[]) {
  const heard: CheckedFrame[] = []
  const said: string[] = []
  const run = runCheck({
    onFrame: (frame) => heard.push(frame),
    onGone: ({ sentence }) => said.push(sentence),
    onFailed: (sentence) => said.push(sentence),
  })
  onTestFinished(() => run.stop())
  run.read(names.map((name) => ({ folder, files: [name] })))
  return { run, heard, said }
}

it('the thread outlives a folder of every kind of spoilt file, frame after frame', async () => {
  const folder = aFolder()
  const files: readonly (readonly [string, Uint8Array])[] = [
    ['IMG_0001.JPG', jpeg],
    ['IMG_0002.JPG', new Uint8Array(0)],
    ['IMG_0003.PNG', await flat(1, 1).png().toBuffer()],
    ['IMG_0004.JPG', await flat(20_000, 2).jpeg().toBuffer()],
    ['IMG_0005.JPG', zeroed(jpeg)],
    ['IMG_0006.CR2', Buffer.from('II*\0\b\0\0\0', 'latin1')],
    ['IMG_0007.HEIC', heic('heic')],
    ['IMG_0008.JPG', jpeg],
  ]
  for (const [name, bytes] of files) fs.writeFileSync(path.join(folder, name), bytes)
  const { heard, said } = follow(
    folder,
    files.map(([name]) => name),
  )
  await expect.poll(() => heard.length, patient).toBe(files.length)
  expect(said).toEqual([])
  expect(heard.map(({ facts }) => facts.trouble?.kind ?? 'read')).toEqual([
    'read',
    'empty',
    'read',
    'read',
    'cut short',
    'no preview',
    'format',
    'read',
  ])
})

it('a folder of 5,000 files is read to its end, and the memory does not grow with it', async () => {
  const folder = aFolder()
  const names = Array.from({ length: 5000 }, (_, k) => `IMG_${String(k + 1).padStart(4, '0')}.JPG`)
  const picture = await flat(96, 64).jpeg().toBuffer()
  for (const [at, name] of names.entries())
    fs.writeFileSync(path.join(folder, name), at % 10 === 0 ? picture : '')
  const { heard, said } = follow(folder, names)
  await expect.poll(() => heard.length, patient).toBeGreaterThan(500)
  const early = process.memoryUsage.rss()
  await expect.poll(() => heard.length, patient).toBe(5000)
  expect(said).toEqual([])
  expect(heard.filter(({ facts }) => facts.trouble === null)).toHaveLength(500)
  expect(process.memoryUsage.rss() - early).toBeLessThan(200 * 2 ** 20)
}, 90_000)
