import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { _electron, type ElectronApplication, type Page } from 'playwright-core'
import { describe } from 'vitest'

const project = join(import.meta.dirname, '../..')
/** A packaged program to be tested in place of the built one. */
const packaged = process.env.TURNSHEET_PROGRAM
const missing = whatIsMissing()

/** A suite in the real desktop window; where that cannot be had it is skipped, and says so. */
export function describeDesktop(name: string, suite: () => void): void {
  if (missing) process.stderr.write(`SKIPPED, not passed: "${name}". ${missing}\n`)
  describe.skipIf(missing !== undefined)(name, suite)
}

export interface Desktop {
  readonly app: ElectronApplication
  readonly page: Page
  /** The studio's folder. */
  readonly studio: string
  /** What the page complained of in its console, and what it threw. */
  readonly complaints: string[]
  /** Closes the program, and removes the studio where it was a temporary one. */
  close(): Promise<void>
}

/**
 * Starts the built desktop program with a home of its own.
 * @param studio  an existing studio's folder; without it a temporary folder with no studio in it
 * @param keptHome the home of an earlier run, to go on as the same person on the same computer
 */
export async function openDesktop(studio?: string, keptHome?: string): Promise<Desktop> {
  const home = keptHome ?? mkdtempSync(join(tmpdir(), 'turnsheet-desktop-'))
  const folder = studio ?? join(home, 'studio')
  const app = await _electron.launch({
    executablePath: programFile(),
    args: ['--no-sandbox', ...(packaged ? [] : ['.']), '--studio', folder],
    cwd: project,
    env: { ...environment(), ...nativeBinding(), HOME: home, XDG_CONFIG_HOME: join(home, 'config') },
  })
  const complaints: string[] = []
  const page = await app.firstWindow()
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(String(error)))
  await page.waitForLoadState('load')
  return {
    app,
    page,
    studio: folder,
    complaints,
    async close() {
      await app.close()
      if (keptHome === undefined) rmSync(home, { recursive: true, force: true })
    },
  }
}

function runtimeFolder(): string {
  return process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(project, 'node_modules/electron/dist')
}

function programFile(): string {
  if (packaged) return packaged
  const written = join(project, 'node_modules/electron/path.txt')
  return join(runtimeFolder(), existsSync(written) ? readFileSync(written, 'utf8').trim() : 'electron')
}

function whatIsMissing(): string | undefined {
  if (!existsSync(join(project, 'dist/main/desktop.js'))) return 'The program is not built: npm run build.'
  if (!existsSync(programFile())) return 'Electron’s runtime is not on this computer.'
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    return 'There is no display: run it under xvfb-run -a.'
  }
  return undefined
}

/** A runtime with an older Node-API brings a binding of its own beside its default application. */
function nativeBinding(): Record<string, string> {
  const rebuilt = join(runtimeFolder(), 'resources/app/better_sqlite3.node')
  return existsSync(rebuilt) ? { TURNSHEET_NATIVE_BINDING: rebuilt } : {}
}

function environment(): Record<string, string> {
  const kept = Object.entries(process.env).filter(
    ([name]) => name !== 'ELECTRON_RUN_AS_NODE' && name !== 'NODE_OPTIONS',
  )
  return Object.fromEntries(kept.filter((entry): entry is [string, string] => entry[1] !== undefined))
}
