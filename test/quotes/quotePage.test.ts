import { describe, expect, it } from 'vitest'
import { figuresOf, type TypedQuote } from '../../renderer/quotes/quoteValue.ts'
import { nearTurns, turnSeen } from '../../renderer/quotes/turnWords.ts'
import { aBasis } from '../price/aBasis.ts'

const typed: TypedQuote = {
  rimUm10: 12_200_000,
  stepUm10: 50_000,
  framesPerTurn: 244,
  overlapFrames: 3,
  rows: 1,
  discountPpm: 0,
  isRush: false,
  depositPpm: 0,
  taxRateId: 1,
  byHand: null,
  fees: [],
  dueDay: '',
  terms: '',
  assumptions: '',
}

describe('what is wrong on the page of a quote', () => {
  it.each([
    ['one frame', { framesPerTurn: 1 }, 'from 2 to 1,440'],
    ['a turn below nothing', { framesPerTurn: -244 }, 'from 2 to 1,440'],
    ['no row', { rows: 0 }, 'from 1 to 20'],
    ['an overlap below nothing', { overlapFrames: -1 }, 'The overlap'],
  ])('is said of %s, and no figure is made up', (_what, wrong, sentence) => {
    const { figures, sentence: said } = figuresOf(aBasis(), { ...typed, ...wrong })
    expect(figures).toBeUndefined()
    expect(said).toContain(sentence)
  })

  it('leaves the figures open while a field is empty or cannot be read', () => {
    // A field hands on null for text, NaN and nothing typed.
    for (const key of ['framesPerTurn', 'overlapFrames', 'rows', 'discountPpm', 'depositPpm'] as const) {
      expect(figuresOf(aBasis(), { ...typed, [key]: null }), key).toEqual({})
    }
  })

  it.each([
    ['a rim of nothing', 0, 50_000, 'The rim is 0 mm'],
    ['a rim of nothing and no step', 0, null, 'The rim is 0 mm'],
    ['a rim below nothing', -12_200_000, 50_000, 'Enter a length over 0'],
    ['a step of nothing', 12_200_000, 0, 'The step is 0 mm'],
    ['a step longer than the rim', 12_200_000, 13_000_000, 'is over half of the rim'],
    ['a step too fine for a turn', 12_200_000, 5_000, 'makes 2440 frames a turn'],
  ])('is said of %s beside the drawn turn', (_what, rimUm10, stepUm10, sentence) => {
    expect(turnSeen(rimUm10, stepUm10, 244, 10_000)).toEqual({
      sentence: expect.stringContaining(sentence),
      tape: undefined,
    })
    // On a rim that is one, the turn itself can still be taken.
    expect(nearTurns(rimUm10, 244, 10_000, [24]).some(({ frames }) => frames === 244)).toBe(rimUm10 > 0)
  })
})
