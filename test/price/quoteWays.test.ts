import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { workOutQuote } from '../../main/trade/quote.ts'
import { otherWay, otherWayRows } from '../../main/trade/quoteWays.ts'
import { checkRows, type TurnRow } from '../../main/trade/turn/rows.ts'
import { aBasis, alikeRows, anInput, aTurnRow } from './aBasis.ts'

function rowsOf(way: 'coarser' | 'smoother', rows: readonly TurnRow[]): readonly TurnRow[] {
  const other = otherWayRows(way, rows, 24)
  if (!other) throw new Error(`There is no ${way} way.`)
  return other
}

describe('another way of the same job', () => {
  it('starts at half or twice the frames, where a turn can have them and the set is not cut', () => {
    const frames = (way: 'coarser' | 'smoother', framesPerTurn: number, set: number) =>
      otherWayRows(way, [aTurnRow({ framesPerTurn })], set)?.[0]?.framesPerTurn ?? null
    expect(frames('coarser', 244, 24)).toBe(122)
    expect(frames('smoother', 244, 24)).toBe(488)
    expect(frames('coarser', 36, 24)).toBeNull()
    expect(frames('coarser', 20, 0)).toBeNull()
    expect(frames('smoother', 800, 24)).toBeNull()
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
    const asked = anInput({ rows: [aTurnRow({ overlapFrames: 3 })] })
    const figures = (input: typeof asked) => workOutQuote(basis, input)
    const before = figures(asked)
    for (const [way, frames] of [
      ['coarser', 122],
      ['smoother', 488],
    ] as const) {
      const input = otherWay(basis, asked, way, rowsOf(way, asked.rows))
      expect(input.rows).toEqual([aTurnRow({ framesPerTurn: frames, overlapFrames: 3 })])
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
    expect(otherWayRows('smoother', [aTurnRow()], 24)).toEqual([
      aTurnRow({ framesPerTurn: 488, overlapFrames: 164 }),
    ])
    expect(otherWayRows('coarser', [aTurnRow()], 24)).toEqual([
      aTurnRow({ framesPerTurn: 122, overlapFrames: 41 }),
    ])
  })

  it('scales every row, and cuts none below the set: a row that cannot be halved goes as far as it can', () => {
    const rows = [
      aTurnRow({ framesPerTurn: 72, overlapFrames: 24 }),
      aTurnRow({ viewAngleMdeg: 30_000, framesPerTurn: 36, overlapFrames: 3 }),
    ]
    expect(otherWayRows('coarser', rows, 24)?.map(({ framesPerTurn }) => framesPerTurn)).toEqual([36, 24])
    expect(otherWayRows('smoother', rows, 24)?.map(({ framesPerTurn }) => framesPerTurn)).toEqual([144, 72])
    const { fees } = otherWay(aBasis(), anInput({ rows }), 'smoother', rowsOf('smoother', rows))
    expect(fees[0]?.why).toContain('what 144 and 72 instead of 72 and 36 frames a turn cost')
  })

  it('keeps order: no row overtakes another, none is finer than asked in the coarser way, or coarser in the finer', () => {
    const row = fc.record({ framesPerTurn: fc.integer({ min: 2, max: 1440 }), overlapFrames: fc.nat(1440) })
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 6 }), fc.nat(72), (turns, set) => {
        const rows = turns.map((turn, index) => ({ ...turn, viewAngleMdeg: index * 4000 }))
        const ways = {
          coarser: otherWayRows('coarser', rows, set) ?? rows,
          smoother: otherWayRows('smoother', rows, set) ?? rows,
        }
        for (const [index, { framesPerTurn, viewAngleMdeg }] of rows.entries()) {
          const [coarser, smoother] = [ways.coarser[index], ways.smoother[index]]
          expect(coarser?.framesPerTurn).toBeLessThanOrEqual(framesPerTurn)
          expect(smoother?.framesPerTurn).toBeGreaterThanOrEqual(framesPerTurn)
          expect([coarser?.viewAngleMdeg, smoother?.viewAngleMdeg]).toEqual([viewAngleMdeg, viewAngleMdeg])
          for (const [other, than] of rows.entries()) {
            if (than.framesPerTurn > framesPerTurn) continue
            for (const way of [ways.coarser, ways.smoother]) {
              expect(way[other]?.framesPerTurn).toBeLessThanOrEqual(way[index]?.framesPerTurn ?? 0)
            }
          }
        }
        expect(() => checkRows(ways.coarser)).not.toThrow()
        expect(() => checkRows(ways.smoother)).not.toThrow()
      }),
    )
  })

  it('asks for no line where the studio’s cost is not known', () => {
    expect(
      otherWay(aBasis({ rates: null }), anInput(), 'smoother', alikeRows(1, { framesPerTurn: 488 })).fees,
    ).toEqual([])
  })
})
