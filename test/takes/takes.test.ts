import { describe, expect, it } from 'vitest'
import { standingOf } from '../../db/standing.ts'
import { atTheBench, theTablet, turnFrames } from './aSpin.ts'

describe('a take', () => {
  it('starts where the last one stood, and is ended, packed and kept', async () => {
    const { api, shootIds, keep, studio, pass } = await atTheBench()
    const first = await keep()
    pass(60_000)
    const { takeId } = await api.takes.start({ shootId: Number(shootIds[0]) })
    const { take } = await api.takes.one({ takeId })
    expect(take).toMatchObject({
      number: 2,
      row: 1,
      rigName: 'Glass, small',
      revision: 1,
      framesPerTurn: turnFrames,
    })
    const ended = await api.takes.one({ takeId: first })
    expect(ended.take).toMatchObject({
      framesShot: 10,
      medianStepMs: 6000,
      verdict: 'keep',
      countedBy: 'key',
    })
    expect(ended.frames.map(({ mark }) => mark)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9])
    expect(studio.db.prepare('SELECT count(*) FROM take_frame WHERE take_id = ?').pluck().get(first)).toBe(0)
  })

  it('tells the tape readings of its marks', async () => {
    const { api, start } = await atTheBench()
    const takeId = await start()
    // 1,220 mm in 8 frames at whole millimetres: 152.5 a step; a half goes upwards.
    expect((await api.takes.one({ takeId })).marksMm.slice(0, 3)).toEqual([0, 153, 305])
  })

  it('does not start twice on one spin, and says who has it', async () => {
    const { api, start, shoot, pass, shootIds, stand } = await atTheBench()
    await shoot(await start(), 1)
    pass(60_000)
    await expect(api.takes.start({ shootId: Number(shootIds[0]), ...stand })).rejects.toMatchObject({
      cause: {
        code: 'take-running',
        canOverrule: false,
        message:
          'Take 1 of this spin is running at Bench 1: Mara Quist, at the tablet, since 09:01, last frame a minute ago. End that take first, or go to it to watch it or take it over.',
      },
    })
  })

  it('does not turn two spins at one bench without a reason', async () => {
    const { api, start, shootIds, stand } = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    await start(0)
    const second = { shootId: Number(shootIds[1]), ...stand }
    await expect(api.takes.start(second)).rejects.toMatchObject({
      cause: { code: 'bench-busy', canOverrule: true },
    })
    await api.takes.start({ ...second, overruleReason: 'two platters stand side by side' })
    expect((await api.takes.running()).map(({ spin }) => spin)).toEqual(['Kettle', 'Jug'])
  })

  it('goes on without a sample only for a reason, which the spin keeps', async () => {
    const { api, studio, shootIds, stand } = await atTheBench([{ name: 'Kettle', sample: 'expected' }])
    const wanted = { shootId: Number(shootIds[0]), ...stand }
    await expect(api.takes.start(wanted)).rejects.toMatchObject({
      cause: { code: 'no-sample-in', canOverrule: true },
    })
    await api.takes.start({ ...wanted, overruleReason: 'a twin from the showroom stands in' })
    expect(studio.db.prepare('SELECT without_sample_reason FROM shoot').pluck().get()).toBe(
      'a twin from the showroom stands in',
    )
  })

  it('is not started on a platter that does not carry the product, whatever the reason', async () => {
    // The platter of the test rig carries 12 kg.
    const { api, shootIds, stand } = await atTheBench([{ name: 'Anvil', massG: 15_000 }])
    await expect(
      api.takes.start({ shootId: Number(shootIds[0]), ...stand, overruleReason: 'only once' }),
    ).rejects.toMatchObject({ cause: { code: 'over-load-limit', canOverrule: false } })
  })

  it('says that no rig is known, rather than guess one', async () => {
    const { api, shootIds } = await atTheBench()
    await expect(api.takes.start({ shootId: Number(shootIds[0]) })).rejects.toMatchObject({
      cause: { code: 'no-rig', field: 'rigRevisionId' },
    })
  })

  it('is not kept with frames missing unless there is a reason', async () => {
    const { act, api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, turnFrames)
    await act(takeId, { kind: 'void', frame: 3 })
    await act(takeId, { kind: 'end' })
    await expect(api.takes.judge({ takeId, verdict: 'keep' })).rejects.toMatchObject({
      cause: {
        code: 'frames-missing',
        canOverrule: true,
        message: 'Take 1 of Kettle lacks 1 of 8 frames. Take it again, or say why it is kept all the same.',
      },
    })
    await api.takes.judge({ takeId, verdict: 'keep', reason: 'the set does not use frame 3' })
    const [spin] = await api.takes.ofJob({ jobId: 1 })
    expect(spin?.takes[0]).toMatchObject({ verdict: 'keep', goodFrames: 7, voidFrames: 1, missingFrames: 1 })
  })

  it('is rejected with a reason, and the next one starts at once on the same rig', async () => {
    const { api, start, shoot, pass } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await api.takes.fault({ takeId, kind: 'bump', frame: 3, note: null })
    pass(5000)
    const next = await api.takes.again({ takeId, reason: 'bump', holder: theTablet })
    const [spin] = await api.takes.ofJob({ jobId: 1 })
    expect(spin?.takes.map(({ number, verdict, endedAt }) => [number, verdict, endedAt !== null])).toEqual([
      [2, null, false],
      [1, 'reject', true],
    ])
    expect(spin?.takes[1]?.faults).toMatchObject([{ kind: 'bump', frame: 3 }])
    expect((await api.takes.one({ takeId: next.takeId })).usualStepMs).toBe(6000)
  })

  it('tells a fault in lists at the mark of its frame, which void frames before it do not shift', async () => {
    const { act, api, start, shoot } = await atTheBench()
    const takeId = await start()
    await shoot(takeId, 3)
    await act(takeId, { kind: 'back', mark: 1 })
    await shoot(takeId, 2)
    await act(takeId, { kind: 'fault', fault: 'dust', frame: 5, note: null, isVoid: false })
    const faults = async () => (await api.takes.ofJob({ jobId: 1 }))[0]?.takes[0]?.faults
    // Frames 1 to 3 at marks 0 to 2, then 4 and 5 at marks 1 and 2 again.
    expect(await faults()).toMatchObject([{ frame: 5, mark: 2 }])
    await act(takeId, { kind: 'end' })
    await api.takes.fault({ takeId, kind: 'flicker', frame: null, note: null })
    expect(await faults()).toMatchObject([
      { frame: null, mark: null },
      { frame: 5, mark: 2 },
    ])
  })

  it('needs a reason to be rejected', async () => {
    const { act, api, start } = await atTheBench()
    const takeId = await start()
    await act(takeId, { kind: 'end' })
    await expect(api.takes.judge({ takeId, verdict: 'reject' })).rejects.toMatchObject({
      cause: { code: 'no-reason', field: 'reason' },
    })
  })

  it('can be counted afterwards from its files', async () => {
    const { api, shootIds, stand, pass } = await atTheBench()
    pass(3_600_000)
    const wanted = { shootId: Number(shootIds[0]), ...stand, framesShot: 11 }
    const { takeId } = await api.takes.count({
      ...wanted,
      startedAt: '2026-03-02T08:10:00.000Z',
      endedAt: '2026-03-02T08:11:10.000Z',
    })
    // Ten gaps in 70 s.
    expect((await api.takes.one({ takeId })).take).toMatchObject({
      countedBy: 'files',
      framesShot: 11,
      medianStepMs: 7000,
    })
    await api.takes.judge({ takeId, verdict: 'keep' })
    await expect(
      api.takes.count({
        ...wanted,
        startedAt: '2026-03-02T08:10:00.000Z',
        endedAt: '2026-03-03T08:10:00.000Z',
      }),
    ).rejects.toMatchObject({ cause: { code: 'take-in-future', field: 'endedAt' } })
  })

  it('keeps what was shot, whoever writes to the store', async () => {
    const { keep, studio } = await atTheBench()
    await keep()
    const { db } = studio
    expect(() => db.exec('UPDATE take SET median_step_ms = 1')).toThrow('a take keeps what was shot')
    expect(() => db.exec("UPDATE take_log SET voids = '[1]'")).toThrow('a take keeps what was shot')
    expect(() => db.exec('DELETE FROM take')).toThrow('a take is never deleted')
  })

  it('moves its job along the path with every fact', async () => {
    const { act, api, studio, start, shoot, jobId } = await atTheBench()
    const stationIs = () =>
      studio.db
        .prepare('SELECT at_bench, at_takes, at_pick FROM job_standing WHERE job_id = ?')
        .raw()
        .get(jobId)
    expect(stationIs()).toEqual([1, 0, 0])
    const takeId = await start()
    expect(stationIs()).toEqual([0, 1, 0])
    await shoot(takeId, turnFrames)
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'keep' })
    expect(stationIs()).toEqual([0, 0, 1])
    expect(studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)).toEqual(
      standingOf(studio.db, jobId),
    )
  })
})
