import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it, onTestFinished } from 'vitest'
import { bugLog } from '../../main/doors/log.ts'

it('keeps the last three files of the log, none much over its size, the newest bug in the first', () => {
  const folder = mkdtempSync(join(tmpdir(), 'turnsheet-log-'))
  onTestFinished(() => rmSync(folder, { recursive: true }))
  const log = bugLog(() => folder, 2000)
  for (let n = 1; n <= 40; n += 1) log.bug(`bug ${n}`, new Error('again', { cause: new Error('underneath') }))
  expect(readdirSync(folder).sort()).toEqual(['studio.1.log', 'studio.2.log', 'studio.log'])
  for (const name of readdirSync(folder)) expect(statSync(join(folder, name)).size).toBeLessThan(5000)
  const newest = readFileSync(join(folder, 'studio.log'), 'utf8')
  expect(newest).toContain(' bug 40\n')
  expect(newest).toContain('caused by Error: underneath')
})

it('does not make a second bug of a folder that is gone', () => {
  expect(() =>
    bugLog(() => join(tmpdir(), 'no', 'such', 'folder')).bug('a bug', new Error('x')),
  ).not.toThrow()
})
