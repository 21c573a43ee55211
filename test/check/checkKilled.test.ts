import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { openStore } from '../../db/open.ts'
import { findingAnswers, keptCheck, waveOffFinding } from '../../db/takeChecks.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { writeFrames } from './aCheckedBench.ts'
import { renderTake, turnAngles } from './render.ts'

const patient = { timeout: 20_000, interval: 100 }

describe('a program killed while it checks a take', () => {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-checker-'))
  beforeAll(async () => {
    await build({
      configFile: false,
      logLevel: 'error',
      ssr: { noExternal: true, external: ['better-sqlite3', 'pdfkit', 'sharp'] },
      build: {
        ssr: true,
        outDir: place,
        emptyOutDir: false,
        rolldownOptions: {
          input: {
            counter: path.join(import.meta.dirname, '../takes/counter.ts'),
            checkWorker: path.join(import.meta.dirname, '../../main/work/checkWorker.ts'),
          },
          output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
        },
      },
    })
    fs.writeFileSync(path.join(place, 'package.json'), '{"type":"module"}')
    fs.symlinkSync(
      path.resolve(import.meta.dirname, '../../node_modules'),
      path.join(place, 'node_modules'),
      'junction',
    )
  }, 60_000)
  afterAll(() => fs.rmSync(place, { recursive: true, force: true }))

  it('keeps the last report and what was said of it, and goes on from the folder', {
    timeout: 90_000,
  }, async () => {
    const { api, shootIds, stand, studio } = await atTheBench()
    studio.db.prepare('UPDATE shoot_row SET frames_per_turn = 24').run()
    const folder = aFrameFolder()
    const { takeId } = await api.takes.start({ shootId: Number(shootIds[0]), ...stand, folder })
    // Another program takes the studio over.
    studio.house.leave()?.close()
    const inStore = <T>(ask: (db: ReturnType<typeof openStore>) => T): T => {
      const db = openStore(path.join(studio.folder, 'studio.db'))
      try {
        return ask(db)
      } finally {
        db.close()
      }
    }
    const kept = () => inStore((db) => keptCheck(db, takeId as Id<'take'>)?.report)
    const angles = turnAngles({ framesPerTurn: 24 })
    const { frames } = renderTake({
      anglesDeg: angles,
      lightEv: angles.map((_, at) => (at >= 5 ? -0.3 : 0)),
    })

    const first = await started(place, studio.folder)
    await writeFrames(folder, frames.slice(0, 12))
    await expect.poll(() => kept()?.framesRead, patient).toBe(12)
    await killed(first)
    const finding = kept()?.findings.find(({ fault }) => fault === 'light change')
    if (!finding) throw new Error('The lamp that was knocked is not found.')
    inStore((db) => {
      const [personId, deviceId] = db.prepare('SELECT person_id, id FROM device').raw().get() as number[]
      const who = { personId: personId as Id<'person'>, deviceId: deviceId as Id<'device'> }
      waveOffFinding(
        { db, who, now: '2026-03-02T09:00:00.000Z' },
        takeId as Id<'take'>,
        finding,
        'As it should be.',
      )
    })

    // Killed in the middle of reading: the kept report is whole, and no shorter than it was.
    const second = await started(place, studio.folder)
    await writeFrames(folder, frames.slice(12, 18), 13)
    await killed(second)
    expect(kept()?.framesRead).toBeGreaterThanOrEqual(12)
    expect(kept()?.frames).toHaveLength(kept()?.framesRead ?? 0)

    const third = await started(place, studio.folder)
    await writeFrames(folder, frames.slice(18), 19)
    await expect.poll(() => kept()?.framesRead, patient).toBe(24)
    await killed(third)
    expect(kept()?.frames.map(({ frame, problem }) => [frame, problem])).toEqual(
      frames.map((_, at) => [at + 1, null]),
    )
    expect(inStore((db) => findingAnswers(db, takeId as Id<'take'>))).toMatchObject([
      { key: finding.key, answer: 'waved off', note: 'As it should be.' },
    ])
  })
})

async function killed(child: ChildProcess): Promise<void> {
  const closed = once(child, 'close')
  child.kill('SIGKILL')
  await closed
}

function started(place: string, studio: string): Promise<ChildProcess> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [path.join(place, 'counter.js'), studio], {
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    let complaint = ''
    child.stderr.on('data', (data) => {
      complaint += String(data)
    })
    child.stdout.once('data', () => resolve(child))
    child.once('exit', (code) => reject(new Error(`The program ended with ${code}: ${complaint}`)))
  })
}
