import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { migrate } from '../../db/migrate.ts'
import { migrations } from '../../db/migrations/index.ts'
import { openStore, openStudioFolder } from '../../db/open.ts'

const now = new Date('2026-03-02T08:00:00.000Z')

function aFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-migrate-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

describe('migrations', () => {
  it('bring a new store to the newest number with every promise of a connection', () => {
    const { db, close } = openStudioFolder(aFolder(), now)
    expect(db.pragma('user_version', { simple: true })).toBe(migrations.length)
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal')
    // 2 is FULL: a commit is on the disk before it is acknowledged (SQLite documentation, PRAGMA synchronous).
    expect(db.pragma('synchronous', { simple: true })).toBe(2)
    expect(db.pragma('foreign_keys', { simple: true })).toBe(1)
    close()
  })

  it('make every table STRICT', () => {
    const { db, close } = openStudioFolder(aFolder(), now)
    const loose = db
      .prepare(
        `SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 AND name NOT LIKE 'sqlite%'`,
      )
      .pluck()
      .all()
    expect(loose).toEqual([])
    close()
  })

  it('copy the studio before the first step on a store that holds data, and keep its rows', () => {
    const folder = aFolder()
    const backups = path.join(folder, 'backups')
    const db = openStore(path.join(folder, 'studio.db'))
    migrate(db, backups, now)
    db.prepare(`INSERT INTO person (name) VALUES ('Mara Quist')`).run()
    migrate(db, backups, now, [...migrations, 'ALTER TABLE person ADD COLUMN nickname TEXT'])
    expect(db.prepare('SELECT name, nickname FROM person').all()).toEqual([
      { name: 'Mara Quist', nickname: null },
    ])
    const [copy] = fs.readdirSync(backups)
    const before = openStore(path.join(backups, copy ?? ''), { readonly: true })
    expect(before.pragma('user_version', { simple: true })).toBe(migrations.length)
    expect(before.prepare('SELECT name FROM person').pluck().all()).toEqual(['Mara Quist'])
    before.close()
    db.close()
  })

  it('keep step and number together: a step that fails leaves the store as it was', () => {
    const folder = aFolder()
    const db = openStore(path.join(folder, 'studio.db'))
    migrate(db, folder, now)
    const broken = [...migrations, 'CREATE TABLE half (id INTEGER) STRICT; INSERT INTO nowhere VALUES (1)']
    expect(() => migrate(db, folder, now, broken)).toThrow('no such table: nowhere')
    expect(db.pragma('user_version', { simple: true })).toBe(migrations.length)
    expect(db.prepare(`SELECT name FROM sqlite_schema WHERE name = 'half'`).get()).toBeUndefined()
    expect(db.pragma('foreign_keys', { simple: true })).toBe(1)
    db.close()
  })

  it('refuse a step that leaves a row pointing nowhere', () => {
    const folder = aFolder()
    const db = openStore(path.join(folder, 'studio.db'))
    migrate(db, folder, now)
    const dangling = `INSERT INTO person_absence (person_id, from_day, to_day) VALUES (77, '2026-03-02', '2026-03-03')`
    expect(() => migrate(db, folder, now, [...migrations, dangling])).toThrow('1 dangling rows')
    db.close()
  })

  it('refuse a newer studio with a sentence and touch nothing', () => {
    const folder = aFolder()
    const first = openStudioFolder(folder, now)
    first.db.pragma(`user_version = ${migrations.length + 1}`)
    first.close()
    const before = fs.readFileSync(path.join(folder, 'studio.db'))
    expect(() => openStudioFolder(folder, now)).toThrow('newer Turnsheet')
    expect(fs.readFileSync(path.join(folder, 'studio.db')).equals(before)).toBe(true)
    expect(fs.readdirSync(path.join(folder, 'backups'))).toEqual([])
  })

  it('refuse a file that is no database, and another program’s database', () => {
    const text = aFolder()
    fs.writeFileSync(
      path.join(text, 'studio.db'),
      'this is a letter, not a store, and it is long enough to be read'.repeat(20),
    )
    expect(() => openStudioFolder(text, now)).toThrow('not a Turnsheet studio')
    const foreign = aFolder()
    const file = path.join(foreign, 'studio.db')
    const db = openStore(file)
    db.exec('CREATE TABLE recipe (id INTEGER)')
    db.close()
    const before = fs.readFileSync(file)
    expect(() => openStudioFolder(foreign, now)).toThrow('another program')
    expect(fs.readFileSync(file).equals(before)).toBe(true)
  })
})
