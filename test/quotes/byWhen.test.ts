import { describe, expect, it } from 'vitest'
import { aWaitingJob } from '../plans/waiting.ts'
import { aRig } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { aQuotableJob } from './aQuote.ts'

type Ask = Parameters<TestStudio['api']['quotePlans']['ask']>[0]

/** Asks by when a quote could be turned, and waits for the answer. */
async function answerOf(studio: TestStudio, of: Partial<Ask> & { jobId: number }) {
  const { answerId } = await studio.api.quotePlans.ask({
    byDay: '2026-03-12',
    goodsDay: '2026-03-04',
    benchIds: [1],
    personIds: [1],
    ...of,
  })
  for (;;) {
    const state = await studio.api.quotePlans.state({ answerId })
    if (state.state === 'done') return state
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

/** How many rows every table of the store has: nothing may be written by a question. */
function counted(studio: TestStudio) {
  const tables = studio.db
    .prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
    .pluck()
    .all() as string[]
  return tables.map((name) => [name, studio.db.prepare(`SELECT count(*) FROM "${name}"`).pluck().get()])
}

describe('by when a quote could be done', () => {
  it('is the day after its goods are in, where the bench is free, and stores nothing', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    const before = counted(studio)
    const answer = await answerOf(studio, { jobId })
    // Wednesday the 4th the goods come; three spins fit into Thursday's opening hours.
    expect(answer.beside).toMatchObject({ doneDay: '2026-03-05', isByDay: true, later: [], movedSpins: 0 })
    expect(answer.moving).toEqual(answer.beside)
    expect(counted(studio)).toEqual(before)
  })

  it('says by how many days it misses the day that was asked for', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    const { beside } = await answerOf(studio, { jobId, byDay: '2026-03-03', goodsDay: '2026-03-09' })
    expect(beside).toMatchObject({ doneDay: '2026-03-10', isByDay: false, daysLate: 7 })
  })

  it('takes the bench time of the quote’s own rows, not of the brief’s', async () => {
    const studio = aStudio()
    const { jobId, draft } = await aQuotableJob(studio, 3)
    const rows = [{ viewAngleMdeg: 0, framesPerTurn: 24, overlapFrames: 0 }]
    const { quoteId } = await studio.api.quotes.save({ ...draft, input: { ...draft.input, rows } })
    const short = await studio.api.quotePlans.start({ jobId, quoteId })
    const long = await studio.api.quotePlans.start({ jobId })
    expect(short.benchMs).toBeLessThan(long.benchMs)
    // The quote's own mean, which it keeps, is that of its spins together.
    const kept = studio.db.prepare('SELECT bench_mean_ms FROM quote WHERE id = ?').pluck().get(quoteId)
    expect(Math.abs(short.benchMs - Number(kept))).toBeLessThanOrEqual(3)
  })

  it('names the jobs that would be late because of it, and by how many days', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    studio.db.prepare("UPDATE job SET priority = 'high' WHERE id = ?").run(jobId)
    // A day of turning for a job of low priority, due on the day that the quote is asked for.
    const low = await aWaitingJob(studio, [60, 60, 60, 60, 60, 60], '2026-03-05')
    studio.db.prepare("UPDATE job SET priority = 'low' WHERE id = ?").run(low.jobId)
    const hold = studio.db.prepare(
      "UPDATE job SET hold_reason = 'goods', hold_until = '2026-03-05' WHERE id = ?",
    )
    hold.run(low.jobId)
    const { beside } = await answerOf(studio, { jobId, byDay: '2026-03-05', goodsDay: '2026-03-04' })
    expect(beside.isByDay).toBe(true)
    expect(beside.later).toEqual([
      expect.objectContaining({ jobId: low.jobId, daysLateBefore: 0, daysLateAfter: 1 }),
    ])
  })

  it('says how many spins wait that it does not count, where more wait than are planned beside it', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 1)
    await aWaitingJob(
      studio,
      Array.from({ length: 304 }, () => 10),
    )
    const { answerId } = await studio.api.quotePlans.ask({
      jobId,
      byDay: '2026-03-12',
      goodsDay: '2026-03-04',
      benchIds: [1],
      personIds: [1],
    })
    await studio.api.quotePlans.stop({ answerId })
    await expect
      .poll(() => studio.api.quotePlans.state({ answerId }), { timeout: 20_000 })
      .toMatchObject({ state: 'done', otherSpins: 4 })
  }, 30_000)

  it('moves what is booked in the second question alone', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    const calm = await aWaitingJob(studio, [450], '2026-03-20')
    await studio.api.bookings.add({
      blocks: [
        { benchId: 1, day: '2026-03-05', fromMinute: 540, toMinute: 750, shootIds: calm.shootIds },
        { benchId: 1, day: '2026-03-05', fromMinute: 795, toMinute: 1020, kind: 'other', title: 'cleaning' },
      ],
    })
    studio.db.prepare('UPDATE shoot SET estimate_ms = 12000000 WHERE id = ?').run(calm.shootIds[0])
    const { beside, moving } = await answerOf(studio, { jobId, byDay: '2026-03-05' })
    expect(beside).toMatchObject({ isByDay: false, movedSpins: 0 })
    expect(moving).toMatchObject({ isByDay: true, movedSpins: 1, later: [] })
  })

  it('counts a whole set change for a rig of its own, and the planned one’s parts where a rig is named', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    const { rigRevisionId } = await aRig(studio)
    const own = await answerOf(studio, { jobId })
    const named = await answerOf(studio, { jobId, rigRevisionId })
    const pace = studio.db
      .prepare(
        `SELECT (change_platter_ms + change_light_ms + change_camera_ms + change_lens_ms + change_backdrop_ms
           + change_settings_ms) / 60000.0 FROM pace`,
      )
      .pluck()
      .get() as number
    expect(own.beside.addedChangeMin).toBe(Math.ceil(pace))
    expect(named.beside.addedChangeMin).toBeGreaterThan(0)
    expect(named.beside.addedChangeMin).not.toBe(own.beside.addedChangeMin)
  })

  it('is refused for a day that is past, an ordered job, a strange quote and a rig that is not there', async () => {
    const studio = aStudio()
    const { jobId } = await aQuotableJob(studio, 3)
    const ask = (of: Partial<Ask> & { jobId: number }) => answerOf(studio, of)
    await expect(ask({ jobId, byDay: '2026-03-01' })).rejects.toThrow('2026-03-01 is past.')
    await expect(ask({ jobId, rigRevisionId: 999 })).rejects.toThrow('This rig is not in the studio.')
    await expect(ask({ jobId, benchIds: [] })).rejects.toThrow('No bench is chosen')
    await expect(ask({ jobId, quoteId: 999 })).rejects.toThrow('not one of this job')
    const ordered = await aWaitingJob(studio, [60])
    await expect(ask({ jobId: ordered.jobId })).rejects.toThrow('This job is ordered already')
  })
})
