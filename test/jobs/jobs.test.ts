import { describe, expect, it } from 'vitest'
import { aStudio } from '../studio.ts'
import { aJob, jobDraft } from './aJob.ts'

describe('jobs', () => {
  it('numbers jobs by the studio’s local year, without gaps', async () => {
    // 23:30 UTC on 31 December is 0:30 on 1 January in Berlin (UTC+1 in winter).
    const studio = aStudio({ now: '2026-12-31T22:30:00.000Z' })
    const first = await aJob(studio)
    studio.setNow('2026-12-31T23:30:00.000Z')
    const second = await studio.api.jobs.add({ clientId: first.clientId, job: jobDraft(), spins: [] })
    await expect(
      studio.api.jobs.add({ clientId: first.clientId, job: jobDraft({ contactId: 99 }), spins: [] }),
    ).rejects.toMatchObject({ cause: { code: 'contact-of-another' } })
    const third = await studio.api.jobs.add({ clientId: first.clientId, job: jobDraft(), spins: [] })
    expect([first.number, second.number, third.number]).toEqual(['J-2026-0001', 'J-2027-0001', 'J-2027-0002'])
  })
})
