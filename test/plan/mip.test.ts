import fc from 'fast-check'
import loadHighs from 'highs'
import { describe, expect, it } from 'vitest'
import type { PlanItem, PlanProblem } from '../../main/trade/plan/problem.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { anItem, aProblem } from './problems.ts'

const rigs = 3

const instances: fc.Arbitrary<PlanProblem> = fc
  .record({
    items: fc.array(
      fc.record({
        minutes: fc.integer({ min: 1, max: 30 }),
        earliestMin: fc.integer({ min: 0, max: 40 }),
        dueMin: fc.integer({ min: 0, max: 120 }),
        weight: fc.integer({ min: 1, max: 6 }),
        rig: fc.integer({ min: 0, max: rigs - 1 }),
      }),
      { minLength: 2, maxLength: 5 },
    ),
    changes: fc.array(fc.integer({ min: 0, max: 20 }), {
      minLength: rigs * (rigs + 1),
      maxLength: rigs * (rigs + 1),
    }),
  })
  .map(({ items, changes }) =>
    aProblem(
      items.map(({ minutes, ...rest }, index) => anItem(index + 1, minutes, rest)),
      { changeoverMin: (from, to) => (from === to ? 0 : (changes[(from ?? rigs) * rigs + to] as number)) },
    ),
  )

const late = (problem: PlanProblem) => problem.items.map(({ weight }, j) => `${weight} T${j}`).join(' + ')

function arcs({ items, changeoverMin }: PlanProblem) {
  return [-1, ...items.keys()].flatMap((from) =>
    [...items.keys()]
      .filter((to) => to !== from)
      .map((to) => ({
        from,
        to,
        name: `x${from + 1}_${to}`,
        minutes: changeoverMin(items[from]?.rig ?? null, (items[to] as PlanItem).rig),
      })),
  )
}

/**
 * One machine as a mixed-integer program in the LP format: S starts, T tardiness, x the item that follows directly. An
 * item starts after its goods, and after the one before it with the set change between them.
 */
function program(problem: PlanProblem, objective: string, extra: readonly string[]): string {
  const { items } = problem
  const all = arcs(problem)
  const most = 1000
  const length = (j: number) => (items[j]?.partsMin[0] ?? [0])[0] as number
  const rows = [
    ...items.map(
      (_, j) =>
        `${all
          .filter(({ to }) => to === j)
          .map(({ name }) => name)
          .join(' + ')} = 1`,
    ),
    ...items
      .map((_, i) =>
        all
          .filter(({ from }) => from === i)
          .map(({ name }) => name)
          .join(' + '),
      )
      .filter(Boolean)
      .map((sum) => `${sum} <= 1`),
    `${all
      .filter(({ from }) => from < 0)
      .map(({ name }) => name)
      .join(' + ')} = 1`,
    ...all.map(({ from, to, name, minutes }) =>
      from < 0
        ? `S${to} - ${minutes} ${name} >= 0`
        : `S${to} - S${from} - ${most} ${name} >= ${length(from) + minutes - most}`,
    ),
    ...items.map(({ earliestMin }, j) => `S${j} >= ${earliestMin}`),
    ...items.map(({ dueMin }, j) => `T${j} - S${j} >= ${length(j) - (dueMin ?? 0)}`),
    ...extra,
  ]
  const named = rows.map((row, index) => ` c${index}: ${row}`).join('\n')
  return `Minimize\n obj: ${objective}\nSubject To\n${named}\nBinary\n ${all.map(({ name }) => name).join(' ')}\nEnd\n`
}

describe('a plan against a mixed-integer program', () => {
  it('is as late, and changes sets as long, as the optimum of HiGHS', async () => {
    // HiGHS 1.15 (package highs): first the least weighted lateness, then the least set change at that lateness.
    const highs = await loadHighs()
    const optimum = (lp: string) => {
      const solution = highs.solve(lp)
      expect(solution.Status).toBe('Optimal')
      return Math.round(solution.ObjectiveValue)
    }
    for (const problem of fc.sample(instances, { numRuns: 12, seed: 11 })) {
      const plan = solvePlan(problem, { trials: 200 })
      expect(plan.isProved).toBe(true)
      const least = optimum(program(problem, late(problem), []))
      expect(plan.cost.weightedLatenessMin).toBe(least)
      const changes = arcs(problem)
        .map(({ minutes, name }) => `${minutes} ${name}`)
        .join(' + ')
      expect(plan.cost.changeoverMin).toBe(
        optimum(program(problem, changes, [`${late(problem)} <= ${least}`])),
      )
    }
  }, 60_000)
})
