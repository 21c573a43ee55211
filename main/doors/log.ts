import { appendFileSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'

/** Where bugs are written down. Refusals never come here: they are answers. */
export interface BugLog {
  /** Writes one bug with its stack; `where` says what was being done. Never throws itself. */
  bug(where: string, error: unknown): void
}

const fileBytes = 1_000_000
const names = ['studio.log', 'studio.1.log', 'studio.2.log'] as const

/**
 * A log in the studio folder that keeps the last three files of a megabyte each.
 * @param folder    gives the open studio's folder; while none is open, bugs go to the program's own output
 * @param maxBytes  the size at which a file is put aside
 */
export function bugLog(folder: () => string | undefined, maxBytes: number = fileBytes): BugLog {
  return {
    bug(where, error) {
      const entry = `${new Date().toISOString()} ${where}\n${described(error)}\n\n`
      const at = folder()
      if (at === undefined) {
        process.stderr.write(entry)
        return
      }
      try {
        rotate(at, maxBytes)
        appendFileSync(join(at, names[0]), entry)
      } catch (failure) {
        // A full or vanished disk must not turn one bug into two.
        process.stderr.write(`${entry}The log in ${at} could not be written: ${described(failure)}\n`)
      }
    },
  }
}

function rotate(folder: string, maxBytes: number): void {
  const [newest, older, oldest] = names.map((name) => join(folder, name)) as [string, string, string]
  const size = statSync(newest, { throwIfNoEntry: false })?.size ?? 0
  if (size < maxBytes) return
  rmSync(oldest, { force: true })
  if (statSync(older, { throwIfNoEntry: false })) renameSync(older, oldest)
  renameSync(newest, older)
}

/** The stack, and the stacks of what caused it. */
function described(error: unknown): string {
  if (!(error instanceof Error)) return String(error)
  const own = error.stack ?? `${error.name}: ${error.message}`
  return error.cause === undefined ? own : `${own}\ncaused by ${described(error.cause)}`
}
