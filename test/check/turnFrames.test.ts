import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { faultsOfFinding } from '../../main/trade/check/agreeing.ts'
import { takeScale } from '../../main/trade/check/centre/takeScale.ts'
import { renumbered, renumberedWords, takeNumbers } from '../../main/trade/check/renumber.ts'
import {
  foldersToRead,
  plainFrames,
  type ReadFolder,
  type Turn,
  turnInFolders,
  turnOfFiled,
  turnOfTake,
} from '../../main/trade/check/turnFrames.ts'
import { joinFrames } from '../../main/trade/frameFiles.ts'
import type { TakeFrame } from '../../main/trade/pack.ts'

const startedMs = Date.parse('2026-03-02T08:00:00.000Z')
const endedMs = startedMs + 600_000
const minute = 60_000

/** Files of so many frames, written at an instant, numbered from 1. */
function files(count: number, writtenMs: number, from = 1) {
  return joinFrames(
    Array.from({ length: count }, (_, k) => ({
      name: `IMG_${String(from + k).padStart(4, '0')}.JPG`,
      bytes: 1000,
      modifiedMs: writtenMs + k * 1000,
    })),
  )
}

const inOne = (frames: ReadFolder['frames']): ReadFolder[] => [{ folder: '/frames', frames }]

const shot = (marks: readonly number[], voids: readonly number[] = []): TakeFrame[] =>
  marks.map((mark, at) => ({
    offsetMs: at * 1000,
    isVoid: voids.includes(at + 1),
    mark,
    file: `IMG_${at + 1}.JPG`,
  }))

describe('the turn of a take as it is checked', () => {
  it('stands mark by mark: void frames out, a skipped mark without a frame', () => {
    // Frame 2 was void, so frame 3 was shot at mark 1 again; mark 2 was skipped.
    const turn = turnOfFiled(shot([0, 1, 1, 3], [2]), ['/frames'])
    expect(turn.map((frame) => frame?.frame ?? null)).toEqual([1, 3, null, 4])
  })

  it('matches as many files as exposures one by one, void ones too', () => {
    const frames = shot([0, 1, 1, 2], [2])
    const { turn, sentence } = turnInFolders(frames, inOne(files(4, startedMs)), { startedMs, endedMs })
    expect(turn.map((frame) => [frame?.frame, frame?.files[0]])).toEqual([
      [1, 'IMG_0001.JPG'],
      [3, 'IMG_0003.JPG'],
      [4, 'IMG_0004.JPG'],
    ])
    expect(sentence).toBeNull()
  })

  it('takes as many files as good frames for those, since the void ones were deleted', () => {
    const { turn, sentence } = turnInFolders(shot([0, 1, 1, 2], [2]), inOne(files(3, startedMs)), {
      startedMs,
      endedMs,
    })
    expect(turn.map((frame) => frame?.frame)).toEqual([1, 3, 4])
    expect(sentence).toBeNull()
  })

  it('leaves out what was written before and after, and says where the counts differ', () => {
    const all = [
      ...files(5, startedMs - 10 * minute, 1),
      ...files(4, startedMs + minute, 6),
      ...files(5, endedMs + 10 * minute, 10),
    ]
    const { turn, sentence } = turnInFolders(plainFrames(6), inOne(all), { startedMs, endedMs })
    expect(turn.map((frame) => frame?.files[0])).toEqual([
      'IMG_0006.JPG',
      'IMG_0007.JPG',
      'IMG_0008.JPG',
      'IMG_0009.JPG',
    ])
    expect(sentence).toMatch(/holds 4\sframes of this take’s time, the take counts 6/)
  })

  it('takes a whole folder of just as many frames where the camera’s clock was wrong', () => {
    const { turn, sentence } = turnInFolders(plainFrames(6), inOne(files(6, 0)), { startedMs, endedMs })
    expect(turn).toHaveLength(6)
    expect(sentence).toMatch(/camera’s clock/)
    expect(turnInFolders(plainFrames(5), inOne(files(6, 0)), { startedMs, endedMs }).turn).toEqual([])
  })

  it('never loses or doubles a file, whatever was pressed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 }), (pressed, written) => {
        const { turn } = turnInFolders(plainFrames(pressed), inOne(files(written, startedMs)), {
          startedMs,
          endedMs,
        })
        const names = turn.flatMap((frame) => frame?.files ?? [])
        expect(new Set(names).size).toBe(written)
        expect(turn.map((frame) => frame?.frame)).toEqual(Array.from({ length: written }, (_, k) => k + 1))
      }),
    )
  })
})

