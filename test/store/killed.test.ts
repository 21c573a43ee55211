import { spawn } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openStore } from '../../db/open.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'

const kills = 200

/** The moments are random but the same in every run (Park–Miller minimal standard generator, from memory). */
function moments(): () => number {
  let seed = 20260302
  return () => {
    seed = (seed * 48_271) % 2_147_483_647
    return seed / 2_147_483_647
  }
}

describe('a program killed while it writes', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-killed-'))
  const studio = path.join(folder, 'studio')

  beforeAll(async () => {
    const house = new StudioHouse({
      studioFolder: studio,
      demoFolder: `${studio}-demo`,
      now: () => new Date(),
    })
    makeStudio(house, studio, {
      name: 'Lindenhof Spin Studio',
      personName: 'Mara Quist',
      country: 'DE',
      currency: 'EUR',
      timeZone: 'Europe/Berlin',
      locale: 'en-GB',
      taxName: 'VAT',
      taxRatePpm: 200_000,
      isDemo: false,
    })
    house.leave()?.close()
    await buildWriter(folder)
  })
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

  it(`keeps every acknowledged write whole over ${kills} kills`, { timeout: 300_000 }, async () => {
    const random = moments()
    let acknowledged = 0
    for (let kill = 0; kill < kills; kill += 1) {
      const ids = await writeUntilKilled(path.join(folder, 'writer.mjs'), studio, 1 + random() * 40)
      acknowledged += ids.length
      const db = openStore(path.join(studio, 'studio.db'))
      const kept = new Set(db.prepare('SELECT id FROM client').pluck().all())
      expect(ids.filter((id) => !kept.has(id))).toEqual([])
      // A client without its brief's rows or its event would be half a transaction.
      const events = db.prepare(`SELECT count(*) FROM event WHERE what = 'client added'`).pluck().get()
      const rows = db.prepare('SELECT count(*) FROM brief_row').pluck().get()
      expect([events, rows]).toEqual([kept.size, kept.size])
      expect(db.pragma('integrity_check', { simple: true })).toBe('ok')
      expect(db.pragma('foreign_key_check')).toEqual([])
      db.close()
    }
    expect(acknowledged).toBeGreaterThan(kills)
  })
})

/** Runs the writer and kills it some milliseconds after its first write; gives the numbers it said. */
function writeUntilKilled(writer: string, studio: string, afterMs: number): Promise<readonly number[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [writer, studio], { stdio: ['ignore', 'pipe', 'pipe'] })
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
      if (signal !== 'SIGKILL') reject(new Error(`The writer ended by itself: ${complaint}`))
      // A number cut short by the kill was not yet said.
      else resolve(said.split('\n').slice(0, -1).map(Number))
    })
  })
}

async function buildWriter(folder: string): Promise<void> {
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: path.join(import.meta.dirname, 'writer.ts'),
      outDir: folder,
      emptyOutDir: false,
      rolldownOptions: { external: ['better-sqlite3'], output: { entryFileNames: 'writer.mjs' } },
    },
  })
  // Beside the bundle, so that it finds the SQLite binding that it leaves outside.
  fs.symlinkSync(
    path.resolve(import.meta.dirname, '../../node_modules'),
    path.join(folder, 'node_modules'),
    'junction',
  )
}
