import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { gapOf } from '../../main/trade/plan/gap.ts'
import { itemCosts, itemCostsToday, sumOf } from '../../main/trade/plan/itemCosts.ts'
import { type MoveReason, movesOf } from '../../main/trade/plan/moves.ts'
import type { PlanItem, PlanProblem, Span } from '../../main/trade/plan/problem.ts'
import { scheduleOf } from '../../main/trade/plan/schedule.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { anItem, aProblem, problems } from './problems.ts'

const budget = { trials: 200 }

describe('what a plan says of its costs', () => {
  it('gives each item its share: they add up to what the plan costs', () => {
    fc.assert(
      fc.property(problems(8, 2), (problem) => {
        const plan = solvePlan(problem, { trials: 60 })
        const sum = sumOf(problem, itemCosts(problem, plan))
        expect(sum.weightedLatenessMin).toBeCloseTo(plan.cost.weightedLatenessMin)
        expect(sum.changeoverMin).toBe(plan.cost.changeoverMin)
        expect(sum.unplaced).toBe(plan.unplaced.length + plan.impossible.length)
        const spans: Span[] = plan.placed.flatMap(({ parts, change }) => [
          ...parts,
          ...(change ? [change] : []),
        ])
        expect(sum.bookedMin).toBe(spans.reduce((all, { fromMin, toMin }) => all + toMin - fromMin, 0))
      }),
      { numRuns: 60 },
    )
  })

  it('counts today’s places exactly as the plan’s: a plan that is booked costs what it cost', () => {
    fc.assert(
      fc.property(problems(8, 2), (problem) => {
        const plan = solvePlan(problem, { trials: 60 })
        const booked = asBooked(problem, plan)
        const before = itemCosts(problem, plan)
        expect(sumOf(problem, itemCostsToday(booked))).toEqual(sumOf(problem, before))
        expect(movesOf(booked, plan)).toEqual([])
      }),
      { numRuns: 60 },
    )
  })

  it('says from which rig to which, and what the change takes', () => {
    const problem = aProblem([anItem(1, 30, { rig: 1, dueMin: 50 }), anItem(2, 30, { rig: 2, dueMin: 90 })], {
      changeoverMin: (from, to) => (from === to ? 0 : 10),
    })
    expect(itemCosts(problem, solvePlan(problem, budget))).toMatchObject([
      { id: 1, rigBefore: null, rig: 1, changeoverMin: 10, latenessMin: 0 },
      { id: 2, rigBefore: 1, rig: 2, changeoverMin: 10, latenessMin: 0 },
    ])
  })
})

/** The problem with its items booked where a plan placed them. */
function asBooked(problem: PlanProblem, plan: ReturnType<typeof solvePlan>): PlanProblem {
  const places = new Map(plan.placed.map((place) => [place.id, place]))
  return {
    ...problem,
    items: problem.items.map((item) => {
      const place = places.get(item.id)
      return place ? { ...item, now: place } : item
    }),
  }
}

describe('the gap of a plan', () => {
  it('is never smaller than what the best of all orders gains', () => {
    fc.assert(
      fc.property(problems(6, 1), (problem) => {
        const best = solvePlan(problem, budget)
        if (!best.isProved || best.impossible.length > 0) return
        const order = problem.items.map((_, item) => ({ item, bench: 0 }))
        const { cost, unplaced } = scheduleOf(problem, order)
        const gap = gapOf({ isProved: false, cost, bound: best.bound })
        if (gap === null || unplaced.length > 0) return
        const gain = {
          lateness: cost.weightedLatenessMin - best.cost.weightedLatenessMin,
          'set change': cost.changeoverMin - best.cost.changeoverMin,
          moved: 0,
          'earlier ends': 0,
        }[gap.goal]
        expect(gain).toBeLessThanOrEqual((gap.atMost ?? 0) + 1e-6)
      }),
      { numRuns: 150 },
    )
  })

  it('is none for a proved plan, and where nothing is known of its lateness', () => {
    const cost = { unplaced: 0, weightedLatenessMin: 70, moved: 0, changeoverMin: 20, completionMin: 500 }
    const none = { weightedLatenessMin: 0, changeoverMin: 0 }
    expect(gapOf({ isProved: true, cost, bound: none })).toBe(null)
    expect(gapOf({ isProved: false, cost, bound: none })).toBe(null)
    expect(gapOf({ isProved: false, cost, bound: { weightedLatenessMin: 60, changeoverMin: 0 } })).toEqual({
      goal: 'lateness',
      atMost: 10,
    })
    expect(gapOf({ isProved: false, cost, bound: { weightedLatenessMin: 70, changeoverMin: 15 } })).toEqual({
      goal: 'set change',
      atMost: 5,
    })
  })
})

describe('why an item moves', () => {
  const day = { fromMin: 0, toMin: 480, day: 0 }
  const at = (startMin: number, endMin: number) => ({ bench: 0, startMin, endMin })
  const reasons = (problem: PlanProblem): readonly (readonly [number, MoveReason])[] =>
    movesOf(problem, solvePlan(problem, budget)).map(({ id, reason }) => [id, reason])
  const change = (from: number | null, to: number) => (from === to ? 0 : 20)

  it('is that its old place is gone: closed, goods not in, equipment away', () => {
    const bench = { windows: [day], rig: 0, shut: [{ fromMin: 480, toMin: 1440, why: 'closed' as const }] }
    const items: readonly PlanItem[] = [
      anItem(1, 30, { now: at(500, 530) }),
      anItem(2, 30, { earliestMin: 200, now: at(100, 130) }),
      anItem(3, 30, { away: [{ fromMin: 0, toMin: 300 }], now: at(250, 280) }),
    ]
    expect(reasons(aProblem(items, { benches: [bench] }))).toEqual([
      [1, { why: 'closed' }],
      [2, { why: 'goods not in', untilMin: 200 }],
      [3, { why: 'equipment away', untilMin: 300 }],
    ])
  })

  it('is that it made room for one that is due earlier', () => {
    const items = [anItem(1, 60, { dueMin: 400, now: at(0, 60) }), anItem(2, 60, { dueMin: 60 })]
    expect(reasons(aProblem(items))).toEqual([
      [1, { why: 'made room', forId: 2, isDueEarlier: true, savesLateMin: 60 }],
    ])
  })

  it('is set change saved, by as many minutes as putting it back would cost', () => {
    const items = [
      anItem(1, 30, { rig: 1, now: at(0, 30) }),
      anItem(2, 30, { rig: 2, now: at(50, 80) }),
      anItem(3, 30, { rig: 1, now: at(100, 130) }),
    ]
    const problem = aProblem(items, {
      benches: [{ windows: [day], rig: 1 }],
      changeoverMin: change,
    })
    expect(reasons(problem)).toEqual([
      [2, { why: 'less set change', savesMin: 20 }],
      [3, { why: 'less set change', savesMin: 20 }],
    ])
  })

  it('is only a sooner start or a better order where nothing else can be shown', () => {
    expect(reasons(aProblem([anItem(1, 30, { now: at(90, 120) })]))).toEqual([
      [1, { why: 'starts sooner', byMin: 90 }],
    ])
  })
})
