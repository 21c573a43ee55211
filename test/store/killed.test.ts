import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openStore } from '../../db/open.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { buildProgram, moments, runUntilKilled } from './programs.ts'

const kills = 200

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
    await buildProgram(folder, path.join(import.meta.dirname, 'writer.ts'), 'writer')
  })
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

  it(`keeps every acknowledged write whole over ${kills} kills`, { timeout: 300_000 }, async () => {
    const random = moments()
    let acknowledged = 0
    for (let kill = 0; kill < kills; kill += 1) {
      const said = await runUntilKilled(path.join(folder, 'writer.mjs'), studio, 1 + random() * 40)
      const ids = said.map(Number)
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
