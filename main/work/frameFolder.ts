import type { Dirent } from 'node:fs'
import { readdir, stat } from 'node:fs/promises'
import path from 'node:path'
import { frameName, isCameraFolder, joinFrames, type SeenFile } from '../trade/frameFiles.ts'
import { Refusal } from '../trade/refusal.ts'

const mostFiles = 100_000
const mostFolders = 20

/** A folder of frames as it was read. */
export interface FrameFolder {
  readonly files: readonly SeenFile[]
  /** The drive it lies on, as the system numbers it: another card under the same path has another. */
  readonly drive: number
}

/**
 * The frames' files in a folder and in the folders that cameras make in it (DCIM, 100XXXXX); other folders in it
 * are left out. Nothing there is changed, and links are not followed. Throws what the system says of a folder
 * that cannot be read: `folderSentence` puts it into words.
 * @param isKnown  keys of frames of which only the name is asked: their size and time are given as 0
 */
export async function readFrameFolder(
  folder: string,
  isKnown: (key: string) => boolean = () => false,
): Promise<FrameFolder> {
  const { dev } = await stat(folder)
  const files: SeenFile[] = []
  await readInto(files, folder, '', isKnown)
  return { files, drive: dev }
}

async function readInto(
  files: SeenFile[],
  root: string,
  within: string,
  isKnown: (key: string) => boolean,
): Promise<void> {
  for (const entry of await entriesOf(path.join(root, within), within !== '')) {
    const name = within === '' ? entry.name : `${within}/${entry.name}`
    if (entry.isDirectory() && isCameraFolder(entry.name)) await readInto(files, root, name, isKnown)
    const frame = entry.isDirectory() || entry.isSymbolicLink() ? undefined : frameName(name)
    if (!frame) continue
    const seen = isKnown(frame.key) ? { name, bytes: 0, modifiedMs: 0 } : await seenFile(root, name)
    if (seen) files.push(seen)
    if (files.length > mostFiles) throw Object.assign(new Error('too many files'), { code: 'E2BIG' })
  }
}

/** A folder within that went away while it was read is empty. */
async function entriesOf(folder: string, isWithin: boolean): Promise<Dirent[]> {
  try {
    return await readdir(folder, { withFileTypes: true })
  } catch (error) {
    if (isWithin && codeOf(error) === 'ENOENT') return []
    throw error
  }
}

/** A file that went away since its name was read is not there. */
async function seenFile(root: string, name: string): Promise<SeenFile | undefined> {
  try {
    const found = await stat(path.join(root, name))
    return found.isFile() ? { name, bytes: found.size, modifiedMs: Math.round(found.mtimeMs) } : undefined
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined
    throw error
  }
}

/** Reads a folder that a person has just named; refuses, in a sentence, one that is not there or cannot be read. */
export async function readNamedFolder(folder: string): Promise<FrameFolder> {
  if (!path.isAbsolute(folder)) throw notThere(folder)
  try {
    return await readFrameFolder(folder)
  } catch (error) {
    const code = codeOf(error)
    if (code === 'ENOENT' || code === 'ENOTDIR') throw notThere(folder)
    if (code === undefined) throw error
    throw new Refusal('folder-unreadable', folderSentence(folder, error), { field: 'folder' })
  }
}

/** Refuses none, more than 20, and a folder that is named twice. */
export function refuseFolders(folders: readonly string[]): void {
  if (folders.length === 0 || folders.length > mostFolders) {
    throw new Refusal(
      'folder-count',
      `${folders.length} folders were named. Name from 1 to ${mostFolders}, one for each card.`,
      { field: 'folders' },
    )
  }
  const twice = folders.find((folder, index) => folders.indexOf(folder) !== index)
  if (twice !== undefined) {
    throw new Refusal('folder-twice', `${twice} was named twice. Take one of them out.`, { field: 'folders' })
  }
}

/** The keys of the frames that lie in a folder. */
export function keysOf({ files }: FrameFolder): string[] {
  return joinFrames(files).map(({ key }) => key)
}

function notThere(folder: string): Refusal {
  return new Refusal(
    'no-folder',
    `There is no folder ${folder} on this computer. Give its whole path, as the file manager shows it.`,
    { field: 'folder' },
  )
}

/** Why a folder cannot be read, and what to do. */
export function folderSentence(folder: string, error: unknown): string {
  switch (codeOf(error)) {
    case 'ENOENT':
    case 'ENOTDIR':
    case 'ENODEV':
    case 'ENXIO':
      return `${folder} is not there any more. Put the card or drive back, or connect the network again.`
    case 'EACCES':
    case 'EPERM':
      return `${folder} may not be read by this program. Change its rights, or choose another folder.`
    case 'E2BIG':
      return `${folder} holds more than 100,000 frames. Choose the folder of this take.`
    default:
      return `${folder} cannot be read now. Check the card, the drive or the network.`
  }
}

export function codeOf(error: unknown): string | undefined {
  return (error as { readonly code?: string } | undefined)?.code
}
