import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  expectedFiles,
  fileListOf,
  type PickedRow,
  turnInOrder,
  type WantedFiles,
} from '../../main/trade/fileList.ts'

/** A row of good frames, one at each mark, numbered in their order. */
function aRow(of: Partial<PickedRow> & { readonly shot?: number } = {}): PickedRow {
  const framesPerTurn = of.framesPerTurn ?? 8
  const shot = of.shot ?? framesPerTurn
  return {
    row: 1,
    framesPerTurn,
    startFrame: 1,
    reversed: false,
    frameAtMark: new Map(Array.from({ length: shot }, (_, mark) => [mark, mark + 1])),
    ...of,
  }
}

function wanted(of: Partial<WantedFiles> = {}): WantedFiles {
  return {
    spin: 'Kettle',
    code: 'KET-1',
    name: 'Kettle',
    variant: '',
    job: 'J-2026-0001',
    deliverable: 'set',
    kind: 'frame set',
    frames: 4,
    fileType: 'jpg',
    namePattern: '{code}_{deliverable}_{frame:3}',
    rows: [aRow()],
    ...of,
  }
}

describe('the files of a frame set', () => {
  it('come evenly from the turn, from the start frame on', () => {
    // floor(i × 8 ÷ 4) = 0, 2, 4, 6: every second frame.
    expect(expectedFiles(wanted()).map(({ name, frame }) => [name, frame])).toEqual([
      ['KET-1_set_001.jpg', 1],
      ['KET-1_set_002.jpg', 3],
      ['KET-1_set_003.jpg', 5],
      ['KET-1_set_004.jpg', 7],
    ])
    const late = wanted({ rows: [aRow({ startFrame: 4 })] })
    expect(expectedFiles(late).map(({ frame }) => frame)).toEqual([4, 6, 8, 2])
  })

  it('run backwards where the pick is reversed', () => {
    const frames = expectedFiles(wanted({ frames: 8, rows: [aRow({ reversed: true })] })).map(
      ({ frame }) => frame,
    )
    expect(frames).toEqual([8, 7, 6, 5, 4, 3, 2, 1])
  })

  it('use the overlap past the full turn, and the number of the frame that is good', () => {
    expect(turnInOrder(aRow({ startFrame: 3, shot: 10 }))).toEqual([3, 4, 5, 6, 7, 8, 9, 10])
    const shotAgain = new Map([...aRow().frameAtMark, [2, 9]])
    expect(
      expectedFiles(wanted({ rows: [aRow({ frameAtMark: shotAgain })] })).map(({ frame }) => frame),
    ).toEqual([1, 9, 5, 7])
  })

  it('are refused where the take lacks a frame that the set needs, by its mark', () => {
    const lacking = new Map(aRow().frameAtMark)
    lacking.delete(4)
    expect(() => expectedFiles(wanted({ rows: [aRow({ frameAtMark: lacking })] }))).toThrow(
      'The set of Kettle needs the frame at mark 5, which its take lacks.',
    )
    lacking.set(4, 5)
    lacking.delete(1)
    expect(expectedFiles(wanted({ rows: [aRow({ frameAtMark: lacking })] }))).toHaveLength(4)
  })

  it('never take a frame twice, whatever the start and the way', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 300 }).chain((n) =>
          fc.record({
            n: fc.constant(n),
            frames: fc.integer({ min: 1, max: n }),
            startFrame: fc.integer({ min: 1, max: n }),
            reversed: fc.boolean(),
          }),
        ),
        ({ n, frames, startFrame, reversed }) => {
          const rows = [aRow({ framesPerTurn: n, startFrame, reversed })]
          const taken = expectedFiles(wanted({ frames, rows })).map(({ frame }) => frame)
          expect(new Set(taken).size).toBe(frames)
        },
      ),
    )
  })
})

describe('the file of a loop', () => {
  it('has no frame in its name', () => {
    const loop = wanted({ kind: 'loop', deliverable: 'loop', frames: null, fileType: 'mp4' })
    expect(expectedFiles(loop)).toEqual([{ name: 'KET-1_loop.mp4', row: 1, frame: null }])
  })

  it('of two rows needs the row in its name', () => {
    const rows = [aRow(), aRow({ row: 2 })]
    const loop = wanted({ kind: 'loop', deliverable: 'loop', frames: null, fileType: 'mp4', rows })
    expect(() => fileListOf([loop])).toThrow('Two files would be named KET-1_loop.mp4')
    const told = { ...loop, namePattern: '{code}_{row}_{frame:3}' }
    expect(fileListOf([told]).map(({ file }) => file.name)).toEqual(['KET-1_1.mp4', 'KET-1_2.mp4'])
  })
})