describe('the turn of a take in two folders', () => {
  const placesOf = (turn: Turn) => turn.map((frame) => `${frame?.folder} ${frame?.files[0]}`)
  const times = { startedMs, endedMs }

  it('goes on in the second folder where the first was filled before it, whatever the numbers say', () => {
    const read = [
      { folder: '/b', frames: files(2, startedMs + 5 * minute, 1) },
      { folder: '/a', frames: files(3, startedMs + minute, 1) },
    ]
    const { turn, sentence } = turnInFolders(plainFrames(5), read, times)
    expect(sentence).toBeNull()
    expect(placesOf(turn)).toEqual([
      '/a IMG_0001.JPG',
      '/a IMG_0002.JPG',
      '/a IMG_0003.JPG',
      '/b IMG_0001.JPG',
      '/b IMG_0002.JPG',
    ])
  })

  it('goes by the numbers, over 9999 too, where the times of copied files tell nothing', () => {
    const copied = (count: number, from: number) =>
      files(count, 0, from).map((frame) => ({
        ...frame,
        files: frame.files.map((file) => ({ ...file, modifiedMs: startedMs })),
      }))
    const read = [
      { folder: '/101', frames: copied(2, 1) },
      { folder: '/100', frames: copied(2, 9998) },
    ]
    const { turn } = turnInFolders(plainFrames(4), read, times)
    expect(placesOf(turn)).toEqual([
      '/100 IMG_9998.JPG',
      '/100 IMG_9999.JPG',
      '/101 IMG_0001.JPG',
      '/101 IMG_0002.JPG',
    ])
  })

  it('looks for each file in its own folder, and takes none of another for it', () => {
    const frames = shot([0, 1, 2]).map((frame, at) =>
      at === 2 ? { ...frame, file: 'IMG_1.JPG', folder: 1 } : frame,
    )
    expect(placesOf(turnOfFiled(frames, ['/a', '/b']))).toEqual([
      '/a IMG_1.JPG',
      '/a IMG_2.JPG',
      '/b IMG_1.JPG',
    ])
    expect(placesOf(turnOfFiled(frames, ['/copy']))).toEqual(['/copy IMG_1.JPG', '/copy IMG_2.JPG'])
  })

  it('is looked for in its own folders, each at its place, where fewer or others are named', () => {
    const own = ['/a', '/b']
    expect(foldersToRead(['/a'], own)).toEqual(['/a', '/b'])
    expect(foldersToRead(['/b'], own)).toEqual(['/a', '/b'])
    expect(foldersToRead(['/copy of a'], own)).toEqual(['/copy of a', '/b'])
    expect(foldersToRead(['/b', '/copy of a'], own)).toEqual(['/copy of a', '/b'])
    expect(foldersToRead(['/both', '/both'], own)).toEqual(['/both', '/both'])
    expect(foldersToRead(['/c'], [])).toEqual(['/c'])
  })

  it('never loses a folder that was named, nor puts one of its own in another’s place', () => {
    const names = ['/a', '/b', '/c', '/d', '/e']
    const some = fc.uniqueArray(fc.constantFrom(...names))
    fc.assert(
      fc.property(some, some, (named, own) => {
        const read = foldersToRead(named, own)
        expect(read.length).toBe(Math.max(named.length, own.length))
        expect(named.every((folder) => read.includes(folder))).toBe(true)
        for (const folder of read.filter((one) => own.includes(one))) {
          expect(read.indexOf(folder)).toBe(own.indexOf(folder))
        }
      }),
    )
  })

  it('writes counts as every screen does', () => {
    const { sentence } = turnInFolders(shot([0, 1]), inOne(files(5000, startedMs)), {
      startedMs,
      endedMs: startedMs + 6_000_000,
    })
    expect(sentence).toMatch(/^The folder holds 5,000\sframes of this take’s time, the take counts 2\./u)
  })

  it('awaits nothing in a folder that it has just gone on in', () => {
    const read = [
      { folder: '/a', frames: [] },
      { folder: '/b', frames: files(3, startedMs + minute, 1) },
    ]
    const take = { frames: shot([0, 1, 2]), folders: ['/a', '/b'], times, toShoot: 9 }
    expect(turnOfTake(take, read)).toMatchObject({ turn: { length: 3 }, sentence: null })
  })

  it('has its rest from a folder named besides: up to the planned count, and not the next take', () => {
    const rest = [...files(3, endedMs + minute, 1), ...files(4, endedMs + 20 * minute, 4)]
    const read = [
      { folder: '/a', frames: [] },
      { folder: '/b', frames: rest },
    ]
    const take = { frames: shot([0, 1, 2]), folders: ['/a'], times }
    const of = (toShoot: number) => turnOfTake({ ...take, toShoot }, read)
    expect(placesOf(of(9).turn).slice(3)).toEqual(['/b IMG_0001.JPG', '/b IMG_0002.JPG', '/b IMG_0003.JPG'])
    expect(of(9).sentence).toMatch(/counts 3\sframes; 3\sframes more from \/b/)
    expect(of(5).turn.map((frame) => frame?.frame)).toEqual([1, 2, 3, 4, 5])
    expect(of(3).turn).toHaveLength(3)
    expect(of(3).sentence).toMatch(/No frame in \/b goes on/)
  })
})

