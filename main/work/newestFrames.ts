import type { FrameFiles } from '../trade/frameFiles.ts'
import { inShootingOrder, joinFrames } from '../trade/frameFiles.ts'
import { Refusal } from '../trade/refusal.ts'
import type { AidFrame } from './checkAidsWorker.ts'
import { readNamedFolder } from './frameFolder.ts'

/** The frames of a folder that a person named, in the order they were shot. Refuses as `readNamedFolder` does. */
export async function framesInOrder(folder: string): Promise<readonly FrameFiles[]> {
  return inShootingOrder(joinFrames((await readNamedFolder(folder)).files))
}

/**
 * The frames after one, by its key; all of them where there was none. Refuses where that frame is gone: what came
 * after it cannot be told any more.
 */
export function framesAfter(frames: readonly FrameFiles[], after: string | null): readonly FrameFiles[] {
  if (after === null) return frames
  const at = frames.findIndex(({ key }) => key === after)
  if (at < 0) {
    throw new Refusal('frame-gone', `${after} lay in the folder when you began, and is gone. Begin again.`, {
      field: 'folder',
    })
  }
  return frames.slice(at + 1)
}

/** The newest frame of a folder, or the one that is named. Refuses an empty folder and a frame that is not there. */
export function newestFrame(frames: readonly FrameFiles[], key: string | null): FrameFiles {
  const frame = key === null ? frames.at(-1) : frames.find((one) => one.key === key)
  if (frame) return frame
  throw key === null
    ? new Refusal('no-frame', 'No frame lies in this folder yet. Shoot one, and it is looked at.', {
        field: 'folder',
      })
    : new Refusal('frame-gone', `${key} is not in the folder any more. Shoot it again.`, { field: 'folder' })
}

/** A frame for the thread of the helps. Its stamp changes while its files are still being written. */
export function aidFrame(folder: string, { files }: FrameFiles): AidFrame {
  return {
    folder,
    files: files.map(({ name }) => name),
    stamp: files.map(({ bytes, modifiedMs }) => `${bytes} ${modifiedMs}`).join(' '),
  }
}
