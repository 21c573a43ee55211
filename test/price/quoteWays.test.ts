import { describe, expect, it } from 'vitest'
import { workOutQuote } from '../../main/trade/quote.ts'
import { otherWay, otherWayFrames } from '../../main/trade/quoteWays.ts'
import { aBasis, anInput } from './aBasis.ts'

describe('another way of the same job', () => {
  it('starts at half or twice the frames, where a turn can have them and the set is not cut', () => {
    expect(otherWayFrames('coarser', 244, 24)).toBe(122)
    expect(otherWayFrames('smoother', 244, 24)).toBe(488)
    expect(otherWayFrames('coarser', 36, 24)).toBeNull()
    expect(otherWayFrames('coarser', 20, 0)).toBeNull()
    expect(otherWayFrames('smoother', 800, 24)).toBeNull()
  })

  it('puts what it costs more or less on a line of its own, in whole euros and never to the studio’s loss', () => {
    const basis = aBasis({
      priceList: {
        name: 'Standard',
        prices: (['loop', 'frame set'] as const).map((kind) => ({
          sizeClass: 'small',
          finishClassId: null,
          kind,
          rows: 1,
          firstMinor: 9000,
          followingMinor: 6000,
        })),
        breaks: [],
      },
    })
    const asked = anInput({ overlapFrames: 3 })
    const figures = (input: typeof asked) => workOutQuote(basis, input)
    const before = figures(asked)
    for (const [way, frames] of [
      ['coarser', 122],
      ['smoother', 488],
    ] as const) {
      const input = otherWay(basis, asked, way, frames)
      expect(input).toMatchObject({ framesPerTurn: frames, overlapFrames: 3 })
      const after = figures(input)
      const priced = after.netMinor - before.netMinor
      const costs = (after.cost?.p80Minor ?? 0) - (before.cost?.p80Minor ?? 0)
      expect(Math.abs(priced) % 100).toBe(0)
      expect(priced).toBeGreaterThanOrEqual(costs)
      expect(priced).toBeLessThan(costs + 100)
      expect(Math.sign(priced)).toBe(way === 'coarser' ? -1 : 1)
    }
  })

  it('keeps the overlap’s part of the turn', () => {
    // 82 of 244 is a third; of 488 that is 164.
    expect(otherWay(aBasis(), anInput(), 'smoother', 488).overlapFrames).toBe(164)
    expect(otherWay(aBasis(), anInput(), 'coarser', 122).overlapFrames).toBe(41)
  })

  it('asks for no line where the studio’s cost is not known', () => {
    expect(otherWay(aBasis({ rates: null }), anInput(), 'smoother', 488).fees).toEqual([])
  })
})
