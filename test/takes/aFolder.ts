import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { onTestFinished } from 'vitest'
import { stopWatchingFolders, watchFolders } from '../../main/work/folderWatches.ts'
import { type AtTheBench, atTheBench } from './aSpin.ts'

/** A folder of its own on disk; gone when the test has finished. */
export function aFrameFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-frames-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A bench at which takes are counted by a folder, wired as the program wires it. */
export async function atTheWatchedBench(): Promise<
  Omit<AtTheBench, 'start'> & { readonly folder: string; start(inFolder?: string): Promise<number> }
> {
  const bench = await atTheBench()
  const { house, db } = bench.studio
  const stopListening = house.listen(() => {
    if (house.studio) watchFolders(house.studio, () => house.changed('frameFolders.counted'))
  })
  onTestFinished(() => {
    stopListening()
    stopWatchingFolders(db)
  })
  const folder = aFrameFolder()
  return {
    ...bench,
    folder,
    async start(inFolder = folder) {
      bench.pass(60_000)
      const { takeId } = await bench.api.takes.start({
        shootId: Number(bench.shootIds[0]),
        ...bench.stand,
        folder: inFolder,
      })
      return takeId
    },
  }
}

/** A real JPEG with what a camera writes into it. `at` is local: 2026:03:02 09:00:00. */
export async function aPhotograph(
  exif: { readonly at?: string; readonly subSeconds?: string; readonly offset?: string } = {},
): Promise<Buffer> {
  const plain = sharp({ create: { width: 48, height: 32, channels: 3, background: '#888' } })
  const IFD2 = {
    ...(exif.at ? { DateTimeOriginal: exif.at } : {}),
    ...(exif.subSeconds ? { SubSecTimeOriginal: exif.subSeconds } : {}),
    ...(exif.offset ? { OffsetTimeOriginal: exif.offset } : {}),
  }
  return (Object.keys(IFD2).length > 0 ? plain.withExif({ IFD2 }) : plain).jpeg().toBuffer()
}
