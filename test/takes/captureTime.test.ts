import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { captureMs } from '../../main/trade/captureTime.ts'
import { filedNotices } from '../../main/trade/filedNotices.ts'
import { framesOfFiles, pausesBetween, type TimedFrame } from '../../main/trade/filedTake.ts'
import { frameName } from '../../main/trade/frameFiles.ts'

const instant = (dateTime: string, subSeconds: string | null = null, offset: string | null = null) => {
  const ms = captureMs({ dateTime, subSeconds, offset }, 'Europe/Berlin')
  return ms === undefined ? undefined : new Date(ms).toISOString()
}

describe('the moment of exposure', () => {
  // Exif 2.31, CIPA DC-008, from memory: 'YYYY:MM:DD HH:MM:SS'; the digits after the second; '+HH:MM' from UTC.
  it('is read with its part of a second and its offset', () => {
    expect(instant('2026:03:02 09:00:01', '25', '+01:00')).toBe('2026-03-02T08:00:01.250Z')
    expect(instant('2026:03:02 09:00:01', '071', '-05:30')).toBe('2026-03-02T14:30:01.071Z')
    expect(instant('2026:03:02 09:00:01', '5  ', '+00:00')).toBe('2026-03-02T09:00:01.500Z')
  })

  it('is local to the studio where no offset is written, by winter and by summer', () => {
    expect(instant('2026:03:02 09:00:01')).toBe('2026-03-02T08:00:01.000Z')
    expect(instant('2026:07:02 09:00:01', '9', '   :  ')).toBe('2026-07-02T07:00:01.900Z')
  })

  it('is none where the camera’s clock was not set', () => {
    for (const text of [
      '0000:00:00 00:00:00',
      '    :  :     :  :  ',
      '',
      '2026:02:30 09:00:00',
      'yesterday',
    ]) {
      expect(instant(text)).toBeUndefined()
    }
  })

  it('of any instant written with its offset is that instant', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true }),
        fc.integer({ min: -14 * 4, max: 14 * 4 }),
        (at, quarters) => {
          const local = new Date(at.getTime() + quarters * 900_000).toISOString()
          const minutes = Math.abs(quarters) * 15
          const offset = `${quarters < 0 ? '-' : '+'}${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`
          const dateTime = `${local.slice(0, 10).replaceAll('-', ':')} ${local.slice(11, 19)}`
          expect(instant(dateTime, local.slice(20, 23), offset)).toBe(at.toISOString())
        },
      ),
    )
  })
})

describe('a take from its files', () => {
  const shot = (name: string, atMs: number): TimedFrame => {
    const told = frameName(name)
    if (!told) throw new Error(`${name} is no frame.`)
    return { ...told, file: name, files: 1, atMs, clock: 'camera' }
  }

  it('has its frames one mark after the other, or leaves the marks of missing numbers open', () => {
    const files = [shot('IMG_0111.JPG', 5000), shot('IMG_0112.JPG', 11_000), shot('IMG_0114.JPG', 23_000)]
    expect(framesOfFiles(files, false).map(({ mark, offsetMs }) => [mark, offsetMs])).toEqual([
      [0, 0],
      [1, 6000],
      [2, 18_000],
    ])
    expect(framesOfFiles(files, true).map(({ mark }) => mark)).toEqual([0, 1, 3])
  })

  it('has a pause where a gap is far longer than a step, and none where all are alike', () => {
    const frames = (gaps: readonly number[]) => {
      let offsetMs = 0
      return [
        { offsetMs, isVoid: false, mark: 0, file: null },
        ...gaps.map((gap, index) => {
          offsetMs += gap
          return { offsetMs, isVoid: false, mark: index + 1, file: null }
        }),
      ]
    }
    expect(pausesBetween(frames([6000, 6000, 600_000, 6000]))).toEqual([{ fromMs: 12_000, toMs: 612_000 }])
    expect(pausesBetween(frames([6000, 6000, 29_000, 6000]))).toEqual([])
    expect(pausesBetween(frames([60_000, 60_000, 120_000]))).toEqual([])
    expect(pausesBetween(frames([]))).toEqual([])
  })

  it('says what is missing, too much or not known of its files, and nothing where all is plain', () => {
    const wanted = { framesPerTurn: 3, overlapFrames: 1 }
    const plain = [1, 2, 3, 4].map((n) => shot(`IMG_000${n}.JPG`, n * 6000))
    expect(filedNotices(plain, wanted)).toEqual([])
    const odd = [
      shot('IMG_0001.JPG', 0),
      { ...shot('IMG_0003.JPG', 6000), files: 2 },
      { ...shot('IMG_0006.JPG', 12_000), clock: 'camera, local' as const },
      { ...shot('IMG_0007.JPG', 18_000), clock: 'file' as const },
      shot('IMG_0008.JPG', 24_000),
    ]
    expect(filedNotices(odd, wanted)).toEqual([
      'IMG_0002 is missing.',
      'IMG_0004 to IMG_0005 are missing.',
      expect.stringMatching(/^1\sframe more than the turn and its overlap need\./u),
      expect.stringMatching(/^6\sfiles hold 5\sframes/u),
      expect.stringMatching(/do not say in which time zone/u),
      expect.stringMatching(/^1\sframe holds no time of exposure/u),
    ])
    expect(filedNotices(plain.slice(0, 1), wanted)).toEqual([
      expect.stringMatching(/^2\sframes of the turn are lacking\.$/u),
    ])
  })
})
