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

  it('takes the shortest weighted length first where all is late from the start', () => {
    // Smith's rule (Naval Research Logistics Quarterly 3, 1956; from memory): with every day due past, weighted
    // lateness is weighted completion, least by p/w. Sum of w·C of this instance: 79 in the order 4 2 1 5 3.
    const plan = solvePlan(problemOf({ p: [3, 2, 4, 1, 5], d: [0, 0, 0, 0, 0], w: [2, 5, 1, 4, 3] }), budget)
    expect(plan.cost.weightedLatenessMin).toBe(79)
    expect(plan.placed.map(({ id }) => id)).toEqual([4, 2, 1, 5, 3])
  })

  it('is never late where the order by due day is not', () => {
    // Jackson's rule (1955; from memory): the order by due day has the least greatest lateness. Here it is 1, in
    // the instance after Kleinberg and Tardos 4.2 (from memory), so that a day more for each makes nothing late.
    const plan = solvePlan(problemOf({ p: [3, 2, 1, 4, 3, 2], d: [7, 9, 10, 10, 15, 16] }), budget)
    expect(plan.cost.weightedLatenessMin).toBe(0)
    expect(plan.bound.weightedLatenessMin).toBe(0)
  })

  it('finds the shortest way through set changes that are not the same both ways', () => {
    // Six places, unique best open way 55 in the order 0 3 1 4 5 2; the nearest always next gives 80.
    const minutes = [
      [0, 5, 10, 10, 30, 15],
      [25, 0, 25, 20, 5, 15],
      [35, 35, 0, 30, 40, 25],
      [5, 5, 30, 0, 40, 30],
      [35, 35, 15, 15, 0, 20],
      [20, 5, 15, 30, 15, 0],
    ]
    const items = [1, 2, 3, 4, 5].map((rig) => anItem(rig, 1, { rig }))
    const plan = solvePlan(
      aProblem(items, {
        benches: [{ windows: [{ fromMin: 0, toMin: 10_000, day: 0 }], rig: 0 }],
        changeoverMin: (from, to) => minutes[from ?? 0]?.[to] ?? 0,
      }),
      budget,
    )
    expect(plan.cost.changeoverMin).toBe(55)
    expect(plan.placed.map(({ id }) => id)).toEqual([3, 1, 4, 5, 2])
  })
})
