import { describe, expect, it } from 'vitest'
import { refreshStanding } from '../../db/standing.ts'
import { aStoredJob } from '../rigs/builders.ts'
import { aStudio } from '../studio.ts'

// 2026-03-02 is the Monday of the studio's first day.
const wednesday = '2026-03-04'

async function aBookedJob() {
  const studio = aStudio()
  const job = await aStoredJob(studio, [{ name: 'Vase', estimateMs: 3_600_000 }])
  await studio.api.bookings.add({
    blocks: [
      {
        benchId: 1 as never,
        day: wednesday,
        fromMinute: 540,
        toMinute: 600,
        shootIds: job.shootIds as never,
        overruledReason: 'the goods will come',
      },
    ],
  })
  const week = () => studio.api.benches.plan({ firstDay: '2026-03-02', days: 7 })
  const block = async () => (await week()).benches[0]?.days.flatMap(({ bookings }) => bookings)[0]
  return { studio, job, week, block }
}

describe('the marks of a bench week', () => {
  it('say when the goods of a booked job are expected or came, and what the block still lacks', async () => {
    const { studio, week, block } = await aBookedJob()
    const set = (state: string, arrivedAt: string | null, expectedDay: string | null) =>
      studio.db
        .prepare('UPDATE sample SET state = ?, arrived_at = ?, expected_day = ?')
        .run(state, arrivedAt, expectedDay)
    set('expected', null, '2026-03-03')
    expect((await week()).goods).toMatchObject([{ day: '2026-03-03', samples: 1, state: 'expected' }])
    expect(await block()).toMatchObject({ goodsMissing: 1, goodsExpectedDay: '2026-03-03' })
    set('in', '2026-03-02T09:00:00.000Z', '2026-03-03')
    expect((await week()).goods).toMatchObject([{ day: '2026-03-02', samples: 1, state: 'came' }])
    expect(await block()).toMatchObject({ goodsMissing: 0, goodsExpectedDay: null })
  })

  it('say by how many days a block ends after its job is due, and nothing on the day itself', async () => {
    const { studio, job, week, block } = await aBookedJob()
    const due = (day: string) => {
      studio.db.prepare('UPDATE job SET due_day = ?').run(day)
      refreshStanding(studio.writing, job.jobId)
    }
    due(wednesday)
    expect(await block()).toMatchObject({ lateDays: 0, dueDay: wednesday })
    due('2026-03-02')
    expect(await block()).toMatchObject({ lateDays: 2, dueDay: '2026-03-02' })
    expect((await week()).due).toMatchObject([{ day: '2026-03-02', jobId: job.jobId }])
  })
})
