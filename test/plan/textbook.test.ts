import { describe, expect, it } from 'vitest'
import type { PlanProblem } from '../../main/trade/plan/problem.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { anItem, aProblem } from './problems.ts'

interface Instance {
  readonly p: readonly number[]
  readonly d?: readonly number[]
  readonly w?: readonly number[]
  readonly r?: readonly number[]
}

function problemOf({ p, d, w, r }: Instance, rest: Partial<PlanProblem> = {}): PlanProblem {
  return aProblem(
    p.map((minutes, index) =>
      anItem(index + 1, minutes, {
        dueMin: d?.[index] ?? null,
        weight: w?.[index] ?? 1,
        earliestMin: r?.[index] ?? 0,
        rig: index,
      }),
    ),
    rest,
  )
}

const budget = { trials: 2000 }

describe('one bench against textbook instances', () => {
  it('finds the least total tardiness', () => {
    // After Pinedo, Scheduling: Theory, Algorithms, and Systems, example 3.4.x (from memory; recomputed by trying every order).
    const plan = solvePlan(problemOf({ p: [121, 79, 147, 83, 130], d: [260, 266, 266, 336, 337] }), budget)
    expect(plan.isProved).toBe(true)
    expect(plan.cost.weightedLatenessMin).toBe(370)
  })

  it('finds the least weighted tardiness', () => {
    // After Pinedo, example 3.6.x (from memory; recomputed by trying every order).
    const plan = solvePlan(problemOf({ p: [12, 8, 15, 9], d: [16, 26, 25, 27], w: [4, 5, 3, 5] }), budget)
    expect(plan.cost.weightedLatenessMin).toBe(67)
    expect(plan.placed.map(({ id }) => id)).toEqual([1, 2, 4, 3])
  })

  it('finds the least weighted tardiness with set changes that depend on the order', () => {
    // After Pinedo, the ATCS example (from memory; recomputed by trying every order): 98, in the order 2 4 3 1.
    const first = [1, 1, 3, 4]
    const between = [
      [0, 4, 1, 3],
      [0, 0, 1, 0],
      [1, 2, 0, 3],
      [4, 3, 1, 0],
    ]
    const plan = solvePlan(
      problemOf(
        { p: [13, 9, 13, 10], d: [12, 37, 21, 22], w: [2, 4, 2, 5] },
        {
          changeoverMin: (from, to) => (from === null ? first[to] : between[from]?.[to]) ?? 0,
        },
      ),
      budget,
    )
    expect(plan.cost.weightedLatenessMin).toBe(98)
    expect(plan.placed.map(({ id }) => id)).toEqual([2, 4, 3, 1])
  })
})
