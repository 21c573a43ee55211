import { describe, expect, it } from 'vitest'
import type { RowValue } from '../../renderer/briefs/briefValue.ts'
import { figuresOf, type TypedQuote, withRowCount } from '../../renderer/quotes/quoteValue.ts'
import { nearTurns, turnSeen } from '../../renderer/quotes/turnWords.ts'
import { aBasis } from '../price/aBasis.ts'

const row: RowValue = { key: 'a', viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 3 }
const typed: TypedQuote = {
  rimUm10: 12_200_000,
  stepUm10: 50_000,
  rows: [row],
  people: 1,
  soldBy: 'list',
  dayTenths: null,
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
    ['one frame', [{ ...row, framesPerTurn: 1 }], 'from 2 to 1,440'],
    ['a turn below nothing', [{ ...row, framesPerTurn: -244 }], 'from 2 to 1,440'],
    ['one frame in the second row', [row, { ...row, viewAngleMdeg: 1, framesPerTurn: 1 }], 'in row 2'],
    ['no row', [], 'from 1 to 20'],
    ['too many rows', Array.from({ length: 21 }, (_, k) => ({ ...row, viewAngleMdeg: k })), 'from 1 to 20'],
    ['two rows at one angle', [row, { ...row, framesPerTurn: 36 }], 'same angle as row 1'],
    ['an overlap below nothing', [{ ...row, overlapFrames: -1 }], 'The overlap'],
  ])('is said of %s, and no figure is made up', (_what, rows, sentence) => {
    const { figures, sentence: said } = figuresOf(aBasis(), { ...typed, rows })
    expect(figures).toBeUndefined()
    expect(said).toContain(sentence)
  })

  it('leaves the figures open while a field is empty or cannot be read', () => {
    // A field hands on null for text, NaN and nothing typed.
    for (const key of ['discountPpm', 'depositPpm'] as const) {
      expect(figuresOf(aBasis(), { ...typed, [key]: null }), key).toEqual({})
    }
    for (const key of ['viewAngleMdeg', 'framesPerTurn', 'overlapFrames'] as const) {
      const rows = [row, { ...row, viewAngleMdeg: 30_000, [key]: null }]
      expect(figuresOf(aBasis(), { ...typed, rows }), key).toEqual({})
    }
  })

  it('adds rows over the last one, each at an angle of its own, and takes them from the end', () => {
    const rows = withRowCount([row], 20)
    expect(rows).toHaveLength(20)
    expect(new Set(rows.map(({ viewAngleMdeg }) => viewAngleMdeg)).size).toBe(20)
    expect(figuresOf(aBasis(), { ...typed, rows }).figures?.framesShot).toBe(3 * 20 * 247)
    expect(withRowCount([row], 2)[1]).toMatchObject({ viewAngleMdeg: 15_000, framesPerTurn: 244 })
    expect(withRowCount(rows, 1)).toEqual([row])
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
