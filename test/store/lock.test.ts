import { type ChildProcess, spawn } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { openStudioFolder } from '../../db/open.ts'
import { Refusal } from '../../main/trade/refusal.ts'

function aFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-lock-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

const now = new Date('2026-03-02T08:00:00.000Z')

/** Another program that holds the lock of a folder as ours does, until it is killed. */
function anotherProgram(folder: string): Promise<ChildProcess> {
  const script = `
    const Database = require('better-sqlite3')
    const db = new Database(${JSON.stringify(path.join(folder, 'studio.lock'))})
    db.pragma('journal_mode = WAL')
    db.exec('CREATE TABLE IF NOT EXISTS holder (id INTEGER PRIMARY KEY CHECK (id = 1), pid INTEGER, since TEXT) STRICT')
    db.prepare('INSERT OR REPLACE INTO holder VALUES (1, ?, ?)').run(process.pid, '2026-03-02T07:00:00.000Z')
    db.exec('BEGIN IMMEDIATE')
    console.log('held')
    setInterval(() => {}, 1000)`
  const child = spawn(process.execPath, ['-e', script], { stdio: ['ignore', 'pipe', 'inherit'] })
  onTestFinished(() => void child.kill('SIGKILL'))
  return new Promise((resolve) => child.stdout.once('data', () => resolve(child)))
}

describe('the lock of a studio folder', () => {
  it('refuses a second program and says which process holds it', async () => {
    const folder = aFolder()
    const other = await anotherProgram(folder)
    expect(() => openStudioFolder(folder, now)).toThrow(Refusal)
    expect(() => openStudioFolder(folder, now)).toThrow(`process ${other.pid}`)
    expect(fs.existsSync(path.join(folder, 'studio.db'))).toBe(false)
  })

  it('is free again the moment the other program is killed', async () => {
    const folder = aFolder()
    const other = await anotherProgram(folder)
    const ended = new Promise((resolve) => other.once('exit', resolve))
    other.kill('SIGKILL')
    await ended
    openStudioFolder(folder, now).close()
  })

  it('refuses a second opening inside the same program too, and lets go at the close', () => {
    const folder = aFolder()
    const first = openStudioFolder(folder, now)
    expect(() => openStudioFolder(folder, now)).toThrow('already open')
    first.close()
    openStudioFolder(folder, now).close()
  })
})
