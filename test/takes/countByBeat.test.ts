import { expect, it } from 'vitest'
import { atTheBench } from './aSpin.ts'

it('says of a take that the beat counts it, once, and of none that has ended', async () => {
  const { api, start, studio, keep } = await atTheBench()
  const kept = await keep()
  await api.takes.byBeat({ takeId: kept })
  const takeId = await start()
  await api.takes.byBeat({ takeId })
  await api.takes.byBeat({ takeId })
  const countedBy = studio.db.prepare('SELECT counted_by FROM take WHERE id = ?').pluck()
  expect([countedBy.get(kept), countedBy.get(takeId)]).toEqual(['key', 'beat'])
  const told = studio.db.prepare(`SELECT count(*) FROM event WHERE what = 'counted by the beat'`).pluck()
  expect(told.get()).toBe(1)
})
