import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  frameAt,
  placedMarks,
  runsText,
  scaleEnd,
  shareOf,
  tracePath,
} from '../../renderer/check/stripGeometry.ts'

const aCount = fc.integer({ min: 1, max: 1440 })

describe('the strip of a check', () => {
  it('finds under the pointer the frame that is drawn there', () => {
    fc.assert(
      fc.property(aCount, fc.double({ min: 0, max: 1, noNaN: true }), (frames, at) => {
        const frame = Math.max(1, Math.ceil(at * frames))
        expect(frameAt(shareOf(frame, frames), frames)).toBe(frame)
      }),
    )
    expect(frameAt(0, 24)).toBe(1)
    expect(frameAt(1, 24)).toBe(24)
    expect(frameAt(1.2, 24)).toBe(24)
  })

  it('draws high what is high, breaks at what is missing, and holds at the edge what is beyond', () => {
    // Four frames are 250 wide each, so their middles are at 125, 375, 625 and 875.
    expect(tracePath([0, 1, null, 9], 4, { from: -1, to: 1 })).toBe('M125 50L375 0M750 0L1000 0')
    expect(tracePath([], 4, { from: 0, to: 1 })).toBe('')
    expect(tracePath([0.5], 1, { from: 0, to: 1 })).toBe('M0 50L1000 50')
  })

  it('keeps every trace inside its box', () => {
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.double({ min: -50, max: 50, noNaN: true })), { maxLength: 60 }),
        (values) => {
          const path = tracePath(values, Math.max(1, values.length), { from: -0.2, to: 0.2 })
          const numbers = [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)]
          for (const [, x, y] of numbers) {
            expect(Number(x)).toBeGreaterThanOrEqual(-0.01)
            expect(Number(x)).toBeLessThanOrEqual(1000.01)
            expect(Number(y)).toBeGreaterThanOrEqual(0)
            expect(Number(y)).toBeLessThanOrEqual(100)
          }
        },
      ),
    )
  })

  it('holds all values in its scale, and never shrinks while values arrive', () => {
    expect(scaleEnd([0.01, null, -0.03], 0.1)).toBe(0.1)
    expect(scaleEnd([0.01, -0.3], 0.1)).toBe(0.5)
    fc.assert(
      fc.property(fc.array(fc.double({ min: -10, max: 10, noNaN: true })), (values) => {
        let end = 0
        for (let count = 0; count <= values.length; count += 1) {
          const next = scaleEnd(values.slice(0, count), 0.05)
          expect(next).toBeGreaterThanOrEqual(end)
          end = next
        }
        for (const value of values) expect(Math.abs(value)).toBeLessThanOrEqual(end)
      }),
    )
  })

  it('sets marks so far apart that each can be pressed, and loses none', () => {
    fc.assert(
      fc.property(
        aCount,
        fc.array(fc.nat(1439), { maxLength: 60 }),
        fc.integer({ min: 200, max: 1200 }),
        (frames, at, widthPx) => {
          const marked = at.map((frame, index) => ({ key: String(index), frames: [(frame % frames) + 1] }))
          const placed = placedMarks(marked, frames, widthPx, 24)
          expect(placed.flatMap(({ keys }) => keys).sort()).toEqual(marked.map(({ key }) => key).sort())
          placed.slice(1).forEach(({ share }, index) => {
            expect((share - (placed[index]?.share ?? 0)) * widthPx).toBeGreaterThanOrEqual(24)
          })
        },
      ),
    )
  })

  it('leaves out of its marks what is about the whole take', () => {
    expect(placedMarks([{ key: 'drift', frames: [] }], 24, 600, 24)).toEqual([])
  })

  it('says frames in runs', () => {
    expect(runsText([3, 4, 5, 6, 9, 12, 11])).toBe('3 to 6, 9, 11, 12')
    expect(runsText([])).toBe('')
  })
})
