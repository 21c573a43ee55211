import { spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { build } from 'vite'

/** Bundles a TypeScript file into a program `name`.mjs of its own in a folder, and gives its path. */
export async function buildProgram(folder: string, source: string, name: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: source,
      outDir: folder,
      emptyOutDir: false,
      rolldownOptions: { external: ['better-sqlite3'], output: { entryFileNames: `${name}.mjs` } },
    },
  })
  // Beside the bundle, so that it finds the SQLite binding that it leaves outside.
  const modules = path.join(folder, 'node_modules')
  if (!fs.existsSync(modules)) {
    fs.symlinkSync(path.resolve(import.meta.dirname, '../../node_modules'), modules, 'junction')
  }
  return path.join(folder, `${name}.mjs`)
}

/** Runs a program and kills it some milliseconds after its first line; gives the whole lines it said. */
export function runUntilKilled(
  program: string,
  argument: string,
  afterMs: number,
): Promise<readonly string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [program, argument], { stdio: ['ignore', 'pipe', 'pipe'] })
    let said = ''
    let complaint = ''
    child.stderr.on('data', (data) => {
      complaint += String(data)
    })
    child.stdout.on('data', (data) => {
      if (said === '') setTimeout(() => child.kill('SIGKILL'), afterMs)
      said += String(data)
    })
    child.once('close', (_code, signal) => {
      if (signal !== 'SIGKILL') reject(new Error(`The program ended by itself: ${complaint}`))
      // A line cut short by the kill was not yet said.
      else resolve(said.split('\n').slice(0, -1))
    })
  })
}

/** Moments that are random but the same in every run (Park–Miller minimal standard generator, from memory). */
export function moments(): () => number {
  let seed = 20260302
  return () => {
    seed = (seed * 48_271) % 2_147_483_647
    return seed / 2_147_483_647
  }
}
