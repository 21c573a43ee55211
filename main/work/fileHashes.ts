import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { opendir, stat } from 'node:fs/promises'
import path from 'node:path'
import { Refusal } from '../trade/refusal.ts'

/** A file of a folder, by its name within it with forward slashes, and its size. */
export interface FolderFile {
  readonly name: string
  readonly bytes: number
}

// What a system leaves in folders by itself is nobody's file.
const leftBySystems = new Set(['.DS_Store', 'Thumbs.db', 'desktop.ini'])
const chunkBytes = 1 << 20
const mostFiles = 100_000

/**
 * The files of a folder and the folders in it; nothing there is changed, and links are not followed. Refuses a
 * path that is no whole path to a folder, or to one with more than 100,000 files.
 */
export async function filesOfFolder(folder: string): Promise<readonly FolderFile[]> {
  const found = path.isAbsolute(folder) ? await stat(folder).catch(() => undefined) : undefined
  if (!found?.isDirectory()) {
    throw new Refusal(
      'no-folder',
      `There is no folder ${folder} on this computer. Give its whole path, as the file manager shows it.`,
      { field: 'folder' },
    )
  }
  const files: FolderFile[] = []
  for await (const entry of await opendir(folder, { recursive: true })) {
    if (!entry.isFile() || leftBySystems.has(entry.name)) continue
    const whole = path.join(entry.parentPath, entry.name)
    const name = path.relative(folder, whole).split(path.sep).join('/')
    files.push({ name, bytes: (await stat(whole)).size })
    if (files.length > mostFiles) {
      throw new Refusal(
        'folder-too-full',
        `${folder} holds more than 100,000 files. Choose the folder of the delivery.`,
        {
          field: 'folder',
        },
      )
    }
  }
  return files.sort((a, b) => (a.name < b.name ? -1 : 1))
}

/**
 * Size and SHA-256 (FIPS 180-4) of one file, read as a stream, so that a file of any size fits the memory and
 * the calls of other windows are answered in between.
 * @param onBytes  hears how many bytes each piece had
 */
export async function hashFile(
  file: string,
  options: { readonly signal?: AbortSignal; readonly onBytes?: (bytes: number) => void } = {},
): Promise<{ readonly bytes: number; readonly sha256: string }> {
  const hash = createHash('sha256')
  let bytes = 0
  const stream = createReadStream(file, { highWaterMark: chunkBytes, signal: options.signal })
  for await (const piece of stream as AsyncIterable<Buffer>) {
    hash.update(piece)
    bytes += piece.length
    options.onBytes?.(piece.length)
  }
  return { bytes, sha256: hash.digest('hex') }
}
