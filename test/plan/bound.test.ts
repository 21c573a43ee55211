import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { leastAssignment } from '../../main/trade/plan/assignment.ts'
import { lowerBound } from '../../main/trade/plan/bound.ts'
import { compareCosts } from '../../main/trade/plan/problem.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { anItem, aProblem, everyOrder, problems } from './problems.ts'

describe('what no plan can do better than', () => {
  it('shares rows out to columns as cheaply as the best of all ways', () => {
    const squares = fc.integer({ min: 1, max: 6 }).chain((size) =>
      fc.array(fc.array(fc.integer({ min: 0, max: 50 }), { minLength: size, maxLength: size }), {
        minLength: size,
        maxLength: size,
      }),
    )
    fc.assert(
      fc.property(squares, (costs) => {
        const ways = everyOrder(costs.length).map((order) =>
          order.reduce((sum, column, row) => sum + (costs[row]?.[column] as number), 0),
        )
        expect(leastAssignment(costs)).toBeCloseTo(Math.min(...ways))
      }),
      { numRuns: 100 },
    )
  })

  it('is exact where everything is late from the start and weighs the same: shortest first', () => {
    // After Smith 1956 with equal weights: 1 + 3 + 6 + 10 + 15 = 35.
    const items = [3, 2, 4, 1, 5].map((minutes, index) => anItem(index + 1, minutes, { dueMin: 0 }))
    expect(lowerBound(aProblem(items)).weightedLatenessMin).toBe(35)
  })

  it('counts only the hours that benches are open', () => {
    // Two hours of work, one hour a day: the second is done an hour after the next opening at the soonest.
    const days = [0, 1].map((day) => ({ fromMin: day * 1440, toMin: day * 1440 + 60, day }))
    const items = [1, 2].map((id) => anItem(id, 60, { dueMin: 60 }))
    expect(lowerBound(aProblem(items, { benches: [{ windows: days, rig: 0 }] })).weightedLatenessMin).toBe(
      1440,
    )
  })

  it('is never above a plan that is proved, on one bench or two', () => {
    fc.assert(
      fc.property(fc.oneof(problems(7, 1), problems(5, 2)), (problem) => {
        const { cost, bound, isProved, impossible } = solvePlan(problem, { trials: 60 })
        if (!isProved || impossible.length > 0) return
        const least = { ...cost, ...bound }
        expect(bound.changeoverMin).toBeLessThanOrEqual(cost.changeoverMin)
        expect(compareCosts({ ...least, changeoverMin: 0, completionMin: 0 }, cost)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 150 },
    )
  })

  it('ends a search early once only earlier ends could be found, and always with the same plan', () => {
    // Nothing is due and one rig stands: every order has the least lateness and set change there can be.
    const items = Array.from({ length: 20 }, (_, index) => anItem(index + 1, 1 + ((index * 7) % 20)))
    const searched = () => {
      let most = 0
      const plan = solvePlan(aProblem(items), {
        trials: 20_000,
        onProgress: (done) => {
          most = Math.max(most, done)
          return true
        },
      })
      return { most, plan }
    }
    const calm = searched()
    expect(calm.most).toBeLessThan(10_000)
    // Smith 1956: 1 to 20 minutes, shortest first, end at their triangular numbers, which sum to 1,540.
    expect(calm.plan.cost.completionMin).toBe(1540)
    expect(searched().plan.placed).toEqual(calm.plan.placed)
  })
})
