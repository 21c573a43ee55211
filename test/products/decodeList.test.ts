import { describe, expect, it } from 'vitest'
import { decodeList } from '../../renderer/products/decodeList.ts'

const bytes = (...values: number[]) => new Uint8Array(values)

describe('the letters of a list file', () => {
  it('are read as UTF-8 where they are valid UTF-8, and the mark at its beginning is dropped', () => {
    // RFC 3629 §7 gives 日本語 as E6 97 A5 E6 9C AC E8 AA 9E, and the byte-order mark as EF BB BF.
    const japanese = [0xe6, 0x97, 0xa5, 0xe6, 0x9c, 0xac, 0xe8, 0xaa, 0x9e]
    expect(decodeList(bytes(...japanese))).toBe('日本語')
    expect(decodeList(bytes(0xef, 0xbb, 0xbf, ...japanese))).toBe('日本語')
  })

  it('are read as Windows-1252 otherwise', () => {
    // The WHATWG index for windows-1252: E4 ä, DF ß, 80 €, D8 Ø, 93 and 94 “ ”.
    expect(decodeList(bytes(0xe4, 0xdf, 0x80, 0xd8, 0x93, 0x94))).toBe('äß€Ø“”')
  })

  it('are read as UTF-16 where its byte-order mark says so', () => {
    // Unicode Standard, table 2-4: FE FF is big-endian, FF FE little-endian.
    expect(decodeList(bytes(0xff, 0xfe, 0x4b, 0x00, 0x3b, 0x00))).toBe('K;')
    expect(decodeList(bytes(0xfe, 0xff, 0x00, 0x4b, 0x00, 0x3b))).toBe('K;')
  })
})
