import { parentPort, workerData } from 'node:worker_threads'
import { type PlanCost, type PlanData, problemOf } from '../trade/plan/problem.ts'
import { byDueDay, byNearestRig } from '../trade/plan/search.ts'
import { type Plan, solvePlan } from '../trade/plan/solve.ts'

/** What the thread is handed; the first cell of `flag` asks it to end with what it has. */
export interface PlanWork {
  readonly data: PlanData
  readonly trials: number
  readonly flag: Int32Array
}

/** What the thread tells: how far it is, and at last the plan beside the two simple orders. */
export type PlanTold =
  | { readonly state: 'working'; readonly done: number; readonly cost: PlanCost }
  | {
      readonly state: 'done'
      readonly plan: Plan
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
      tell({ state: 'working', done, cost: best.cost })
    }
    return Atomics.load(flag, 0) === 0
  },
})
tell({
  state: 'done',
  plan,
  byDueDay: byDueDay(problem).schedule.cost,
  byNearestRig: byNearestRig(problem).schedule.cost,
})
