import { compareCosts, type PlanCost, type PlanProblem } from '../../main/trade/plan/problem.ts'
import { solvePlan } from '../../main/trade/plan/solve.ts'
import { byDueDay, byNearestRig } from '../../main/trade/plan/starts.ts'
import { trialsFor } from '../../main/work/planRun.ts'
import { timed } from './measure.ts'

/** A plan of the bench beside the two simple orders of the same spins. */
export interface PlanTimes {
  readonly spins: number
  readonly benches: number
  readonly searchMs: number
  readonly isProved: boolean
  readonly plan: PlanCost
  readonly byDueDay: PlanCost
  readonly byNearestRig: PlanCost
  /** The best of searches by several seeds and eight times as long; the plan itself where it is proved. */
  readonly bestKnown: PlanCost
  /** What searches of half a second, one, two and four come to on this computer, where nothing is proved. */
  readonly curve: readonly { readonly ms: number; readonly plan: PlanCost }[]
}

const rigs = 6
/** Parts of the trials that some two seconds allow: half a second, one, two and four. */
const curveShares = [0.25, 0.5, 1, 2]
const seeds = [1, 2, 3]

/** Plans of 12 spins, 60 spins, and 300 spins on two benches, drawn by a fixed seed. */
export async function measurePlans(): Promise<readonly PlanTimes[]> {
  const times: PlanTimes[] = []
  for (const [spins, benches] of [
    [12, 1],
    [60, 1],
    [300, 2],
  ] as const) {
    const problem = drawn(spins, benches)
    const trials = trialsFor(spins)
    let plan = solvePlan(problem, { trials: 1 })
    const searchMs = await timed(() => {
      plan = solvePlan(problem, { trials })
    })
    times.push({
      spins,
      benches,
      searchMs,
      isProved: plan.isProved,
      plan: plan.cost,
      byDueDay: byDueDay(problem).schedule.cost,
      byNearestRig: byNearestRig(problem).schedule.cost,
      bestKnown: plan.isProved ? plan.cost : bestOfLong(problem, plan.cost, trials * 8),
      curve: plan.isProved ? [] : curveOf(problem, trials),
    })
  }
  return times
}

function bestOfLong(problem: PlanProblem, found: PlanCost, trials: number): PlanCost {
  return seeds
    .map((seed) => solvePlan(problem, { trials, seed }).cost)
    .reduce((best, cost) => (compareCosts(cost, best) < 0 ? cost : best), found)
}

function curveOf(problem: PlanProblem, trials: number): PlanTimes['curve'] {
  return curveShares.map((share) => {
    const started = performance.now()
    const { cost } = solvePlan(problem, { trials: Math.round(trials * share) })
    return { ms: performance.now() - started, plan: cost }
  })
}

/** Spins of 20 to 80 minutes on six rigs, due over a stretch in which all of them just fit. */
export function drawn(spins: number, benches: number): PlanProblem {
  let state = 12_345
  const random = (below: number) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return Math.floor((state / 4_294_967_296) * below)
  }
  const changes = Array.from({ length: (rigs + 1) * rigs }, () => 10 + random(40))
  const days = Math.ceil((spins * 70) / benches / 420)
  const windows = Array.from({ length: 2 * (days * 3 + 5) }, (_, index) => {
    const day = Math.floor(index / 2)
    const fromMin = day * 1440 + 540 + (index % 2) * 270
    return { fromMin, toMin: fromMin + 240, day }
  })
  return {
    items: Array.from({ length: spins }, (_, id) => ({
      id,
      partsMin: Array.from({ length: benches }, () => [20 + random(60)]),
      earliestMin: random(Math.ceil(days / 2)) * 1440,
      dueMin: (1 + random(days + 1)) * 1440,
      weight: 1 + random(3),
      rig: random(rigs),
    })),
    benches: Array.from({ length: benches }, () => ({ windows, rig: 0 })),
    hands: benches,
    turningCapMin: 420,
    changeoverMin: (from, to) => (from === to ? 0 : (changes[(from ?? rigs) * rigs + to] ?? 0)),
  }
}
