import { performance } from 'node:perf_hooks'
import type { Plan } from '../../renderer/planner/plan.ts'
import { workOutPlan } from '../../renderer/planner/plan.ts'
import { type PlannerStart, plannerBasis, startingTyped } from '../../renderer/planner/prefill.ts'
import { openMeasured } from './house.ts'
import { type Times, timed, timesOf } from './measure.ts'

/** What the planner takes; times in ms. */
export interface PlannerTimes {
  readonly spins: number
  /** All that is worked out after a key is pressed. */
  readonly key: Times
  /** What it is worked out from, read anew from the store. */
  readonly startMs: number
}

const spins = 200
const keys = 200

/** Presses keys that change the turn, so that every part of the plan is worked out anew. */
export async function measurePlanner(folder: string): Promise<PlannerTimes> {
  const house = await openMeasured(folder)
  try {
    const ask = () => house.call({ path: 'planner.start', input: { jobId: null } })
    const start = (await ask()) as PlannerStart
    const startMs = timesOf(await eachTimed(21, ask)).medianMs
    const studio = plannerBasis(start)
    const typed = {
      ...startingTyped(start),
      spins: String(spins),
      rows: '2',
      parted: 'yes',
      frames2: '122',
      overlap2: '41',
    }
    const samplesMs: number[] = []
    let plan: Plan | undefined
    for (let key = 0; key < keys; key += 1) {
      const begun = performance.now()
      plan = workOutPlan({ ...typed, step: String(3 + key / 100) }, studio, plan).plan
      samplesMs.push(performance.now() - begun)
    }
    return { spins, key: timesOf(samplesMs), startMs }
  } finally {
    house.close()
  }
}

async function eachTimed(rounds: number, work: () => Promise<unknown>): Promise<readonly number[]> {
  const samplesMs: number[] = []
  for (let round = 0; round < rounds; round += 1) samplesMs.push(await timed(work))
  return samplesMs
}
