import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'

describe('what is packaged', () => {
  const settings = fs.readFileSync(path.join(import.meta.dirname, '../../electron-builder.yml'), 'utf8')

  it('is one list that begins with what is taken in, never a list of exclusions for one system', () => {
    // electron-builder, Application Contents: a list without a positive pattern starts from everything there is,
    // and once took a studio that lay in the project's folder into the program.
    expect(settings.match(/^\s+files:/gmu)).toBeNull()
    const list = /^files:\n((?: {2}- .*\n)+)/mu.exec(settings)?.[1] ?? ''
    const taken = [...list.matchAll(/^ {2}- (?!'!)(.*)$/gmu)].map(([, pattern]) => pattern)
    expect(taken).toEqual(['dist/main/**', 'dist/renderer/**', 'package.json'])
  })
})
