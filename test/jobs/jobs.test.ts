import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { aClient } from '../builders.ts'
import { aStudio } from '../studio.ts'
import { aBrief, aJob, jobDraft } from './aJob.ts'
import { turn } from './aTake.ts'

describe('jobs', () => {
  it('numbers jobs by the studio’s local year, and a refused job uses up no number', async () => {
    // 22:30 UTC on 31 December is 23:30 in Berlin, 23:30 UTC is 0:30 of the next year (UTC+1 in winter).
    const studio = aStudio({ now: '2026-12-31T22:30:00.000Z' })
    const first = await aJob(studio)
    studio.setNow('2026-12-31T23:30:00.000Z')
    const { clientId } = first
    const second = await studio.api.jobs.add({ clientId, job: jobDraft(), spins: [] })
    await expect(
      studio.api.jobs.add({ clientId, job: jobDraft(), spins: [{ productIds: [999], name: null }] }),
    ).rejects.toMatchObject({ cause: { code: 'no-product' } })
    const third = await studio.api.jobs.add({ clientId, job: jobDraft(), spins: [] })
    expect([first.number, second.number, third.number]).toEqual(['J-2026-0001', 'J-2027-0001', 'J-2027-0002'])
  })

  it('copies the client’s standing brief, which the client may change afterwards', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, clientId } = await aJob(studio, {
      client: { brief: aBrief({ note: 'White as snow' }) },
    })
    await api.clients.change({ ...aClient({ brief: aBrief({ note: 'Grey' }) }), clientId })
    expect((await api.jobs.brief({ jobId })).note).toBe('White as snow')
  })

  it('refuses a due day beside a promise, and names the field', async () => {
    const studio = aStudio()
    const { clientId } = await aJob(studio)
    await expect(
      studio.api.jobs.add({
        clientId,
        job: jobDraft({ dueDay: '2026-04-01', promiseWorkingDays: 5 }),
        spins: [],
      }),
    ).rejects.toMatchObject({ cause: { code: 'due-twice', field: 'promiseWorkingDays' } })
  })

  it('refuses a contact and a product of another client', async () => {
    const studio = aStudio()
    const { api } = studio
    const ida = { name: 'Ida Falk', role: null, email: null, phone: null, isMain: true }
    const other = await aJob(studio, { client: { name: 'Nordkap Kettles', contacts: [ida] } })
    const { jobId } = await aJob(studio)
    const contactId = (await api.clients.one({ clientId: other.clientId })).contacts[0]?.id ?? 0
    await expect(api.jobs.change({ jobId, job: jobDraft({ contactId }) })).rejects.toMatchObject({
      cause: { code: 'contact-of-another', field: 'contactId' },
    })
    await expect(
      api.spins.add({ jobId, spins: [{ productIds: other.productIds, name: null }] }),
    ).rejects.toMatchObject({ cause: { code: 'product-of-another' } })
  })

  it('promises a day counted from the last needed sample over the studio’s working days', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio, { job: { promiseWorkingDays: 5 } })
    const dueDay = async () => (await api.jobs.one({ jobId })).standing.dueDay
    const [first = 0, second = 0] = sampleIds
    await api.samples.move({ sampleIds: [first], move: 'arrive' })
    expect(await dueDay()).toBeNull()
    studio.setNow('2026-03-05T10:00:00.000Z')
    await api.samples.move({ sampleIds: [second], move: 'arrive' })
    // Thursday 5 March 2026 and five working days of Monday to Friday: Thursday 12 March (calendar).
    expect(await dueDay()).toBe('2026-03-12')
  })

  it('promises no day by samples that every spin goes on without', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds, shootIds } = await aJob(studio, { job: { promiseWorkingDays: 1 } })
    await api.samples.move({ sampleIds: sampleIds.slice(0, 1), move: 'arrive' })
    await api.samples.goWithout({ shootIds: shootIds.slice(1), reason: 'The client sends a drawing' })
    // Monday 2 March 2026 and one working day (calendar).
    expect((await api.jobs.one({ jobId })).standing.dueDay).toBe('2026-03-03')
  })

  it('holds a job with a reason until a day, and not until a day that is past', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId } = await aJob(studio)
    await expect(api.jobs.hold({ jobId, reason: 'Wait', until: '2026-03-01' })).rejects.toMatchObject({
      cause: { code: 'hold-in-the-past', field: 'until' },
    })
    await api.jobs.hold({ jobId, reason: 'The client moves house', until: '2026-03-20' })
    expect((await api.board.jobs({})).jobs.map(({ holdUntil }) => holdUntil)).toEqual(['2026-03-20'])
    await api.jobs.release({ jobId })
    expect((await api.jobs.one({ jobId })).job.holdReason).toBeNull()
  })

  it('takes a lost job off the board, and up again', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId } = await aJob(studio)
    await api.jobs.lose({ jobId, reason: 'Too dear', priceMinor: 120_000 })
    expect((await api.board.jobs({})).jobs).toEqual([])
    expect((await api.jobs.one({ jobId })).standing.station).toBe('lost')
    await expect(api.jobs.hold({ jobId, reason: 'x', until: '2026-04-01' })).rejects.toMatchObject({
      cause: { code: 'job-closed' },
    })
    await api.jobs.reopen({ jobId })
    expect((await api.board.jobs({})).jobs.map(({ station }) => station)).toEqual(['enquiry'])
  })

  it('frees the bench of the bookings to come when a job is cancelled', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId } = await aJob(studio)
    const book = db.prepare(
      `INSERT INTO booking (bench_id, kind, job_id, starts_at, ends_at, uid, changed_at)
       VALUES (1, 'spins', ?, ?, ?, ?, '2026-02-20T09:00:00.000Z')`,
    )
    book.run(jobId, '2026-03-01T09:00:00.000Z', '2026-03-01T10:00:00.000Z', 'past')
    book.run(jobId, '2026-03-03T09:00:00.000Z', '2026-03-03T10:00:00.000Z', 'to come')
    await api.jobs.cancel({ jobId, reason: 'The range was dropped' })
    expect(db.prepare('SELECT uid FROM booking WHERE cancelled_at IS NULL').pluck().all()).toEqual(['past'])
  })

  it('tells a job’s history in sentences, newest first, a page at a time', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, sampleIds } = await aJob(studio)
    await api.samples.move({ sampleIds, move: 'arrive', place: 'shelf B2' })
    await api.jobs.change({ jobId, job: jobDraft({ dueDay: '2026-04-01', orderNumber: 'PO 77' }) })
    await api.jobs.setPriority({ jobId, priority: 'high' })
    const page = await api.jobs.history({ jobId, limit: 2 })
    expect(page.map(({ sentence }) => sentence)).toEqual([
      'Priority set: ahead of others.',
      'Job changed: order number PO 77; due day 1 April 2026.',
    ])
    const rest = await api.jobs.history({ jobId, before: page[1]?.id ?? 0 })
    expect(rest.map(({ sentence, person }) => [sentence, person])).toEqual([
      ['Samples arrived: KN-01, KN-02, at shelf B2.', 'Mara Quist'],
      ['Job added: J-2026-0001, Spring range, 2 spins.', 'Mara Quist'],
    ])
  })

  it('gives a status by product code as CSV that no spreadsheet runs as a formula', async () => {
    const studio = aStudio()
    const job = await aJob(studio, { codes: ['=SUM(A1)', 'KN-02, blue'] })
    turn(studio, job.shootIds[1] as Id<'shoot'>, 'picked')
    const { fileName, csv } = await studio.api.jobs.statusCsv({ jobId: job.jobId })
    expect(fileName).toBe('J-2026-0001-status-2026-03-02.csv')
    // OWASP ASVS 1.2.10: a cell that begins with = + - @ or tab gets a quote; RFC 4180 §2: quotes round a comma, CRLF.
    expect(csv.split('\r\n').map((line) => line.replace('\uFEFF', ''))).toEqual([
      'Code,Product,Spin,Stands at,Sample,Picked,Picks wanted,Yes,Delivered,Deliverables',
      "'=SUM(A1),Kettle =SUM(A1),Kettle =SUM(A1),samples in,not here yet,0,2,0,0,2",
      '"KN-02, blue","Kettle KN-02, blue","Kettle KN-02, blue",yes,not here yet,2,2,0,0,2',
      '',
    ])
  })
})
