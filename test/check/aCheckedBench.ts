import fs from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { onTestFinished } from 'vitest'
import type { caller } from '../../main/api/caller.ts'
import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'
import { stopWatchingFolders, watchFolders } from '../../main/work/folderWatches.ts'
import { followChecks, stopChecks } from '../../main/work/takeChecks.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { type AtTheBench, atTheBench } from '../takes/aSpin.ts'

type Calls = ReturnType<typeof caller>['takeCheck']

export interface CheckedBench extends AtTheBench {
  readonly folder: string
  /** Starts a take that is counted by the files arriving in the folder, or in another one. */
  startByFolder(inFolder?: string): Promise<number>
  status(takeId: number): ReturnType<Calls['status']>
  report(takeId: number): ReturnType<Calls['report']>
}

/** Lets counting and checking follow the studio as the program does, until the test has finished. */
export function follow({ studio }: Pick<AtTheBench, 'studio'>): void {
  const { house, db } = studio
  const stops = [
    house.listen(() => {
      if (house.studio) watchFolders(house.studio, () => house.changed('frameFolders.counted'))
    }),
    house.listen(({ path: change }) => {
      if (house.studio && change !== 'takeCheck.read') {
        followChecks(house.studio, () => house.changed('takeCheck.read'))
      }
    }),
  ]
  onTestFinished(() => {
    for (const stop of stops) stop()
    stopWatchingFolders(db)
    stopChecks(db)
  })
}

export async function aCheckedBench(framesPerTurn = 24): Promise<CheckedBench> {
  const bench = await atTheBench()
  bench.studio.db.prepare('UPDATE shoot_row SET frames_per_turn = ?, overlap_frames = 2').run(framesPerTurn)
  follow(bench)
  const folder = aFrameFolder()
  return {
    ...bench,
    folder,
    async startByFolder(inFolder = folder) {
      bench.pass(60_000)
      const shootId = Number(bench.shootIds[0])
      return (await bench.api.takes.start({ shootId, ...bench.stand, folder: inFolder })).takeId
    },
    status: (takeId) => bench.api.takeCheck.status({ takeId }),
    report: (takeId) => bench.api.takeCheck.report({ takeId }),
  }
}

/** Writes frames as a tether does: beside their place, then moved there. Real JPEGs, or whatever the name ends with. */
export async function writeFrames(
  folder: string,
  frames: readonly SmallFrame[],
  from = 1,
  writtenAt?: Date,
): Promise<string[]> {
  const names: string[] = []
  for (const [k, { rgb, widthPx, heightPx }] of frames.entries()) {
    const name = `IMG_${String(from + k).padStart(4, '0')}.JPG`
    const part = path.join(folder, `${name}.part`)
    await sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
      .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
      .toFile(part)
    if (writtenAt) fs.utimesSync(part, writtenAt, writtenAt)
    fs.renameSync(part, path.join(folder, name))
    names.push(name)
  }
  return names
}
