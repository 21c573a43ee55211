import type { Story } from '../play.ts'
import type { JobInHand } from './stage.ts'

const shelves = ['A1', 'A2', 'B1', 'B2', 'C1', 'C2', 'floor by the door'] as const

/** The client's parcel comes, whole or in part. */
export async function* receiveSamples(job: JobInHand): Story {
  const { stage, jobId, chance } = job
  const { api } = stage
  const arrives = job.next('samples', '10:35')
  const sampleIds = (await api.samples.list({ jobId })).map(({ id }) => id)
  await api.samples.agree({ sampleIds, expectedDay: job.day })
  yield arrives
  const place = `${chance.one(shelves)}, box ${chance.whole(1, 9)}`
  const here = { place, condition: 'unpacked, no damage seen' }
  if (!job.twist('samples partly in')) {
    await api.samples.move({ sampleIds, move: 'arrive', ...here })
    return
  }
  const [broken, missing, ...rest] = sampleIds
  const late = rest.splice(Math.ceil(rest.length / 2))
  if (rest.length > 0) await api.samples.move({ sampleIds: rest, move: 'arrive', ...here })
  if (broken !== undefined) {
    await api.samples.move({
      sampleIds: [broken],
      move: 'break',
      place,
      condition: 'lid chipped in the parcel',
    })
  }
  if (missing !== undefined) {
    await api.samples.move({
      sampleIds: [missing],
      move: 'miss',
      note: 'On the packing list, not in the box.',
    })
  }
  if (late.length > 0) await api.samples.agree({ sampleIds: late, expectedDay: stage.clock.day(3) })
}

/** The samples go back to the client. */
export async function* returnSamples(job: JobInHand): Story {
  yield job.next('returned', '16:10')
  const samples = await job.stage.api.samples.list({ jobId: job.jobId })
  const sampleIds = samples.filter(({ state }) => state === 'in').map(({ id }) => id)
  if (sampleIds.length === 0) return
  await job.stage.api.samples.move({ sampleIds, move: 'sendBack', carrier: 'parcel, insured' })
  if (job.plan.told) job.stage.telling.say(`Samples back: ${sampleIds.length}, on ${job.day}.`)
}
