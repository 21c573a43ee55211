import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it, onTestFinished } from 'vitest'
import { makeStudio } from '../../main/api/opening.ts'
import { openHouse } from '../../main/doors/openHouse.ts'
import { webApplication } from '../../main/doors/web.ts'
import { aNewStudio } from './aDoor.ts'

function aHouse() {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-house-'))
  const folder = join(place, 'studio')
  const opened = openHouse(folder, join(place, 'renderer'))
  onTestFinished(() => {
    opened.close()
    rmSync(place, { recursive: true, force: true })
  })
  return { folder, opened }
}

it('stays empty where the folder holds no studio, and makes none by looking', async () => {
  const { opened } = aHouse()
  expect(opened.inside.house.studio).toBeUndefined()
  expect(await opened.inside.openPaper(1)).toBeUndefined()
})

it('refuses a studio that is open already', () => {
  const { folder, opened } = aHouse()
  makeStudio(opened.inside.house, folder, aNewStudio)
  expect(() => openHouse(folder, folder)).toThrow('This studio is already open in another Turnsheet')
})

it('hands out a kept file by its number and by what is in it, and says where a lost one should be', async () => {
  const { folder, opened } = aHouse()
  makeStudio(opened.inside.house, folder, aNewStudio)
  const text = 'code;status\nA-1;picked\n'
  const kept = createHash('sha256').update(text).digest('hex')
  const lost = createHash('sha256').update('lost').digest('hex')
  writeFileSync(join(folder, 'files', kept), text)
  const insert = opened.inside.house.studio?.db.prepare(
    'INSERT INTO attachment (id, sha256, name, media_type, bytes, created_at) VALUES (?, ?, ?, ?, ?, ?)',
  )
  insert?.run(4, kept, 'status.csv', 'text/csv', text.length, '2026-03-02T09:00:00.000Z')
  insert?.run(5, lost, 'lost.pdf', 'application/pdf', 4, '2026-03-02T09:00:00.000Z')
  const closing = new AbortController()
  const app = webApplication({ ...opened.inside, guard: (_c, next) => next(), closing: closing.signal })
  for (const path of ['/papers/4', `/files/${kept}`]) {
    const answer = await app.request(path)
    expect(answer.headers.get('content-disposition')).toBe("attachment; filename*=UTF-8''status.csv")
    expect(await answer.text()).toBe(text)
  }
  const missing = await app.request('/papers/5')
  expect(missing.status).toBe(404)
  expect(await missing.text()).toMatch(/The file of lost\.pdf is missing/)
})
