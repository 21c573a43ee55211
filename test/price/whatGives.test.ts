import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type QuoteBasis, type QuoteInput, workOutQuote } from '../../main/trade/quote.ts'
import { type Answer, type Change, levers, whatGives } from '../../main/trade/whatGives.ts'
import { aBasis, alikeRows, anInput, aQuoteSpin, aTurnRow, boughtIn, cutOut } from './aBasis.ts'

/** What of the two finishes and none a frame costs: 30 s at 45.00 an hour is 0.375, 40.00 a hundred is 0.40. */
const finishMinor = new Map<number | null, number>([
  [cutOut.id, 37.5],
  [boughtIn.id, 40],
  [null, 0],
])

/** The floor with changes made, by the whole quote and not by the search. */
function floorWith(
  basis: QuoteBasis,
  input: QuoteInput,
  changes: readonly Pick<Change, 'lever' | 'to'>[],
): number {
  const to = (lever: Change['lever']) => changes.find((change) => change.lever === lever)?.to
  const finishing = to('finishing')
  const spins =
    finishing === undefined
      ? basis.spins
      : basis.spins.map((spin) =>
          (finishMinor.get(spin.finishClassId) ?? 0) > (finishMinor.get(finishing) ?? 0)
            ? { ...spin, finishClassId: finishing }
            : spin,
        )
  const rows = input.rows.slice(0, to('rows') ?? input.rows.length).map((row) => ({
    ...row,
    framesPerTurn: Math.min(row.framesPerTurn, to('frames') ?? row.framesPerTurn),
    overlapFrames: Math.min(row.overlapFrames, to('overlap') ?? row.overlapFrames),
  }))
  const changed = { ...input, rows }
  const { cost } = workOutQuote({ ...basis, spins }, changed)
  if (!cost) throw new Error('The studio has no rates.')
  return cost.p80Minor
}

/** Everything that can be given of each lever, written down apart from the search. */
function allOf(basis: QuoteBasis, input: QuoteInput): Record<Change['lever'], readonly (number | null)[]> {
  const used = Math.max(...basis.spins.map(({ finishClassId }) => finishMinor.get(finishClassId) ?? 0))
  const turns = input.rows.map(({ framesPerTurn }) => framesPerTurn)
  const overlaps = input.rows.map(({ overlapFrames }) => overlapFrames)
  const falling = (counts: readonly number[], below: number) =>
    [...new Set(counts)].filter((count) => count < below).sort((a, b) => b - a)
  return {
    overlap: falling([3, 1, 0, ...overlaps], Math.max(...overlaps)),
    // Whole multiples of the set of 24 or what another row has, for a loop at least 72.
    frames: falling([240, 216, 192, 168, 144, 120, 96, 72, ...turns], Math.max(...turns)).filter(
      (count) => count >= 72,
    ),
    finishing: ([boughtIn.id, cutOut.id, null] as const).filter((id) => (finishMinor.get(id) ?? 0) < used),
    rows: [2, 1].filter((count) => count < input.rows.length),
  }
}

function setsOf(size: number): readonly (readonly Change['lever'][])[] {
  // The bits of each number from 0 to 15 say which levers are in the set.
  return Array.from({ length: 2 ** levers.length }, (_, bits) =>
    levers.filter((_lever, index) => (bits >> index) % 2 === 1),
  ).filter((set) => set.length === size)
}

/** Whether any choice of these levers, and of no other, reaches the price. */
function canReach(
  basis: QuoteBasis,
  input: QuoteInput,
  set: readonly Change['lever'][],
  wished: number,
): boolean {
  const options = allOf(basis, input)
  const grid = set.reduce<Pick<Change, 'lever' | 'to'>[][]>(
    (all, lever) => all.flatMap((some) => options[lever].map((to) => [...some, { lever, to }])),
    [[]],
  )
  return grid.some((changes) => floorWith(basis, input, changes) <= wished)
}

const a = {
  spins: fc.array(fc.constantFrom(null, cutOut.id, boughtIn.id), { minLength: 1, maxLength: 2 }),
  rows: fc
    .array(
      fc.record({
        framesPerTurn: fc.constantFrom(36, 100, 122, 244),
        overlapFrames: fc.constantFrom(0, 3, 12, 82),
      }),
      { minLength: 1, maxLength: 3 },
    )
    .map((turns) => turns.map((turn, index) => ({ ...turn, viewAngleMdeg: index * 15_000 }))),
  part: fc.double({ min: 0.1, max: 1.1, noNaN: true }),
}

