import { describe, expect, it } from 'vitest'
import { aJob } from '../jobs/aJob.ts'
import { turn } from '../jobs/aTake.ts'
import { aStudio } from '../studio.ts'

const fortyCodes = Array.from({ length: 40 }, (_, index) => `KN-${String(index + 1).padStart(2, '0')}`)

describe('samples', () => {
  it('takes in forty samples at once, dated back to when they came', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio, { codes: fortyCodes })
    await api.samples.move({
      sampleIds,
      move: 'arrive',
      at: '2026-02-27T15:30:00+01:00',
      place: 'shelf B2',
      condition: 'unopened',
    })
    const samples = await api.samples.list({ jobId })
    expect(new Set(samples.map(({ state, arrivedAt, place }) => [state, arrivedAt, place].join()))).toEqual(
      new Set(['in,2026-02-27T14:30:00.000Z,shelf B2']),
    )
    expect((await api.jobs.one({ jobId })).standing.spread.bench).toBe(40)
  })

  it('refuses a time that is still to come, and one before the sample’s last move', async () => {
    const { api, ...studio } = aStudio()
    const { sampleIds } = await aJob({ api, ...studio })
    await expect(
      api.samples.move({ sampleIds, move: 'arrive', at: '2026-03-02T08:00:00.001Z' }),
    ).rejects.toMatchObject({ cause: { code: 'sample-in-future', field: 'at' } })
    await api.samples.move({ sampleIds, move: 'arrive' })
    await expect(
      api.samples.move({ sampleIds, move: 'sendBack', at: '2026-03-01T08:00:00.000Z' }),
    ).rejects.toMatchObject({ cause: { code: 'sample-before-last-move', field: 'at' } })
  })

  it('moves all of the samples or none', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio)
    await api.samples.move({ sampleIds: sampleIds.slice(1), move: 'arrive' })
    await expect(api.samples.move({ sampleIds, move: 'sendBack' })).rejects.toMatchObject({
      cause: { code: 'sample-not-so' },
    })
    expect((await api.samples.list({ jobId })).map(({ state }) => state)).toEqual(['expected', 'in'])
  })

  it('destroys or keeps nothing of the client’s that was not agreed to be', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio)
    await api.samples.move({ sampleIds, move: 'arrive' })
    for (const move of ['destroy', 'keep'] as const) {
      await expect(api.samples.move({ sampleIds, move })).rejects.toMatchObject({
        cause: { code: 'fate-otherwise' },
      })
    }
    await api.samples.agree({ sampleIds, fate: 'destroy' })
    await api.samples.move({ sampleIds, move: 'destroy' })
    expect((await api.samples.list({ jobId })).map(({ state }) => state)).toEqual(['destroyed', 'destroyed'])
  })

  it('counts a wrong or broken product as not here, and the right one from the day it came', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio)
    const [first = 0, second = 0] = sampleIds
    await api.samples.move({ sampleIds: [first], move: 'wrong', note: 'The blue one came' })
    await api.samples.move({ sampleIds: [second], move: 'break', condition: 'spout chipped' })
    expect((await api.jobs.one({ jobId })).standing.spread['samples in']).toBe(2)
    studio.setNow('2026-03-04T08:00:00.000Z')
    await api.samples.move({ sampleIds: [first], move: 'arrive' })
    const [sample] = await api.samples.list({ jobId })
    expect(sample?.arrivedAt).toBe('2026-03-04T08:00:00.000Z')
    const moves = await api.samples.moves({ sampleId: first })
    expect(moves.map(({ state, note }) => [state, note])).toEqual([
      ['in', null],
      ['wrong', 'The blue one came'],
    ])
  })

  it('goes on without samples for forty spins at once, with a reason, and waits for them again', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await aJob(studio, { codes: fortyCodes })
    const spread = async () => (await api.jobs.one({ jobId })).standing.spread
    await api.samples.goWithout({ shootIds, reason: 'They are on the bench at the client’s' })
    expect(await spread()).toMatchObject({ 'samples in': 0, bench: 40 })
    expect((await api.samples.list({ jobId }))[0]?.withoutReason).toBe(
      'They are on the bench at the client’s',
    )
    await api.samples.goWithout({ shootIds, reason: null })
    expect(await spread()).toMatchObject({ 'samples in': 40, bench: 0 })
  })

  it('lists what is on the shelf across jobs, what can leave and what should have left', async () => {
    const studio = aStudio()
    const { api } = studio
    const first = await aJob(studio, { codes: ['A-1'], job: { returnByDay: '2026-03-01' } })
    const second = await aJob(studio, { codes: ['B-1', 'B-2'], client: { name: 'Nordkap Kettles' } })
    await api.samples.move({ sampleIds: first.sampleIds, move: 'arrive', place: 'B2' })
    await api.samples.move({ sampleIds: second.sampleIds.slice(0, 1), move: 'arrive', place: 'A1' })
    for (const shootId of second.shootIds) turn(studio, shootId, 'yes')
    const codes = async (part: 'all' | 'done' | 'overdue') =>
      (await api.samples.shelf({ part })).lines.map(({ code }) => code)
    expect(await codes('all')).toEqual(['B-1', 'A-1'])
    expect(await codes('done')).toEqual(['B-1'])
    expect(await codes('overdue')).toEqual(['A-1'])
    expect(await api.samples.shelf({ page: { offset: 1, limit: 1 } })).toMatchObject({ total: 2 })
  })

  it('keeps what is agreed about a sample and leaves the rest as it was', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio, { codes: ['A-1'] })
    await api.samples.agree({ sampleIds, expectedDay: '2026-03-10' })
    await api.samples.agree({ sampleIds, fate: 'destroy' })
    expect((await api.samples.list({ jobId }))[0]).toMatchObject({
      expectedDay: '2026-03-10',
      fate: 'destroy',
      valueMinor: 8900,
    })
  })
})
