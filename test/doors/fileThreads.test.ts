import { execFile } from 'node:child_process'
import { pathToFileURL } from 'node:url'
import { promisify } from 'node:util'
import { describe, expect, it } from 'vitest'

const module = (path: string) => pathToFileURL(`${import.meta.dirname}/../../${path}`).href

/** Which comes first in a process of its own: a small file, or one of four pictures that were asked for before it. */
async function whichIsFirst(before: string): Promise<string> {
  const script = `${before}
    const { default: sharp } = await import('sharp')
    const { readFile } = await import('node:fs/promises')
    sharp.concurrency(1)
    const picture = await sharp({ create: { width: 3000, height: 2000, channels: 3, background: '#999' } }).jpeg().toBuffer()
    const decoded = [1, 2, 3, 4].map(() => sharp(picture).blur(20).raw().toBuffer().then(() => 'a picture'))
    const read = readFile('package.json').then(() => 'the file')
    console.log(await Promise.race([...decoded, read]))`
  const { stdout } = await promisify(execFile)(process.execPath, ['--input-type=module', '-e', script], {
    cwd: `${import.meta.dirname}/../..`,
    env: { ...process.env, UV_THREADPOOL_SIZE: undefined },
  })
  return stdout.trim()
}

describe('reading a file while a check decodes pictures', () => {
  it('does not wait for the pictures', async () => {
    expect(await whichIsFirst(`import ${JSON.stringify(module('main/doors/fileThreads.ts'))}`)).toBe(
      'the file',
    )
  })

  it('would wait with as many threads as Node has by itself', async () => {
    // Node's documentation of UV_THREADPOOL_SIZE: libuv keeps four threads where nothing else is said.
    expect(await whichIsFirst('')).toBe('a picture')
  })
})
