import { writeFileSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'

/** A rendered frame as a camera would write it: a JPEG, enlarged to so many pixels of width. */
export async function asJpeg({ rgb, widthPx, heightPx }: SmallFrame, cameraWidthPx = 960): Promise<Buffer> {
  return sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .resize({ width: cameraWidthPx })
    .jpeg({ quality: 92 })
    .toBuffer()
}

/** Writes rendered frames into a folder, numbered from the one given: `IMG_0001.JPG`. */
export async function writeFrames(
  folder: string,
  frames: readonly SmallFrame[],
  firstNumber = 1,
): Promise<readonly string[]> {
  const names = frames.map((_, index) => `IMG_${String(firstNumber + index).padStart(4, '0')}.JPG`)
  for (const [index, frame] of frames.entries()) {
    writeFileSync(path.join(folder, names[index] ?? ''), await asJpeg(frame))
  }
  return names
}

/** Writes pictures on to a card as a camera does: numbered on, so many seconds apart, each with its local time. */
export async function writeCard(
  folder: string,
  pictures: readonly Buffer[],
  of: { readonly firstNumber: number; readonly at: string; readonly stepSeconds?: number },
): Promise<void> {
  const start = Date.parse(`${of.at}Z`)
  for (const [index, picture] of pictures.entries()) {
    const at = new Date(start + index * (of.stepSeconds ?? 6) * 1000).toISOString()
    const DateTimeOriginal = `${at.slice(0, 10).replaceAll('-', ':')} ${at.slice(11, 19)}`
    const name = `IMG_${String(of.firstNumber + index).padStart(4, '0')}.JPG`
    const jpeg = await sharp(picture)
      .withExif({ IFD2: { DateTimeOriginal } })
      .jpeg({ quality: 88 })
      .toBuffer()
    writeFileSync(path.join(folder, name), jpeg)
  }
}
