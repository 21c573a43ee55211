import { parentPort, workerData } from 'node:worker_threads'
import { gapOf, type PlanGap } from '../trade/plan/gap.ts'
import { type ItemCost, itemCosts, itemCostsToday, type PlanSum, sumOf } from '../trade/plan/itemCosts.ts'
import { type Move, movesOf } from '../trade/plan/moves.ts'
import { type PlanCost, type PlanData, problemOf } from '../trade/plan/problem.ts'
import { type Plan, solvePlan } from '../trade/plan/solve.ts'
import { byDueDay, byNearestRig } from '../trade/plan/starts.ts'

/** What the thread is handed; the first cell of `flag` asks it to end with what it has. */
export interface PlanWork {
  readonly data: PlanData
  readonly trials: number
  readonly flag: Int32Array
}

/** What the thread tells: how far it is, and at last the plan, what it costs by item, and what it is compared with. */
export type PlanTold =
  | { readonly state: 'working'; readonly done: number; readonly cost: PlanCost }
  | {
      readonly state: 'done'
      readonly plan: Plan
      /** What each item costs in the plan, and both columns of the comparison with today. */
      readonly items: readonly ItemCost[]
      readonly proposed: PlanSum
      readonly today: PlanSum
      readonly moves: readonly Move[]
      readonly gap: PlanGap | null
      readonly byDueDay: PlanCost
      readonly byNearestRig: PlanCost
    }

const { data, trials, flag } = workerData as PlanWork
const problem = problemOf(data)
const tell = (told: PlanTold) => parentPort?.postMessage(told)
let toldAt = 0
const plan = solvePlan(problem, {
  trials,
  onProgress: (done, best) => {
    if (performance.now() - toldAt > 200) {
      toldAt = performance.now()
      tell({ state: 'working', done, cost: best })
    }
    return Atomics.load(flag, 0) === 0
  },
})
const items = itemCosts(problem, plan)
tell({
  state: 'done',
  plan,
  items,
  proposed: sumOf(problem, items),
  today: sumOf(problem, itemCostsToday(problem)),
  moves: movesOf(problem, plan),
  gap: gapOf(plan),
  byDueDay: byDueDay(problem).schedule.cost,
  byNearestRig: byNearestRig(problem).schedule.cost,
})