describe('the numbers of a report', () => {
  const number = takeNumbers(turnOfFiled(shot([0, 1, 1, 3, 4], [2]), ['/frames']))

  it('are those of the take, in the words too', () => {
    const finding = {
      key: 'missed 2',
      frames: [2, 4],
      sentence: 'Frames 2, 4 and 5 differ by 4 EV; frame 4 of 244 frames is 2 steps on.',
      fault: 'missed step',
    } as const
    expect(renumbered(finding, number)).toMatchObject({
      frames: [3, 4],
      sentence: 'Frames 3, 4 and 5 differ by 4 EV; frame 4 of 244 frames is 2 steps on.',
    })
  })

  it('count on past the last frame, and stay for a mark without a frame at the one before', () => {
    expect([1, 2, 3, 4, 5, 6].map(number)).toEqual([1, 3, 3, 4, 5, 6])
    expect(renumberedWords('Light steps by 0.20 EV at frame 2.', number)).toBe(
      'Light steps by 0.20 EV at frame 3.',
    )
  })
})

describe('a finding that a person agrees to', () => {
  const finding = { key: 'k', sentence: 'It is so.', fault: 'flicker' } as const

  it('is one fault at the beginning of each run of its frames', () => {
    expect(faultsOfFinding({ ...finding, frames: [7, 3, 4, 5] }, null)).toEqual([
      { kind: 'flicker', frame: 3, note: 'It is so.' },
      { kind: 'flicker', frame: 7, note: 'It is so.' },
    ])
  })

  it('is one fault of the take where it is about all of it, and one at its first frame where it is all over', () => {
    expect(faultsOfFinding({ ...finding, frames: [] }, 'As always.')).toEqual([
      { kind: 'flicker', frame: null, note: 'It is so. As always.' },
    ])
    expect(faultsOfFinding({ ...finding, frames: [1, 3, 5, 7, 9, 11] }, null)).toHaveLength(1)
  })

  it('is refused where it is no fault', () => {
    expect(() => faultsOfFinding({ ...finding, frames: [], fault: null }, null)).toThrow(
      /no fault of the take/,
    )
  })
})

describe('the scale of a take', () => {
  const camera = {
    focalMm: 100,
    sensorWidthMm: 36,
    sensorHeightMm: 24,
    cameraDistanceMm: 1100,
    cameraTiltDeg: 0,
  }

  it('is that of the lens at the axis, however the camera stands', () => {
    // Thin lens: m = f ÷ (s − f) = 0.1, so 36 mm of sensor see 360 mm, over 512 pixels.
    expect(takeScale(camera, { widthPx: 512, heightPx: 341 }).mmPerPx).toBeCloseTo(360 / 512, 9)
    expect(takeScale(camera, { widthPx: 341, heightPx: 512 }).mmPerPx).toBeCloseTo(360 / 512, 9)
  })

  it('is not known without a sensor, of cropped frames and before the lens, and says why', () => {
    expect(takeScale(null, { widthPx: 512, heightPx: 341 })).toMatchObject({
      mmPerPx: null,
      sentence: expect.stringMatching(/sensor is not written down/),
    })
    expect(takeScale(camera, { widthPx: 512, heightPx: 512 })).toMatchObject({
      mmPerPx: null,
      sentence: expect.stringMatching(/cropped/),
    })
    expect(takeScale({ ...camera, cameraDistanceMm: 90 }, { widthPx: 512, heightPx: 341 }).mmPerPx).toBeNull()
  })
})
