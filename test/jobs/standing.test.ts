import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { plainBrief } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import { spinFacts, spinFactsOfJob, standingOf } from '../../db/standing.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aJob, jobDraft } from './aJob.ts'
import { turn } from './aTake.ts'

type AJob = Awaited<ReturnType<typeof aJob>>
type Step = (studio: TestStudio, job: AJob, pick: number) => Promise<unknown>

function one<T>(list: readonly T[], pick: number): T[] {
  return list.length === 0 ? [] : [list[pick % list.length] as T]
}

const reason = 'because'

/** Every call of jobs, spins and samples that changes a fact, on a job with some spins. */
const steps: Readonly<Record<string, Step>> = {
  addSpin: ({ api }, { jobId, productIds }, pick) =>
    api.spins.add({ jobId, spins: [{ productIds: one(productIds, pick), name: null }] }),
  cancelSpin: ({ api }, { shootIds }, pick) => api.spins.cancel({ shootIds: one(shootIds, pick), reason }),
  restoreSpin: ({ api }, { shootIds }, pick) => api.spins.restore({ shootIds: one(shootIds, pick) }),
  turnBack: ({ api }, { jobId, shootIds }) =>
    api.spins.putInOrder({ jobId, shootIds: [...shootIds].reverse() }),
  ownBrief: ({ api }, { shootIds }, pick) =>
    api.spins.writeBrief({
      shootIds: one(shootIds, pick),
      brief: { ...plainBrief, rows: [{ ...plainBrief.rows[0], framesPerTurn: 60 }] } as never,
    }),
  dropBrief: ({ api }, { shootIds }, pick) => api.spins.dropBrief({ shootIds: one(shootIds, pick) }),
  rewriteBrief: ({ api }, { jobId }, pick) =>
    api.jobs.rewriteBrief({
      jobId,
      brief: { ...plainBrief, deliverables: plainBrief.deliverables.slice(pick % 2) } as never,
    }),
  reshoot: ({ api }, { shootIds }, pick) =>
    api.spins.reshoot({ shootIds: one(shootIds, pick), cause: 'ours', reason }),
  turn: async (studio, { shootIds }, pick) => {
    const ends = ['rejected', 'kept', 'kept', 'picked', 'yes', 'delivered'] as const
    for (const shootId of one(shootIds, pick)) turn(studio, shootId, ends[pick % ends.length])
  },
  arrive: ({ api }, { sampleIds }, pick) =>
    api.samples.move({ sampleIds: one(sampleIds, pick), move: 'arrive' }),
  arriveAll: ({ api }, { sampleIds }) => api.samples.move({ sampleIds: [...sampleIds], move: 'arrive' }),
  miss: ({ api }, { sampleIds }, pick) => api.samples.move({ sampleIds: one(sampleIds, pick), move: 'miss' }),
  break: ({ api }, { sampleIds }, pick) =>
    api.samples.move({ sampleIds: one(sampleIds, pick), move: 'break' }),
  sendBack: ({ api }, { sampleIds }, pick) =>
    api.samples.move({ sampleIds: one(sampleIds, pick), move: 'sendBack' }),
  goWithout: ({ api }, { shootIds }, pick) =>
    api.samples.goWithout({ shootIds: one(shootIds, pick), reason: pick % 3 === 0 ? null : reason }),
  promise: ({ api }, { jobId }, pick) =>
    api.jobs.change({ jobId, job: jobDraft({ promiseWorkingDays: 1 + (pick % 9) }) }),
  dueDay: ({ api }, { jobId }) => api.jobs.change({ jobId, job: jobDraft({ dueDay: '2026-04-01' }) }),
  hold: ({ api }, { jobId }) => api.jobs.hold({ jobId, reason, until: '2027-01-01' }),
  release: ({ api }, { jobId }) => api.jobs.release({ jobId }),
  priority: ({ api }, { jobId }) => api.jobs.setPriority({ jobId, priority: 'high' }),
  lose: ({ api }, { jobId }) => api.jobs.lose({ jobId, reason, priceMinor: null }),
  cancel: ({ api }, { jobId }) => api.jobs.cancel({ jobId, reason }),
  reopen: ({ api }, { jobId }) => api.jobs.reopen({ jobId }),
}

function kept({ db }: TestStudio, jobId: number): unknown[] {
  return db
    .prepare(
      `SELECT job_id, station, is_open, waits_for, due_day, on_hold, spins, at_samples_in, at_bench, at_takes, at_pick,
         at_yes, at_delivery, delivered, bench_ms_left, value_minor, client_id, priority FROM job_standing WHERE job_id = ?`,
    )
    .raw()
    .get(jobId) as unknown[]
}

/** A refusal is a fair answer to a random step; anything else is a bug. */
async function tried(step: Promise<unknown>): Promise<boolean> {
  try {
    await step
    return true
  } catch (error) {
    if ((error as { cause?: { code?: string } }).cause?.code === undefined) throw error
    return false
  }
}

describe('the standing of a job', () => {
  it('is kept as it is worked out, after every change in any order', async () => {
    const done = new Set<string>()
    const walk = fc.array(fc.tuple(fc.constantFrom(...Object.keys(steps)), fc.nat(60)), {
      minLength: 10,
      maxLength: 30,
    })
    const studio = aStudio()
    let minute = 0
    await fc.assert(
      fc.asyncProperty(walk, async (moves) => {
        const made = await aJob(studio, { client: { name: `Client ${minute}` } })
        for (const [name, pick] of moves) {
          minute += 1
          studio.setNow(new Date(Date.UTC(2026, 2, 2, 8, minute)).toISOString())
          const shootIds = (await studio.api.spins.list(made)).map(({ id }) => id)
          if (await tried((steps[name] as Step)(studio, { ...made, shootIds }, pick))) done.add(name)
          expect(kept(studio, made.jobId), name).toEqual(standingOf(studio.db, made.jobId as Id<'job'>))
        }
      }),
      { numRuns: 25, seed: 20_260_302 },
    )
    expect([...done].sort()).toEqual(Object.keys(steps).sort())
  }, 60_000)

  it('counts no pick and no yes that was given to a brief the spin no longer has', async () => {
    const studio = aStudio()
    const { db } = studio
    const { shootIds, jobId } = await aJob(studio, { codes: ['A'] })
    const [shootId] = shootIds as [Id<'shoot'>]
    turn(studio, shootId, 'yes')
    expect(spinFacts(db, shootId)).toMatchObject({ picks: 2, yeses: 2 })
    db.prepare('UPDATE shoot SET brief_id = (SELECT standing_brief_id FROM client) WHERE id = ?').run(shootId)
    expect(spinFacts(db, shootId)).toMatchObject({ picks: 0, yeses: 0 })
    expect(spinFactsOfJob(db, jobId).get(shootId)).toEqual(spinFacts(db, shootId))
  })
})
