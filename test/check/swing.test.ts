import { describe, expect, it } from 'vitest'
import { stepsOf } from '../../main/trade/check/turn/steps.ts'
import { onlySwings } from '../../main/trade/check/turn/swing.ts'
import { takeMatches } from '../../main/trade/check/turn/takeMatches.ts'
import { aCleanTake, aDrawnTurn, reportOfPlanned, tracesOfPlanned } from './aDrawnTurn.ts'
import { aFineTurn } from './aFineTake.ts'
import type { SolidKind } from './render.ts'

const marked = [24, 30, 36] as const

/** Clean takes of one solid at 2 to 6.9 mm off the axis, of 24 to 36 frames per turn. */
function takesOf(kind: SolidKind, count: number, firstSeed: number) {
  return Array.from({ length: count }, (_, index) => {
    const marks = marked[index % marked.length] ?? 24
    return aCleanTake(
      aDrawnTurn({ kind, seed: firstSeed + index, marks, offsetMm: 2 + 0.7 * index, past: 4 }),
      1,
    )
  })
}

describe('a product that only swings from side to side', () => {
  it('is told from one with a front and a back: 8 cans off the axis, and 12 other solids', () => {
    const swings = (kind: SolidKind, count: number) =>
      takesOf(kind, count, 61_000).map((take) =>
        onlySwings(takeMatches(tracesOfPlanned(take), take.framesPerTurn)),
      )
    expect(swings('can', 8)).toEqual(Array.from({ length: 8 }, () => true))
    for (const kind of ['mug', 'box', 'unsymmetrical'] as const)
      expect(swings(kind, 4)).toEqual([false, false, false, false])
  }, 60_000)

  it('is told among fine steps too', () => {
    const swings = (kind: SolidKind) => {
      const { clean } = aFineTurn(kind, 5, { planned: 150, widthPx: 64, offsetMm: 8 })
      return onlySwings(takeMatches(clean, 150))
    }
    expect([swings('can'), swings('mug'), swings('box')]).toEqual([true, false, false])
  }, 60_000)

  it('has no step that can be judged, and the report finds no fault with the turn of 8 of 8', () => {
    for (const take of takesOf('can', 8, 62_000)) {
      const { closing, findings, steps } = reportOfPlanned(take)
      const ofTurn = findings.filter(({ key }) => !/^(off|leaves)/.test(key)).map(({ key }) => key)
      expect([closing.by, steps.state, ...ofTurn]).toEqual(['count', 'unknown'])
    }
  }, 60_000)
})

describe('a clean take before its turn has closed', () => {
  it('has no step that looks like a passed mark: 24 of 24 whole turns without a frame past them', () => {
    for (const kind of ['mug', 'box', 'unsymmetrical'] as const) {
      for (const take of takesOf(kind, 8, 63_000)) {
        const traces = tracesOfPlanned(take).slice(0, take.framesPerTurn)
        const { missed, doubled } = stepsOf(takeMatches(traces, take.framesPerTurn))
        expect([kind, take.turn.marks, ...missed, ...doubled]).toEqual([kind, take.turn.marks])
      }
    }
  }, 60_000)
})
