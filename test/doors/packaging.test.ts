import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'

const project = path.join(import.meta.dirname, '../..')

describe('what is packaged', () => {
  const settings = fs.readFileSync(path.join(project, 'electron-builder.yml'), 'utf8')

  it('is one list that begins with what is taken in, never a list of exclusions for one system', () => {
    // electron-builder, Application Contents: a list without a positive pattern starts from everything there is,
    // and once took a studio that lay in the project's folder into the program.
    expect(settings.match(/^\s+files:/gmu)).toBeNull()
    const list = /^files:\n((?: {2}- .*\n)+)/mu.exec(settings)?.[1] ?? ''
    const taken = [...list.matchAll(/^ {2}- (?!'!)(.*)$/gmu)].map(([, pattern]) => pattern)
    expect(taken).toEqual(['dist/main/**', 'dist/renderer/**', 'package.json'])
  })

  it('keeps native files, and the libraries that sharp loads beside its own, outside the archive', () => {
    // sharp's installation page, and lovell/sharp#3985: a binding inside an archive finds no library beside it.
    const list = /^asarUnpack:\n((?: {2}.*\n)+)/mu.exec(settings)?.[1] ?? ''
    const unpacked = [...list.matchAll(/^ {2}- '?([^'\n]*)'?$/gmu)].map(([, pattern]) => pattern ?? '')
    const native = filesUnder('node_modules/@img').filter((file) =>
      /\.(?:node|so|dylib|dll)(?:\.|$)/u.test(file),
    )
    expect(native.length).toBeGreaterThanOrEqual(2)
    expect(native.filter((file) => !unpacked.some((one) => path.matchesGlob(file, one)))).toEqual([])
  })

  it('leaves outside dist what is a package at run time, and nothing else', () => {
    // What the build leaves outside must be packaged beside it, and what is packaged must be left outside.
    const build = fs.readFileSync(path.join(project, 'main/vite.config.ts'), 'utf8')
    const external = /external: \[([^\]]*)\]/u.exec(build)?.[1]?.match(/[\w-]+/gu) ?? []
    const { dependencies } = JSON.parse(fs.readFileSync(path.join(project, 'package.json'), 'utf8')) as {
      dependencies: Record<string, string>
    }
    const fonts = '@expo-google-fonts/hanken-grotesk'
    expect(['electron', ...Object.keys(dependencies).filter((name) => name !== fonts)].sort()).toEqual(
      external.sort(),
    )
  })
})

function filesUnder(folder: string): string[] {
  return fs
    .readdirSync(path.join(project, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(project, path.join(entry.parentPath, entry.name)))
}
