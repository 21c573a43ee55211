import { readFile, stat } from 'node:fs/promises'
import path from 'node:path'
import type { Id } from '../../db/ids.ts'
import { keepTakePicture } from '../../db/takePictures.ts'
import { type FiledFrame, hasPicture } from '../../db/takeWatch.ts'
import { baseName, frameName } from '../trade/frameFiles.ts'
import type { WatchedStudio } from './folderWatch.ts'
import { smallPicture } from './smallPicture.ts'

const mostBytes = 100_000_000

/**
 * Keeps the picture of a take from the file of its first good frame, where it has none yet. A raw file, or one
 * that cannot be read now, is passed over: a take is never stopped by its picture.
 * @returns true where a picture was kept
 */
export async function keepFrameAsPicture(
  studio: WatchedStudio,
  takeId: Id<'take'>,
  frames: readonly FiledFrame[],
): Promise<boolean> {
  const first = frames.find(({ isVoid }) => !isVoid)
  if (!first || frameName(first.file)?.kind !== 'picture' || hasPicture(studio.db, takeId)) return false
  try {
    const file = path.join(first.folder, first.file)
    if ((await stat(file)).size > mostBytes) return false
    const small = await smallPicture(await readFile(file), baseName(first.file))
    if (!studio.db.open || hasPicture(studio.db, takeId)) return false
    const writing = {
      db: studio.db,
      who: studio.owner,
      now: studio.now().toISOString(),
      folder: studio.folder,
    }
    keepTakePicture(writing, takeId, small.bytes, baseName(first.file), small.mediaType)
    return true
  } catch {
    return false
  }
}
