import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentBySha256, attachmentPath, keepFile } from '../../db/attachments.ts'
import { aStudio } from '../studio.ts'

// FIPS 180-4, the one-block example message "abc".
const abcSha256 = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
const abc = new TextEncoder().encode('abc')

describe('attachments', () => {
  it('keeps a file under the SHA-256 of its bytes', () => {
    const { writing, db, folder } = aStudio()
    const id = keepFile(writing, folder, abc, 'note.txt', 'text/plain')
    expect(attachmentById(db, id)).toEqual({
      id,
      sha256: abcSha256,
      name: 'note.txt',
      mediaType: 'text/plain',
      bytes: 3,
    })
    expect(attachmentBySha256(db, abcSha256)?.id).toBe(id)
    expect(fs.readFileSync(attachmentPath(folder, abcSha256), 'utf8')).toBe('abc')
  })

  it('keeps the same bytes once, whatever name they come under', () => {
    const { writing, db, folder } = aStudio()
    const first = keepFile(writing, folder, abc, 'note.txt', 'text/plain')
    const second = keepFile(writing, folder, abc, 'copy.txt', 'text/plain')
    expect(second).toBe(first)
    expect(attachmentById(db, first)?.name).toBe('note.txt')
    expect(fs.readdirSync(`${folder}/files`)).toEqual([abcSha256])
  })

  it('writes a file again that was cut short on the disk', () => {
    const { writing, folder } = aStudio()
    keepFile(writing, folder, abc, 'note.txt', 'text/plain')
    fs.truncateSync(attachmentPath(folder, abcSha256), 1)
    keepFile(writing, folder, abc, 'note.txt', 'text/plain')
    expect(fs.readFileSync(attachmentPath(folder, abcSha256), 'utf8')).toBe('abc')
  })
})
