import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { filesOfFolder, hashFile } from '../../main/work/fileHashes.ts'

function aFolder(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-files-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  for (const [name, content] of Object.entries(files)) {
    fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true })
    fs.writeFileSync(path.join(folder, name), content)
  }
  return folder
}

describe('SHA-256 of files', () => {
  // FIPS 180-4: the example messages of NIST's secure hashing page, and one million times the letter a.
  const vectors: readonly (readonly [string, string | Uint8Array, string])[] = [
    ['empty', '', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      '448 bits',
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['million', 'a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
  ]
  it.each(vectors)('is that of FIPS 180-4 for %s', async (name, content, expected) => {
    const folder = aFolder({ [name]: content })
    expect(await hashFile(path.join(folder, name))).toEqual({ bytes: content.length, sha256: expected })
  })

  it('is read in pieces, all of which are told, and can be stopped', async () => {
    const folder = aFolder({ 'long.tif': new Uint8Array(5_000_000) })
    const pieces: number[] = []
    await hashFile(path.join(folder, 'long.tif'), { onBytes: (bytes) => pieces.push(bytes) })
    expect(pieces.length).toBeGreaterThan(1)
    expect(pieces.reduce((sum, piece) => sum + piece, 0)).toBe(5_000_000)
    const stop = new AbortController()
    stop.abort()
    await expect(hashFile(path.join(folder, 'long.tif'), { signal: stop.signal })).rejects.toThrow('abort')
  })
})

describe('a folder of files', () => {
  it('is listed with the folders in it, without what systems leave there and without links', async () => {
    const folder = aFolder({ 'b.jpg': 'bb', 'KET/a.jpg': 'a', '.DS_Store': 'x' })
    fs.symlinkSync(path.join(folder, 'b.jpg'), path.join(folder, 'link.jpg'))
    expect(await filesOfFolder(folder)).toEqual([
      { name: 'KET/a.jpg', bytes: 1 },
      { name: 'b.jpg', bytes: 2 },
    ])
  })

  it('is refused where it is not there, is a file, or is no whole path', async () => {
    const folder = aFolder({ 'b.jpg': 'bb' })
    for (const wrong of [path.join(folder, 'gone'), path.join(folder, 'b.jpg'), 'pictures']) {
      await expect(filesOfFolder(wrong)).rejects.toMatchObject({ code: 'no-folder', field: 'folder' })
    }
  })
})
