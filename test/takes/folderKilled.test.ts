import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { openStore } from '../../db/open.ts'
import { aFrameFolder } from './aFolder.ts'
import { atTheBench } from './aSpin.ts'

const kills = 6

describe('a program killed while files arrive', () => {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-counter-'))
  const program = path.join(place, 'counter.mjs')
  beforeAll(async () => {
    await build({
      configFile: false,
      logLevel: 'error',
      ssr: { noExternal: true, external: ['better-sqlite3', 'pdfkit', 'sharp'] },
      build: {
        ssr: path.join(import.meta.dirname, 'counter.ts'),
        outDir: place,
        emptyOutDir: false,
        rolldownOptions: { output: { entryFileNames: 'counter.mjs' } },
      },
    })
    fs.symlinkSync(
      path.resolve(import.meta.dirname, '../../node_modules'),
      path.join(place, 'node_modules'),
      'junction',
    )
  }, 60_000)
  afterAll(() => fs.rmSync(place, { recursive: true, force: true }))

  it(`counts each frame exactly once, in its order, over ${kills} kills`, { timeout: 120_000 }, async () => {
    const { api, shootIds, stand, studio } = await atTheBench()
    const folder = aFrameFolder()
    fs.writeFileSync(path.join(folder, 'IMG_0001.JPG'), 'lay there before')
    const { takeId } = await api.takes.start({ shootId: Number(shootIds[0]), ...stand, folder })
    // Another program takes the studio over.
    studio.house.leave()?.close()
    const shot: string[] = []
    const shoot = () => {
      const name = `IMG_${String(shot.length + 2).padStart(4, '0')}.JPG`
      fs.writeFileSync(path.join(folder, name), 'a frame')
      shot.push(name)
    }
    const counted = () => {
      const db = openStore(path.join(studio.folder, 'studio.db'), { readonly: true })
      const files = db
        .prepare('SELECT file FROM take_frame WHERE take_id = ? ORDER BY frame')
        .pluck()
        .all(takeId)
      db.close()
      return files
    }
    for (let kill = 0; kill < kills; kill += 1) {
      const child = await started(program, studio.folder)
      const until = Date.now() + 400 + kill * 170
      while (Date.now() < until) {
        shoot()
        await pause(90)
      }
      const closed = once(child, 'close')
      child.kill('SIGKILL')
      await closed
      shoot()
      shoot()
    }
    const last = await started(program, studio.folder)
    await vi.waitFor(() => expect(counted()).toEqual(shot), { timeout: 15_000, interval: 100 })
    await pause(1500)
    expect(counted()).toEqual(shot)
    const closed = once(last, 'close')
    last.kill('SIGKILL')
    await closed
  })
})

function started(program: string, studio: string): Promise<ChildProcess> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [program, studio], { stdio: ['ignore', 'pipe', 'pipe'] })
    let complaint = ''
    child.stderr.on('data', (data) => {
      complaint += String(data)
    })
    child.stdout.once('data', () => resolve(child))
    child.once('exit', (code) => reject(new Error(`The program ended with ${code}: ${complaint}`)))
  })
}
