import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { linesOf } from '../../main/trade/plan/line.ts'
import { compareCosts, type PlanItem, type PlanProblem } from '../../main/trade/plan/problem.ts'
import { scheduleOf } from '../../main/trade/plan/schedule.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { byDueDay } from '../../main/trade/plan/starts.ts'
import { alwaysOpen, anItem, aProblem, everyOrder, problems } from './problems.ts'

describe('a plan', () => {
  it('is the best of all orders, where it says that it is proved', () => {
    fc.assert(
      fc.property(problems(6, 1), (problem) => {
        const plan = solvePlan(problem, { trials: 200 })
        if (!plan.isProved) return
        const best = everyOrder(problem.items.length)
          .map(
            (order) =>
              scheduleOf(
                problem,
                order.map((item) => ({ item, bench: 0 })),
              ).cost,
          )
          .sort(compareCosts)[0]
        expect(plan.cost).toEqual(best)
      }),
      { numRuns: 150 },
    )
  })

  it('is the best of all orders on two benches too, where it says that it is proved', () => {
    fc.assert(
      fc.property(problems(4, 2), (problem) => {
        const plan = solvePlan(problem, { trials: 100 })
        if (!plan.isProved || plan.impossible.length > 0) return
        const best = everyOrder(problem.items.length)
          .flatMap((order) => everySpread(order.length).map((benches) => ({ order, benches })))
          .map(
            ({ order, benches }) =>
              scheduleOf(
                problem,
                order.map((item, at) => ({ item, bench: benches[at] as number })),
              ).cost,
          )
          .sort(compareCosts)[0]
        expect(plan.cost).toEqual(best)
      }),
      { numRuns: 100 },
    )
  })

  it('proves eight spins on two benches', () => {
    const drawn = fc.sample(problems(8, 2), { numRuns: 30, seed: 3 })
    const proved = drawn.filter((problem) => solvePlan(problem, { trials: 100 }).isProved)
    expect(proved.length).toBeGreaterThan(24)
  })

  it('is never worse with a free bench more, where both are proved', () => {
    fc.assert(
      fc.property(problems(5, 1), (problem) => {
        const one = solvePlan(problem, { trials: 100 })
        const items = problem.items.map((item) => ({
          ...item,
          partsMin: [item.partsMin[0] ?? null, item.partsMin[0] ?? null],
        }))
        const benches = [...problem.benches, { windows: alwaysOpen, rig: null }]
        const two = solvePlan({ ...problem, items, benches }, { trials: 100 })
        if (!one.isProved || !two.isProved || one.impossible.length > 0) return
        expect(compareCosts(two.cost, one.cost)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 80 },
    )
  })

  it('costs the same worked out from where an order differs as from its start', () => {
    const shuffles = fc.array(fc.array(fc.nat(), { minLength: 8, maxLength: 8 }), {
      minLength: 3,
      maxLength: 6,
    })
    fc.assert(
      fc.property(problems(8, 1), shuffles, (problem, keys) => {
        const [line] = linesOf(problem, [])
        for (const key of keys) {
          const steps = problem.items
            .map((_, item) => ({ item, bench: 0 }))
            .sort((a, b) => (key[a.item] as number) - (key[b.item] as number))
          const trial = line?.tried(
            steps.map((step) => line.steps.find((old) => old.item === step.item) ?? step),
          )
          expect(trial?.cost).toEqual(scheduleOf(problem, steps).cost)
          if (trial) line?.commit(trial)
        }
      }),
      { numRuns: 150 },
    )
  })

  it('proves most small instances', () => {
    const drawn = fc.sample(problems(6, 1), { numRuns: 60, seed: 7 })
    const proved = drawn.filter((problem) => solvePlan(problem, { trials: 100 }).isProved)
    expect(proved.length).toBeGreaterThan(50)
  })

  it('never overlaps, never breaks a part, never starts before the goods are in, and costs what it says', () => {
    fc.assert(
      fc.property(problems(10, 2), (problem) => {
        const plan = solvePlan(problem, { trials: 150 })
        holds(problem, plan)
      }),
      { numRuns: 150 },
    )
  })

  it('is the same for the same input', () => {
    fc.assert(
      fc.property(problems(12, 2), (problem) => {
        const once = solvePlan(problem, { trials: 300, seed: 5 })
        expect(solvePlan(problem, { trials: 300, seed: 5 })).toEqual(once)
      }),
      { numRuns: 40 },
    )
  })

  it('is never worse than the order by due day', () => {
    fc.assert(
      fc.property(problems(12, 2), (problem) => {
        const plan = solvePlan(problem, { trials: 50 })
        if (plan.impossible.length > 0) return
        expect(compareCosts(plan.cost, byDueDay(problem).schedule.cost)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 60 },
    )
  })

  it('is never better than its bound', () => {
    fc.assert(
      fc.property(problems(8, 2), (problem) => {
        const { cost, bound } = solvePlan(problem, { trials: 150 })
        if (cost.unplaced > 0) return
        expect(cost.weightedLatenessMin).toBeGreaterThanOrEqual(bound.weightedLatenessMin - 1e-6)
        expect(cost.changeoverMin).toBeGreaterThanOrEqual(bound.changeoverMin)
      }),
      { numRuns: 150 },
    )
  })

  it('takes nothing earlier than today where places are kept, and moves nothing that can stay', () => {
    const items = [
      anItem(1, 50, { rig: 1, now: { bench: 0, startMin: 0, endMin: 50 } }),
      anItem(2, 50, { rig: 2, now: { bench: 0, startMin: 120, endMin: 170 } }),
      anItem(3, 30, { rig: 1, dueMin: 120 }),
    ]
    const plan = solvePlan(
      aProblem(items, {
        benches: [{ windows: alwaysOpen, rig: 1 }],
        keepsPlaces: true,
        changeoverMin: (from, to) => (from === to ? 0 : 10),
      }),
      { trials: 500 },
    )
    expect(plan.cost.moved).toBe(0)
    expect(plan.placed.map(({ id, startMin }) => [id, startMin])).toEqual([
      [1, 0],
      [3, 50],
      [2, 120],
    ])
  })

  it('says which items can never lie anywhere', () => {
    const items = [anItem(1, 50), anItem(2, 500)]
    const day = { fromMin: 0, toMin: 480, day: 0 }
    expect(
      solvePlan(aProblem(items, { benches: [{ windows: [day], rig: null }] }), { trials: 10 }).impossible,
    ).toEqual([2])
    expect(solvePlan(aProblem(items, { turningCapMin: 40 }), { trials: 10 }).impossible).toEqual([1, 2])
  })

  it('keeps a rig over night: the set change may be made the evening before', () => {
    const days = [0, 1].map((day) => ({ fromMin: day * 1440, toMin: day * 1440 + 100, day }))
    const plan = solvePlan(
      aProblem([anItem(1, 70, { rig: 1 }), anItem(2, 90, { rig: 2 })], {
        benches: [{ windows: days, rig: 1 }],
        changeoverMin: (from, to) => (from === to ? 0 : 20),
      }),
      { trials: 10 },
    )
    expect(plan.placed[1]).toMatchObject({ change: { fromMin: 70, toMin: 90 }, startMin: 1440 })
  })

  it('lets one pair of hands turn at one bench at a time, though each keeps its rig', () => {
    const items = [1, 2, 3, 4].map((id) => anItem(id, 30, { rig: id % 2, benches: 2 }))
    const benches = [0, 1].map((rig) => ({ windows: [{ fromMin: 0, toMin: 1000, day: 0 }], rig }))
    const change = (from: number | null, to: number) => (from === to ? 0 : 40)
    const alone = solvePlan({ ...aProblem(items), benches, hands: 1, changeoverMin: change }, { trials: 400 })
    expect(alone.cost.changeoverMin).toBe(0)
    expect(Math.max(...alone.placed.map(({ endMin }) => endMin))).toBe(120)
    const two = solvePlan({ ...aProblem(items), benches, hands: 2, changeoverMin: change }, { trials: 400 })
    expect(Math.max(...two.placed.map(({ endMin }) => endMin))).toBe(60)
  })

  it('holds a lamp on one bench at a time, and waits for one that is away', () => {
    const lamp = 9
    const items = [
      anItem(1, 30, { benches: 2, needs: [lamp] }),
      anItem(2, 30, { benches: 2, needs: [lamp] }),
      anItem(3, 30, { benches: 2, away: [{ fromMin: 0, toMin: 100 }] }),
    ]
    const benches = [0, 1].map(() => ({ windows: [{ fromMin: 0, toMin: 1000, day: 0 }], rig: 0 }))
    const plan = solvePlan({ ...aProblem(items), benches, hands: 2 }, { trials: 400 })
    const [a, b, c] = [1, 2, 3].map((id) => plan.placed.find((one) => one.id === id))
    expect(Math.abs((a?.startMin ?? 0) - (b?.startMin ?? 0))).toBeGreaterThanOrEqual(30)
    expect(c?.startMin).toBeGreaterThanOrEqual(100)
  })
})

/** All ways to give each of so many items one of two benches. */
function everySpread(count: number): readonly (readonly number[])[] {
  return Array.from({ length: 2 ** count }, (_, bits) =>
    Array.from({ length: count }, (_, at) => (bits >> at) & 1),
  )
}

/** Reads a plan against the problem alone, minute by minute where it can. */
function holds(problem: PlanProblem, plan: ReturnType<typeof solvePlan>): void {
  expect([...plan.placed.map(({ id }) => id), ...plan.unplaced, ...plan.impossible].sort()).toEqual(
    problem.items.map(({ id }) => id).sort(),
  )
  const work = plan.placed.flatMap(({ bench, change, parts }) =>
    [...parts, ...(change ? [change] : [])].map((span) => ({ bench, ...span })),
  )
  for (const { bench, fromMin, toMin } of work) {
    const open = problem.benches[bench]?.windows.some((one) => one.fromMin <= fromMin && toMin <= one.toMin)
    expect(open).toBe(true)
  }
  for (const bench of problem.benches.keys()) disjoint(work.filter((one) => one.bench === bench))
  if (problem.hands === 1) disjoint(plan.placed.flatMap(({ parts }) => parts))
  const needsLamp = new Set(problem.items.filter(({ needs }) => needs?.length).map(({ id }) => id))
  disjoint(plan.placed.filter(({ id }) => needsLamp.has(id)).flatMap(({ parts }) => parts))
  let late = 0
  for (const { id, startMin, endMin, parts, bench } of plan.placed) {
    const item = problem.items.find((one) => one.id === id) as PlanItem
    expect(startMin).toBeGreaterThanOrEqual(item.earliestMin)
    expect(parts.map(({ fromMin, toMin }) => toMin - fromMin)).toEqual(item.partsMin[bench])
    if (item.after !== undefined && problem.items.some((one) => one.id === item.after)) {
      const first = plan.placed.find((one) => one.id === item.after)
      expect(first?.endMin).toBeLessThanOrEqual(startMin)
    }
    late += item.weight * Math.max(0, endMin - (item.dueMin ?? Number.POSITIVE_INFINITY))
  }
  expect(plan.cost.weightedLatenessMin).toBeCloseTo(late)
  capHolds(problem, plan)
}

function capHolds(problem: PlanProblem, { placed }: ReturnType<typeof solvePlan>): void {
  if (problem.turningCapMin === null) return
  const turned = new Map<string, number>()
  for (const { bench, parts } of placed) {
    for (const { fromMin, toMin } of parts) {
      const person = problem.hands >= problem.benches.length ? bench : 0
      const key = `${person} ${Math.floor(fromMin / 1440)}`
      turned.set(key, (turned.get(key) ?? 0) + toMin - fromMin)
    }
  }
  for (const minutes of turned.values()) expect(minutes).toBeLessThanOrEqual(problem.turningCapMin)
}

function disjoint(spans: readonly { readonly fromMin: number; readonly toMin: number }[]): void {
  const sorted = spans.filter(({ fromMin, toMin }) => toMin > fromMin).sort((a, b) => a.fromMin - b.fromMin)
  for (const [index, span] of sorted.entries()) {
    const next = sorted[index + 1]
    if (next) expect(span.toMin).toBeLessThanOrEqual(next.fromMin)
  }
}
