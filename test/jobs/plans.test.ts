import { describe, expect, it } from 'vitest'
import { aStudio } from '../studio.ts'
import { aJob } from './aJob.ts'
import { turn } from './aTake.ts'
import { scansDuring } from './plans.ts'

describe('the queries of jobs, spins, samples and the board', () => {
  it('read no large table from end to end', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const scans = await scansDuring(db, async () => {
      const { jobId, shootIds, sampleIds, clientId } = await aJob(studio)
      await api.samples.move({ sampleIds, move: 'arrive' })
      await api.samples.agree({ sampleIds, fate: 'keep' })
      await api.samples.moves({ sampleId: sampleIds[0] ?? 0 })
      await api.samples.shelf({})
      await api.samples.shelf({ part: 'overdue', order: 'client' })
      await api.samples.goWithout({ shootIds, reason: null })
      await api.spins.writeBrief({
        shootIds: shootIds.slice(1),
        brief: { ...(await api.jobs.brief({ jobId })) } as never,
      })
      await api.spins.dropBrief({ shootIds: shootIds.slice(1) })
      await api.spins.putInOrder({ jobId, shootIds })
      await api.jobs.rewriteBrief({ jobId, brief: (await api.jobs.brief({ jobId })) as never })
      for (const shootId of shootIds) turn(studio, shootId, 'kept')
      studio.setNow('2026-03-03T08:00:00.000Z')
      await api.spins.reshoot({ shootIds, cause: 'ours', reason: 'dust' })
      await api.jobs.one({ jobId })
      await api.jobs.history({ jobId })
      await api.jobs.statusCsv({ jobId })
      await api.jobs.hold({ jobId, reason: 'wait', until: '2026-05-01' })
      for (const order of ['due', 'client', 'station', 'value'] as const) await api.jobs.list({ order })
      await api.jobs.list({ clientId, lateOnly: true })
      await api.board.jobs({})
      await api.board.jobs({ clientId, benchId: 1, lateOnly: true })
      await api.board.choices()
      await api.search.find({ text: 'Spring' })
      await api.search.find({ text: 'J-' })
      await api.jobs.cancel({ jobId, reason: 'over' })
    })
    expect(scans).toEqual([])
  })
})
