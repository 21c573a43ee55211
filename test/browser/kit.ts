import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core'
import { describe } from 'vitest'

const project = join(import.meta.dirname, '../..')
const program = chromiumProgram()
const missing = whatIsMissing()

// Beyond running without a display and as root, these keep Chromium from calling home.
const switches = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** A suite in a real browser through the browser door; where there is none it is skipped, and says so. */
export function describeBrowser(name: string, suite: () => void): void {
  if (missing) process.stderr.write(`SKIPPED, not passed: "${name}". ${missing}\n`)
  describe.skipIf(missing !== undefined)(name, suite)
}

export interface Host {
  readonly process: ChildProcess
  /** The address with its key, good once. */
  readonly address: string
  /** The studio's folder. */
  readonly studio: string
  /** Ends the program as Ctrl+C would, and gives its exit code. */
  close(): Promise<number | null>
}

/**
 * Starts the built browser door as a program of its own.
 * @param studio  an existing studio's folder; without it a temporary folder with no studio in it
 * @param port    the port it tries first
 */
export async function startHost(studio?: string, port?: number): Promise<Host> {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-browser-'))
  const folder = studio ?? join(place, 'studio')
  const named = port === undefined ? [] : ['--port', String(port)]
  const child = spawn(process.execPath, ['dist/main/host.js', '--studio', folder, ...named], {
    cwd: project,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const address = await printedAddress(child)
  return {
    process: child,
    address,
    studio: folder,
    async close() {
      if (child.exitCode === null && child.signalCode === null) {
        const exited = once(child, 'exit')
        child.kill('SIGINT')
        await exited
      }
      rmSync(place, { recursive: true, force: true })
      return child.exitCode
    },
  }
}

export interface OpenBrowser {
  readonly browser: Browser
  readonly context: BrowserContext
  readonly page: Page
  readonly host: Host
  /** What any page of this browser complained of in its console, and what it threw. */
  readonly complaints: string[]
  close(): Promise<void>
}

/**
 * Starts the browser door and a browser that has come in by its address.
 * @param more  switches of Chromium beside the usual ones, such as a film for its camera
 * @param at    the port that the door tries first, and what the browser is like: its window, its touch
 */
export async function openBrowser(
  studio?: string,
  more: readonly string[] = [],
  at: { readonly port?: number; readonly context?: BrowserContextOptions } = {},
): Promise<OpenBrowser> {
  const host = await startHost(studio, at.port)
  const browser = await chromium.launch({ executablePath: program ?? '', args: [...switches, ...more] })
  const context = await browser.newContext({
    viewport: { width: 1360, height: 860 },
    locale: 'en-GB',
    ...at.context,
  })
  const page = await context.newPage()
  const complaints: string[] = []
  context.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text())
  })
  context.on('weberror', (failure) => complaints.push(String(failure.error())))
  await page.goto(host.address)
  return {
    browser,
    context,
    page,
    host,
    complaints,
    async close() {
      await browser.close()
      await host.close()
    },
  }
}

function printedAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = ''
    child.stdout?.setEncoding('utf8').on('data', (text: string) => {
      printed += text
      const address = /http:\/\/\S+\/\?key=[\w-]+/.exec(printed)?.[0]
      if (address) resolve(address)
    })
    child.once('exit', (code) =>
      reject(new Error(`The browser door ended with ${code}. It had said: ${printed}`)),
    )
  })
}

/** Chromium by the usual names on the path, or the one that TURNSHEET_CHROMIUM names. */
function chromiumProgram(): string | undefined {
  const named = process.env.TURNSHEET_CHROMIUM
  if (named) return named
  const folders = (process.env.PATH ?? '').split(delimiter)
  const names = ['chromium', 'chromium-browser', 'google-chrome']
  return folders.flatMap((folder) => names.map((name) => join(folder, name))).find((file) => existsSync(file))
}

function whatIsMissing(): string | undefined {
  if (!existsSync(join(project, 'dist/main/host.js'))) return 'The program is not built: npm run build.'
  if (!program) return 'There is no Chromium on the path; TURNSHEET_CHROMIUM can name one.'
  return undefined
}
