import { refreshStanding } from '../../db/standing.ts'
import type { Asks } from '../../main/api/types.ts'
import { aStoredJob } from '../rigs/builders.ts'
import type { TestStudio } from '../studio.ts'

export type Start = Asks['plans']['start']

/** Asks for a plan and waits for what came of it. */
export async function planOf(studio: TestStudio, of: Partial<Start> = {}) {
  const { planId } = await studio.api.plans.start({ benchIds: [1], personIds: [1], ...of })
  return found(studio, planId)
}

/** Waits for what comes of a plan that was asked for. */
export async function found(studio: TestStudio, planId: number) {
  for (;;) {
    const state = await studio.api.plans.state({ planId })
    if (state.state === 'done') return { planId, ...state }
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

/** A job whose spins take so many minutes each at the bench, its samples in. */
export async function aWaitingJob(studio: TestStudio, minutes: readonly number[], dueDay = '2026-03-20') {
  const jobs = studio.db.prepare('SELECT count(*) FROM job').pluck().get() as number
  const job = await aStoredJob(
    studio,
    minutes.map((each, index) => ({ name: `piece ${index + 1}`, estimateMs: each * 60_000 })),
    { number: `J-2026-00${jobs + 1}` },
  )
  studio.db.prepare('UPDATE job SET due_day = ? WHERE id = ?').run(dueDay, job.jobId)
  refreshStanding(studio.writing, job.jobId)
  return job
}
