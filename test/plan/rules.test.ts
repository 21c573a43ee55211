import { describe, expect, it } from 'vitest'
import type { PlanProblem } from '../../main/trade/plan/problem.ts'
import { scheduleOf } from '../../main/trade/plan/schedule.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { byNearestRig } from '../../main/trade/plan/starts.ts'
import { anItem, aProblem } from './problems.ts'

interface Machine {
  readonly p: readonly number[]
  readonly d: readonly number[]
  readonly w?: readonly number[]
  readonly r?: readonly number[]
}

// A and B: computed by trying every order, no outside source.
const a: Machine = { p: [3, 2, 4, 1, 5], d: [4, 6, 9, 3, 14], w: [2, 5, 1, 4, 3] }
const b: Machine = { p: [4, 3, 7, 6, 8, 8], d: [9, 5, 12, 11, 20, 23], w: [1, 3, 2, 2, 5, 1] }

/** One machine without a calendar; of its jobs those named by index, due so much later. */
function machine(
  { p, d, w, r }: Machine,
  {
    jobs = [...p.keys()],
    laterMin = 0,
  }: { readonly jobs?: readonly number[]; readonly laterMin?: number } = {},
): PlanProblem {
  return aProblem(
    jobs.map((job) =>
      anItem(job + 1, p[job] as number, {
        dueMin: (d[job] as number) + laterMin,
        weight: w?.[job] ?? 1,
        earliestMin: r?.[job] ?? 0,
      }),
    ),
  )
}

function lateness(problem: PlanProblem): number {
  const plan = solvePlan(problem, { trials: 500 })
  expect(plan.isProved).toBe(true)
  return plan.cost.weightedLatenessMin
}

/** All but so many of the jobs, in every way. */
function without(count: number, left: number): readonly (readonly number[])[] {
  if (left === 0) return [[...Array(count).keys()]]
  return without(count, left - 1).flatMap((jobs) => jobs.map((_, at) => jobs.toSpliced(at, 1)))
}

describe('rules of one machine', () => {
  it('holds as many jobs on time as Moore and Hodgson do, and no more', () => {
    // The rule: Hodgson in Moore, Management Science 15 (1968). First instance after Pinedo, Scheduling, example 3.3.x (from
    // memory; every order tried): jobs 3 4 5 are on time. Second: ten jobs whose optimum, all but 7 and 8, was found over
    // all 1024 subsets.
    const five: Machine = { p: [7, 8, 4, 6, 6], d: [9, 17, 18, 19, 21] }
    expect(lateness(machine(five, { jobs: [2, 3, 4] }))).toBe(0)
    for (const jobs of without(5, 1)) expect(lateness(machine(five, { jobs }))).toBeGreaterThan(0)
    const ten: Machine = {
      p: [19, 23, 5, 31, 17, 8, 32, 41, 26, 18],
      d: [48, 75, 170, 215, 205, 240, 85, 67, 100, 95],
    }
    expect(lateness(machine(ten, { jobs: [0, 1, 2, 3, 4, 5, 8, 9] }))).toBe(0)
    for (const jobs of without(10, 1)) expect(lateness(machine(ten, { jobs }))).toBeGreaterThan(0)
  })

  it('has the least greatest lateness of the order by due day, and not a minute less', () => {
    // Jackson's rule (1955; from memory). Greatest lateness 1 in the instance after Kleinberg and Tardos 4.2 (from
    // memory); 1 and 13 in A and B; 5 with ready times after Pinedo, example 3.2.x (from memory; every order tried).
    const instances: readonly (readonly [Machine, number])[] = [
      [{ p: [3, 2, 1, 4, 3, 2], d: [6, 8, 9, 9, 14, 15] }, 1],
      [a, 1],
      [b, 13],
      [{ p: [4, 2, 6, 5], r: [0, 1, 3, 5], d: [8, 12, 11, 10] }, 5],
    ]
    for (const [instance, greatest] of instances) {
      expect(lateness(machine(instance, { laterMin: greatest }))).toBe(0)
      expect(lateness(machine(instance, { laterMin: greatest - 1 }))).toBeGreaterThan(0)
    }
  })

  it('has the weighted completion of Smith’s rule, and the weighted lateness found by trying every order', () => {
    // Smith, Naval Research Logistics Quarterly 3 (1956; from memory): shortest weighted length first.
    const dueAtOnce = (of: Machine): Machine => ({ ...of, d: of.p.map(() => 0) })
    expect(lateness(machine(dueAtOnce(a)))).toBe(79)
    expect(lateness(machine(dueAtOnce({ p: a.p, d: a.d })))).toBe(35)
    expect(lateness(machine(dueAtOnce(b)))).toBe(210)
    expect(lateness(machine(a))).toBe(4)
    expect(lateness(machine(b))).toBe(54)
  })
})

describe('set changes without a calendar', () => {
  // Six places, minutes from row to column: the best open way is 0 3 1 4 5 2, unique (every order tried).
  const six = [
    [0, 5, 10, 10, 30, 15],
    [25, 0, 25, 20, 5, 15],
    [35, 35, 0, 30, 40, 25],
    [5, 5, 30, 0, 40, 30],
    [35, 35, 15, 15, 0, 20],
    [20, 5, 15, 30, 15, 0],
  ]
  const way = (minutes: readonly (readonly number[])[], rest: Partial<PlanProblem> = {}) =>
    aProblem(
      minutes.slice(1).map((_, index) => anItem(index + 1, 1, { rig: index + 1 })),
      {
        benches: [{ windows: [{ fromMin: 0, toMin: 10_000, day: 0 }], rig: 0 }],
        changeoverMin: (from, to) => minutes[from ?? 0]?.[to] ?? 0,
        ...rest,
      },
    )
  /** With a way back to the start as the last item: no way leads on from there. */
  const closed = (minutes: readonly (readonly number[])[]) => {
    const home = minutes.length
    return way([...minutes.map((row) => [...row, row[0] as number]), Array(home + 1).fill(1000)])
  }
  const changes = (problem: PlanProblem) => solvePlan(problem, { trials: 500 })

  it('are 55 minutes at best, 80 always to the nearest, and 105 the best way backwards', () => {
    const problem = way(six)
    const order = [3, 1, 4, 5, 2]
    const best = changes(problem)
    expect(best.cost.changeoverMin).toBe(55)
    expect(best.placed.map(({ id }) => id)).toEqual(order)
    expect(byNearestRig(problem).schedule.cost.changeoverMin).toBe(80)
    const back = order.toReversed().map((id) => ({ item: id - 1, bench: 0 }))
    expect(scheduleOf(problem, back).cost.changeoverMin).toBe(105)
    expect(changes(closed(six)).cost.changeoverMin).toBe(65)
  })

  it('are the shortest tour of four places', () => {
    // After Horowitz and Sahni (from memory; every order tried): 35, in the order 1 2 4 3 1.
    const tour = changes(
      closed([
        [0, 10, 15, 20],
        [5, 0, 9, 10],
        [6, 13, 0, 12],
        [8, 8, 9, 0],
      ]),
    )
    expect(tour.isProved).toBe(true)
    expect(tour.cost.changeoverMin).toBe(35)
    expect(tour.placed.map(({ id }) => id)).toEqual([1, 3, 2, 4])
  })
})
