import { spawn } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

export type DesktopRuntime = { readonly program: string } | { readonly missing: string }

const reachMs = 10_000
const downloadMs = 10 * 60_000

/**
 * Finds Electron's program: a display first, then the runtime's file, then, with a display alone, a
 * download. Requiring the `electron` package would start that download unasked and may wait for ever.
 * @returns the program's path, or why there is none, as the middle of a sentence
 */
export async function findDesktopRuntime(
  project: string,
  say: (line: string) => void,
): Promise<DesktopRuntime> {
  if (!hasDisplay()) return { missing: 'this computer has no display' }
  const override = process.env.ELECTRON_OVERRIDE_DIST_PATH
  const folder = override ?? join(project, 'node_modules/electron/dist')
  const program = join(folder, programName(project))
  if (existsSync(program)) return { program }
  if (override) return { missing: `ELECTRON_OVERRIDE_DIST_PATH, ${override}, holds no Electron` }
  if (!existsSync(join(project, 'node_modules/electron/install.js'))) {
    return { missing: 'Electron is not installed' }
  }
  if (!(await canReachDownloads(project))) {
    return { missing: 'Electron’s runtime is not on this computer and its download cannot be reached' }
  }
  say('Fetching Electron’s runtime, about 110 MB, once.')
  await run(process.execPath, ['node_modules/electron/install.js'], project, downloadMs)
  return existsSync(program) ? { program } : { missing: 'the download of Electron’s runtime did not succeed' }
}

/**
 * Opens the desktop program and waits until it is closed.
 * @returns its exit code, or 'could not start' where it failed within its first seconds
 */
export async function openDesktop(
  program: string,
  project: string,
  studio: string,
): Promise<number | 'could not start'> {
  const started = Date.now()
  // Chromium's own sandbox cannot run for root; the page's isolation from Node stays as it is.
  const root = process.platform === 'linux' && process.getuid?.() === 0 ? ['--no-sandbox'] : []
  const code = await run(program, ['.', ...root, '--studio', studio], project)
  return code !== 0 && Date.now() - started < 5000 ? 'could not start' : code
}

function hasDisplay(): boolean {
  if (process.platform === 'win32' || process.platform === 'darwin') return true
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY)
}

/** The program's name inside the runtime's folder; the package writes it down once it has installed one. */
function programName(project: string): string {
  const written = join(project, 'node_modules/electron/path.txt')
  if (existsSync(written)) return readFileSync(written, 'utf8').trim()
  if (process.platform === 'win32') return 'electron.exe'
  return process.platform === 'darwin' ? 'Electron.app/Contents/MacOS/Electron' : 'electron'
}

/** Asks for the first bytes of the very file, so that a network that only swallows requests is told early. */
async function canReachDownloads(project: string): Promise<boolean> {
  const { version } = JSON.parse(readFileSync(join(project, 'node_modules/electron/package.json'), 'utf8'))
  const mirror = process.env.ELECTRON_MIRROR ?? 'https://github.com/electron/electron/releases/download/'
  const file = `electron-v${version}-${process.platform}-${process.arch}.zip`
  try {
    const answer = await fetch(`${mirror}v${version}/${file}`, {
      method: 'HEAD',
      signal: AbortSignal.timeout(reachMs),
    })
    return answer.ok
  } catch {
    return false
  }
}

function run(program: string, args: readonly string[], cwd: string, limitMs?: number): Promise<number> {
  const { ELECTRON_RUN_AS_NODE: _, ...env } = process.env
  return new Promise((resolve) => {
    const child = spawn(program, args, { cwd, env, stdio: 'inherit', timeout: limitMs })
    // Ctrl+C reaches the child by itself, and a wish to end is passed on; this program waits until it has
    // closed its studio.
    const wait = () => {}
    const passOn = () => child.kill('SIGTERM')
    process.on('SIGINT', wait)
    process.on('SIGTERM', passOn)
    const ended = (code: number) => {
      process.off('SIGINT', wait)
      process.off('SIGTERM', passOn)
      resolve(code)
    }
    child.on('error', () => ended(127))
    child.on('exit', (code) => ended(code ?? 1))
  })
}
