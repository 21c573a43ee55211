import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type HandsNeeded, sharedHands, type Turner } from '../../main/trade/plan/hands.ts'

const day = 1440

const stretch = fc
  .record({
    bench: fc.integer({ min: 0, max: 2 }),
    day: fc.integer({ min: 0, max: 1 }),
    fromMin: fc.integer({ min: 0, max: 9 }),
    length: fc.integer({ min: 1, max: 4 }),
    group: fc.constantFrom('a', 'b'),
    bookedFor: fc.subarray([1, 2, 3], { maxLength: 2 }),
    isKept: fc.boolean(),
  })
  .map(
    ({ day: at, fromMin, length, ...rest }): HandsNeeded => ({
      ...rest,
      day: at,
      fromMin: at * day + fromMin * 60,
      toMin: at * day + (fromMin + length) * 60,
      turnMin: length * 60,
    }),
  )

const turners = fc
  .array(
    fc.record({
      awayOn: fc.subarray([0, 1]),
      busyFrom: fc.option(fc.integer({ min: 0, max: 9 })),
      turned: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((all) =>
    all.map(
      ({ awayOn, busyFrom, turned }, at): Turner => ({
        id: at + 1,
        away: [
          ...awayOn.map((on) => ({ fromMin: on * day, toMin: (on + 1) * day })),
          ...(busyFrom === null ? [] : [{ fromMin: busyFrom * 60, toMin: busyFrom * 60 + 60 }]),
        ],
        turnedMin: new Map([[0, turned * 60]]),
      }),
    ),
  )

/** No bench holds two stretches at once. */
function apart(all: readonly HandsNeeded[]): readonly HandsNeeded[] {
  return all.filter(
    (one, at) => !all.slice(0, at).some((other) => other.bench === one.bench && meets(other, one)),
  )
}

function meets(a: { fromMin: number; toMin: number }, b: { fromMin: number; toMin: number }) {
  return a.fromMin < b.toMin && b.fromMin < a.toMin
}

/** Read off the stretches alone, whatever found it. */
function isRight(
  needed: readonly HandsNeeded[],
  shared: readonly (readonly number[])[],
  people: readonly Turner[],
  capMin: number | null,
): boolean {
  return people.every(({ id, away, turnedMin }) => {
    const own = needed.filter((_, at) => shared[at]?.includes(id))
    const isElsewhere = own.some((one, at) => own.slice(0, at).some((other) => meets(one, other)))
    const isAway = own.some((one) => away.some((span) => meets(one, span)))
    const isTired = own.some(
      (one) =>
        capMin !== null &&
        own.reduce((sum, other) => sum + (other.day === one.day ? other.turnMin : 0), 0) +
          (turnedMin.get(one.day) ?? 0) >
          capMin,
    )
    return !isElsewhere && !isAway && !isTired
  })
}

/** True where one of all ways to give each stretch one person is right. */
function canBeShared(
  needed: readonly HandsNeeded[],
  people: readonly Turner[],
  capMin: number | null,
  chosen: readonly (readonly number[])[] = [],
): boolean {
  if (!isRight(needed, chosen, people, capMin)) return false
  if (chosen.length === needed.length) return true
  return people.some(({ id }) => canBeShared(needed, people, capMin, [...chosen, [id]]))
}

describe('the people of a plan', () => {
  it('are at one bench at a time, never while away, and never past the day’s cap; a day is shared out whenever it can be', () => {
    fc.assert(
      fc.property(
        fc.array(stretch, { maxLength: 8 }).map(apart),
        turners,
        fc.option(fc.integer({ min: 2, max: 8 }).map((hours) => hours * 60)),
        (needed, people, capMin) => {
          const shared = sharedHands(needed, people, capMin, false)
          expect(isRight(needed, shared, people, capMin)).toBe(true)
          for (const on of [0, 1]) {
            const today = needed.filter((one) => one.day === on)
            const isShared = needed.every((one, at) => one.day !== on || (shared[at]?.length ?? 0) > 0)
            // Two people may stay at what they are booked for together, which takes more hands than one each would.
            const least = today.map((one) => ({ ...one, bookedFor: [] }))
            expect(isShared).toBe(canBeShared(least, people, capMin))
          }
        },
      ),
      { numRuns: 300 },
    )
  })

  const at = (of: Partial<HandsNeeded>): HandsNeeded => ({
    bench: 0,
    day: 0,
    fromMin: 0,
    toMin: 60,
    turnMin: 60,
    group: 'a',
    bookedFor: [],
    isKept: false,
    ...of,
  })
  const person = (id: number): Turner => ({ id, away: [], turnedMin: new Map() })

  it('stay with the job and rig they began, on whatever bench it goes on', () => {
    const needed = [
      at({ bench: 0, group: 'a' }),
      at({ bench: 1, group: 'b' }),
      at({ bench: 1, group: 'a', fromMin: 60, toMin: 120 }),
      at({ bench: 0, group: 'b', fromMin: 60, toMin: 120 }),
    ]
    const [a, b, laterA, laterB] = sharedHands(needed, [person(1), person(2)], null, false)
    expect(a).not.toEqual(b)
    expect([laterA, laterB]).toEqual([a, b])
  })

  it('stay at what is kept, though others would take it up first', () => {
    const needed = [
      at({ bench: 0 }),
      at({ bench: 1, fromMin: 30, toMin: 90, group: 'b', bookedFor: [1], isKept: true }),
    ]
    expect(sharedHands(needed, [person(1), person(2)], null, false)).toEqual([[2], [1]])
  })

  it('stand together at the only bench, but for whoever is away', () => {
    const needed = [at({}), at({ day: 1, fromMin: day, toMin: day + 60 })]
    const away = { ...person(2), away: [{ fromMin: day, toMin: 2 * day }] }
    expect(sharedHands(needed, [person(1), away], null, true)).toEqual([[1, 2], [1]])
  })
})