describe('what must give for a price', () => {
  it('is nothing where the price covers the floor already', () => {
    const basis = aBasis()
    const { floorMinor } = whatGives(basis, anInput(), 1_000_000)
    expect(floorMinor).toBe(workOutQuote(basis, anInput()).cost?.p80Minor)
    expect(whatGives(basis, anInput(), floorMinor).answers).toEqual([{ changes: [], floorMinor }])
  })

  it('is said for a real case: the overlap alone, and by how little', () => {
    const basis = aBasis()
    const floor = floorWith(basis, anInput(), [])
    const { answers } = whatGives(basis, anInput(), floor - 1)
    expect(answers.map(({ changes }) => changes.map(({ lever, from, to }) => [lever, from, to]))).toEqual([
      [['overlap', 82, 3]],
      [['frames', 244, 240]],
    ])
  })

  it('always reaches the price, with as few changes as can be, none of them deeper than it must be', () => {
    fc.assert(
      fc.property(a.spins, a.rows, a.part, (finishes, rows, part) => {
        const basis = aBasis({
          spins: finishes.map((finishClassId, index) => aQuoteSpin({ shootId: index + 1, finishClassId })),
        })
        const input = anInput({ rows })
        const wished = Math.max(1, Math.round(floorWith(basis, input, []) * part))
        const { answers, lowestMinor } = whatGives(basis, input, wished)
        const size = answers[0]?.changes.length ?? levers.length + 1
        for (let fewer = 0; fewer < Math.min(size, levers.length + 1); fewer += 1) {
          for (const set of setsOf(fewer)) expect(canReach(basis, input, set, wished)).toBe(false)
        }
        if (answers.length === 0) expect(lowestMinor).toBeGreaterThan(wished)
        for (const answer of answers) {
          expect(answer.changes.length).toBe(size)
          expect(floorWith(basis, input, answer.changes)).toBe(answer.floorMinor)
          expect(answer.floorMinor).toBeLessThanOrEqual(wished)
          expectGentle(basis, input, answer, wished)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('is said of the rows that feel it, where rows differ', () => {
    const basis = aBasis()
    const rows = [
      aTurnRow(),
      aTurnRow({ viewAngleMdeg: 30_000, framesPerTurn: 120, overlapFrames: 12 }),
      aTurnRow({ viewAngleMdeg: 60_000, framesPerTurn: 48, overlapFrames: 3 }),
    ]
    const floor = floorWith(basis, anInput({ rows }), [])
    const said = (wished: number) =>
      whatGives(basis, anInput({ rows }), wished).answers.map(({ changes }) =>
        changes.map(({ lever, from, to, inRows }) => [lever, from, to, inRows]),
      )
    expect(said(floor - 1)).toEqual([
      // No deeper than the second row's own overlap, which then need not give.
      [['overlap', 82, 12, [1]]],
      [['frames', 244, 240, [1]]],
      [['rows', 3, 2, []]],
    ])
    expect(said(floorWith(basis, anInput({ rows }), [{ lever: 'frames', to: 96 }]))).toContainEqual([
      ['frames', 244, 96, [1, 2]],
    ])
  })

  it('saves with its changes together what lies between the two floors', () => {
    const basis = aBasis({ spins: [aQuoteSpin({ finishClassId: boughtIn.id })] })
    const input = anInput({ rows: alikeRows(2) })
    const { floorMinor, lowestMinor } = whatGives(basis, input, 1)
    for (const part of [0.9, 0.6, 0.4, 0.25]) {
      for (const answer of whatGives(basis, input, Math.round(floorMinor * part)).answers) {
        const saved = answer.changes.reduce((sum, { savingMinor }) => sum + savingMinor, 0)
        expect(saved).toBe(floorMinor - answer.floorMinor)
      }
    }
    expect(whatGives(basis, input, lowestMinor).answers.length).toBeGreaterThan(0)
    expect(whatGives(basis, input, lowestMinor - 1).answers).toEqual([])
  })

  it('leaves the turn of spins with a brief of their own alone', () => {
    const spins = [aQuoteSpin({ ownRows: [{ frames: 244, overlap: 82 }] })]
    expect(whatGives(aBasis({ spins }), anInput(), 1).answers).toEqual([])
    const { floorMinor, lowestMinor } = whatGives(aBasis({ spins }), anInput(), 1)
    expect(lowestMinor).toBe(floorMinor)
  })

  it('refuses a price that is none, and a studio whose cost is not known', () => {
    for (const wished of [0, -1, Number.NaN, 0.5]) {
      expect(() => whatGives(aBasis(), anInput(), wished)).toThrow('more than 0')
    }
    expect(() => whatGives(aBasis({ rates: null }), anInput(), 5200)).toThrow('another currency')
  })
})

/** One step gentler of any one change, and the price is missed. */
function expectGentle(basis: QuoteBasis, input: QuoteInput, answer: Answer, wished: number): void {
  const options = allOf(basis, input)
  for (const change of answer.changes) {
    const gentler = options[change.lever][options[change.lever].indexOf(change.to) - 1]
    if (gentler === undefined) continue
    const changes = answer.changes.map((each) => (each === change ? { ...each, to: gentler } : each))
    expect(floorWith(basis, input, changes)).toBeGreaterThan(wished)
  }
}
