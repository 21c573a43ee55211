import { describe, expect, it } from 'vitest'
import { aJob } from '../jobs/aJob.ts'
import { aStudio } from '../studio.ts'
import { manyJobs } from './manyJobs.ts'

describe('the board', () => {
  it('shows every open job with what it waits for, undated ones last', async () => {
    const studio = aStudio()
    const { api } = studio
    const undated = await aJob(studio, { codes: ['A'] })
    const dated = await aJob(studio, {
      codes: ['B'],
      client: { name: 'Nordkap' },
      job: { dueDay: '2026-03-09' },
    })
    const gone = await aJob(studio, { client: { name: 'Fjord' } })
    await api.jobs.cancel({ jobId: gone.jobId, reason: 'over' })
    const { today, jobs } = await api.board.jobs({})
    expect(today).toBe('2026-03-02')
    expect(
      jobs.map(({ jobId, clientName, dueDay, waitsFor }) => [jobId, clientName, dueDay, waitsFor]),
    ).toEqual([
      [dated.jobId, 'Nordkap', '2026-03-09', 'a quote'],
      [undated.jobId, 'Halvorsen Lamps', null, 'a quote'],
    ])
  })

  it('is narrowed to a client, to a bench with bookings to come, and to what is late', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const late = await aJob(studio, { codes: ['A'], job: { dueDay: '2026-03-01' } })
    const due = await aJob(studio, {
      codes: ['B'],
      client: { name: 'Nordkap' },
      job: { dueDay: '2026-03-02' },
    })
    const book = db.prepare(
      `INSERT INTO booking (bench_id, kind, job_id, starts_at, ends_at, uid, changed_at)
       VALUES (1, 'spins', ?, ?, ?, ?, '2026-02-20T09:00:00.000Z')`,
    )
    book.run(late.jobId, '2026-02-27T09:00:00.000Z', '2026-02-27T10:00:00.000Z', 'past')
    book.run(due.jobId, '2026-03-03T09:00:00.000Z', '2026-03-03T10:00:00.000Z', 'to come')
    const ids = async (filter: Parameters<typeof api.board.jobs>[0]) =>
      (await api.board.jobs(filter)).jobs.map(({ jobId }) => jobId)
    expect(await ids({ clientId: due.clientId })).toEqual([due.jobId])
    expect(await ids({ benchId: 1 })).toEqual([due.jobId])
    expect(await ids({ lateOnly: true })).toEqual([late.jobId])
  })

  it('gives the same jobs as a list that is sorted and paged', async () => {
    const studio = aStudio()
    const { api } = studio
    await aJob(studio, { codes: ['A'], job: { title: 'Beakers', dueDay: '2026-03-09' } })
    await aJob(studio, { codes: ['B'], client: { name: 'Nordkap' }, job: { title: 'Ashtrays' } })
    const titles = async (input: Parameters<typeof api.jobs.list>[0]) =>
      (await api.jobs.list(input)).lines.map(({ title }) => title)
    expect(await titles({})).toEqual(['Beakers', 'Ashtrays'])
    expect(await titles({ order: 'title' })).toEqual(['Ashtrays', 'Beakers'])
    expect(await titles({ order: 'client', descending: true })).toEqual(['Ashtrays', 'Beakers'])
    expect(await api.jobs.list({ page: { offset: 1, limit: 1 } })).toMatchObject({
      total: 2,
      lines: [{ title: 'Ashtrays' }],
    })
  })

  it('shows the open ones of 1,000 jobs, and finds any of them', async () => {
    const studio = aStudio()
    const { api } = studio
    manyJobs(studio, 1000)
    expect((await api.board.jobs({})).jobs).toHaveLength(40)
    expect((await api.jobs.list({ order: 'client' })).total).toBe(40)
    expect((await api.jobs.list({ openOnly: false, order: 'client' })).total).toBe(1000)
    expect((await api.search.find({ text: 'PR-00321' })).hits[0]).toMatchObject({ kind: 'product' })
    for (const text of ['J-2026', 'product', 'range 77', 'PR', 'c']) {
      expect((await api.search.find({ text })).hits, text).not.toEqual([])
    }
  })
})
