import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { PlanCost, PlanData } from '../trade/plan/problem.ts'
import type { PlanTold, PlanWork } from './planWorker.ts'

export type PlanFound = Extract<PlanTold, { state: 'done' }>

/** A search for a plan in a thread of its own. */
export interface PlanRun {
  readonly trials: number
  /** How far it is; the figures stay when it has ended. */
  readonly progress: () => { readonly done: number; readonly cost: PlanCost | undefined }
  /** Ends the search with the best plan so far. */
  readonly stop: () => void
  readonly found: Promise<PlanFound>
}

// The bundle has the thread's program beside it; from the sources Node reads the file as it stands.
const program = import.meta.filename.endsWith('.ts') ? 'planWorker.ts' : 'planWorker.js'

/** Trials by the number of items: as many as a small question takes until more find nothing better, two seconds' worth at most. */
export function trialsFor(items: number): number {
  return Math.max(4000, Math.round(Math.min(150 * items ** 2, 6_000_000 / Math.max(50, items))))
}

/** Starts the search for a plan. Same question, same plan, unless it is stopped. */
export function runPlan(data: PlanData, trials: number): PlanRun {
  const flag = new Int32Array(new SharedArrayBuffer(4))
  const work: PlanWork = { data, trials, flag }
  const worker = new Worker(path.join(import.meta.dirname, program), { workerData: work })
  let progress: { done: number; cost: PlanCost | undefined } = { done: 0, cost: undefined }
  const found = new Promise<PlanFound>((resolve, reject) => {
    worker.on('message', (told: PlanTold) => {
      if (told.state === 'done') resolve(told)
      else progress = { done: told.done, cost: told.cost }
    })
    worker.on('error', reject)
    worker.on('exit', () => reject(new Error('The search for a plan ended without one.')))
  })
  return {
    trials,
    progress: () => progress,
    stop: () => {
      Atomics.store(flag, 0, 1)
    },
    found,
  }
}
