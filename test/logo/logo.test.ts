import fs from 'node:fs'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { printOnLetterhead } from '../../main/papers/letterhead.ts'
import type { Sheet } from '../../main/papers/sheet.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio, type TestStudio } from '../studio.ts'

function aMark(width: number, height: number) {
  return sharp({ create: { width, height, channels: 4, background: { r: 180, g: 120, b: 20, alpha: 0.5 } } })
}

const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64')

async function keptPicture({ api, folder }: TestStudio): Promise<Buffer> {
  const logo = await api.studio.logo()
  return fs.readFileSync(attachmentPath(folder, logo?.sha256 ?? ''))
}

const sheet: Sheet = {
  paper: 'A4',
  language: 'en',
  writtenAt: '2026-03-02T08:00:00.000Z',
  title: 'Statement',
  sender: { name: 'Lindenhof Spin Studio', address: ['Lindenhof 3'], foot: [] },
  recipient: ['Halvorsen Lamps'],
  facts: [],
  blocks: [],
}

describe('the studio’s logo', () => {
  it('is kept on white, small enough for its place, and without what else was in the file', async () => {
    const studio = aStudio()
    const png = await aMark(2400, 500)
      .withExif({ IFD0: { Copyright: 'Somebody at home' } })
      .png()
      .toBuffer()
    expect(png.toString('latin1')).toContain('Somebody at home')
    await studio.api.studio.setLogo({ name: 'mark.png', base64: base64(png) })
    const kept = await keptPicture(studio)
    const { width, height, hasAlpha, format } = await sharp(kept).metadata()
    expect({ width, height, hasAlpha, format }).toEqual({
      width: 900,
      height: 188,
      hasAlpha: false,
      format: 'png',
    })
    expect(kept.toString('latin1')).not.toContain('Somebody at home')
    const { data } = await sharp(kept).raw().toBuffer({ resolveWithObject: true })
    // Half of 180, 120, 20 over white, each half of the sum with 255.
    expect([data[0], data[1], data[2]]).toEqual([217, 187, 137])
  })

  it('stands on papers until it is taken off, and they stay readable and the same each time', async () => {
    const studio = aStudio()
    const bare = printOnLetterhead(studio, sheet)
    await studio.api.studio.setLogo({
      name: 'mark.jpg',
      base64: base64(await aMark(300, 300).flatten().jpeg().toBuffer()),
    })
    const marked = printOnLetterhead(studio, sheet)
    expect(marked.toString('latin1')).toContain('/Subtype /Image')
    expect(printOnLetterhead(studio, sheet).equals(marked)).toBe(true)
    expect((await readPdf(marked)).pages[0]).toContain('Halvorsen Lamps')
    await studio.api.studio.removeLogo()
    expect(await studio.api.studio.logo()).toBeNull()
    expect(printOnLetterhead(studio, sheet).equals(bare)).toBe(true)
  })

  it('is printed without where its file was lost', async () => {
    const studio = aStudio()
    const bare = printOnLetterhead(studio, sheet)
    await studio.api.studio.setLogo({
      name: 'mark.png',
      base64: base64(await aMark(300, 100).png().toBuffer()),
    })
    const logo = await studio.api.studio.logo()
    fs.rmSync(attachmentPath(studio.folder, logo?.sha256 ?? ''))
    expect(printOnLetterhead(studio, sheet).equals(bare)).toBe(true)
  })

  it('is refused where it cannot be printed, and the one before stays', async () => {
    const studio = aStudio()
    await studio.api.studio.setLogo({
      name: 'mark.png',
      base64: base64(await aMark(300, 100).png().toBuffer()),
    })
    const before = await studio.api.studio.logo()
    const whole = await aMark(300, 100).png().toBuffer()
    const frames = await sharp(
      [await aMark(80, 80).png().toBuffer(), await aMark(80, 80).negate().png().toBuffer()],
      {
        join: { animated: true },
      },
    )
      .webp()
      .toBuffer()
    // PNG, third edition: acTL stands before IDAT.
    const moving = Buffer.concat([
      whole.subarray(0, 33),
      Buffer.from('\0\0\0\u0008acTL\0\0\0\u0002\0\0\0\0\0\0\0\0', 'latin1'),
      whole.subarray(33),
    ])
    const cases: readonly (readonly [string, Uint8Array, string])[] = [
      ['mark.svg', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 'logo-type'],
      ['mark.png', whole.subarray(0, whole.length / 2), 'logo-damaged'],
      ['moving.webp', frames, 'logo-moves'],
      ['moving.png', moving, 'logo-moves'],
      ['dot.png', await aMark(20, 20).png().toBuffer(), 'logo-small'],
      [
        'wall.png',
        await sharp({ create: { width: 10_000, height: 5100, channels: 3, background: '#fff' } })
          .png()
          .toBuffer(),
        'logo-large',
      ],
    ]
    for (const [name, bytes, code] of cases) {
      await expect(studio.api.studio.setLogo({ name, base64: base64(bytes) }), name).rejects.toMatchObject({
        cause: { code },
      })
    }
    expect(await studio.api.studio.logo()).toEqual(before)
  })
})
