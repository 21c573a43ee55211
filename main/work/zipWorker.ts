import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate'

/** One file of an archive: bytes that lie on the disk and must have this hash, or a text. */
export interface ZipEntry {
  readonly name: string
  /** The document's number in the manifest; empty for the lists. */
  readonly number: string
  readonly from: { readonly file: string; readonly sha256: string } | { readonly text: string }
}

export interface ZipWork {
  readonly target: string
  readonly entries: readonly ZipEntry[]
  /** Days of the period, in the manifest's head row as they are. */
  readonly writtenAt: string
  readonly flag: Int32Array
}

export type ZipTold =
  | { readonly state: 'working'; readonly done: number }
  | { readonly state: 'done'; readonly sha256: string; readonly bytes: number; readonly files: number }
  | { readonly state: 'stopped' }
  | { readonly state: 'spoilt'; readonly name: string }

const { target, entries, writtenAt, flag } = workerData as ZipWork
const tell = (told: ZipTold) => parentPort?.postMessage(told)

/** Writes the archive entry by entry; no more than one file is in memory. */
function write(): ZipTold {
  const out = fs.openSync(target, 'wx')
  const hash = createHash('sha256')
  let bytes = 0
  const zip = new Zip((error, chunk) => {
    if (error) throw error
    fs.writeSync(out, chunk)
    hash.update(chunk)
    bytes += chunk.length
  })
  const add = (name: string, content: Uint8Array) => {
    // PDFs are packed already.
    const entry = name.endsWith('.pdf') ? new ZipPassThrough(name) : new ZipDeflate(name, { level: 6 })
    entry.mtime = writtenAt
    zip.add(entry)
    entry.push(content, true)
  }
  const manifest = ['number,name,sha256,bytes']
  try {
    for (const [done, { name, number, from }] of entries.entries()) {
      if (Atomics.load(flag, 0) !== 0) return { state: 'stopped' }
      const content = 'text' in from ? new TextEncoder().encode(from.text) : readWhole(from.file)
      const sha256 = content && createHash('sha256').update(content).digest('hex')
      if (!content || ('file' in from && sha256 !== from.sha256)) return { state: 'spoilt', name }
      add(name, content)
      manifest.push(`${number},${name},${sha256},${content.length}`)
      if (done % 50 === 0) tell({ state: 'working', done })
    }
    add('manifest.csv', new TextEncoder().encode(`${manifest.join('\r\n')}\r\n`))
    zip.end()
    fs.fsyncSync(out)
    return { state: 'done', sha256: hash.digest('hex'), bytes, files: entries.length + 1 }
  } finally {
    fs.closeSync(out)
  }
}

function readWhole(file: string): Uint8Array | undefined {
  return fs.existsSync(file) ? fs.readFileSync(file) : undefined
}

tell(write())
