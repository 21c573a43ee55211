import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, it, onTestFinished, vi } from 'vitest'
import { findDesktopRuntime } from '../../main/doors/desktopRuntime.ts'

afterEach(() => vi.unstubAllEnvs())

const silent = () => {
  throw new Error('Nothing may be fetched here.')
}

function anEmptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'turnsheet-runtime-'))
  onTestFinished(() => rmSync(folder, { recursive: true }))
  return folder
}

// Windows and macOS always have a display, so that the order can be told apart on Linux alone.
describe.skipIf(process.platform !== 'linux')('the way to the desktop window', () => {
  it('asks for a display first, even where the runtime is there', async () => {
    const folder = anEmptyFolder()
    writeFileSync(join(folder, 'electron'), '')
    vi.stubEnv('DISPLAY', '')
    vi.stubEnv('WAYLAND_DISPLAY', '')
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', folder)
    expect(await findDesktopRuntime(folder, silent)).toEqual({ missing: 'this computer has no display' })
  })

  it('takes the runtime that is named, and says so where there is none in it', async () => {
    const folder = anEmptyFolder()
    vi.stubEnv('DISPLAY', ':1')
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', folder)
    expect(await findDesktopRuntime(folder, silent)).toEqual({
      missing: `ELECTRON_OVERRIDE_DIST_PATH, ${folder}, holds no Electron`,
    })
    writeFileSync(join(folder, 'electron'), '')
    expect(await findDesktopRuntime(folder, silent)).toEqual({ program: join(folder, 'electron') })
  })

  it('fetches nothing where Electron is not even installed', async () => {
    vi.stubEnv('DISPLAY', ':1')
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', undefined)
    expect(await findDesktopRuntime(anEmptyFolder(), silent)).toEqual({
      missing: 'Electron is not installed',
    })
  })
})
