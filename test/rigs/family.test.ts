import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { isRevised, revisionValueOf } from '../../renderer/rigs/rigValue.ts'
import { settingsText } from '../../renderer/takes/settingsText.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { aRevision, aRig } from './builders.ts'

/** A bench whose spins are variants of one shape, in this order. */
async function variants(names: readonly string[]) {
  const bench = await atTheBench([...names.map((name) => ({ name })), { name: 'Stranger' }])
  const { studio, api, jobId } = bench
  const clientId = studio.db
    .prepare('SELECT client_id FROM job WHERE id = ?')
    .pluck()
    .get(jobId) as Id<'client'>
  const { familyId } = await api.families.add({ clientId, family: { name: 'Fjord', note: null } })
  const productIds = studio.db
    .prepare(`SELECT id FROM product WHERE name <> 'Stranger' ORDER BY id`)
    .pluck()
    .all() as number[]
  await api.families.place({ familyId, productIds })
  const plan = (index: number) => api.takes.plan({ shootId: Number(bench.shootIds[index]) })
  return { ...bench, familyId, productIds, plan }
}

/** Settings that differ from those of the bench in crop and focus. */
async function others(bench: Awaited<ReturnType<typeof variants>>) {
  const {
    id: _,
    createdAt: __,
    ...plain
  } = await bench.api.settings.one({ settingsId: bench.stand.settingsId })
  return bench.api.settings.add({
    ...plain,
    rows: [...plain.rows],
    focusMm: 1_500,
    cropXPpm: 100_000,
    cropWidthPpm: 800_000,
  })
}

describe('the variants of a shape', () => {
  it('start from the first kept take of their family, not from whatever the job turned last', async () => {
    const bench = await variants(['Fjord white', 'Fjord blue'])
    await bench.keep(0)
    const other = await aRig(bench.studio, 'Shoes')
    const { settingsId } = await others(bench)
    await bench.api.takes.start({
      shootId: Number(bench.shootIds[2]),
      ...bench.stand,
      rigRevisionId: other.rigRevisionId,
      settingsId,
      overruleReason: 'a second bench',
    })
    expect(await bench.plan(1)).toMatchObject({
      from: 'family take',
      rigRevisionId: bench.stand.rigRevisionId,
      settingsId: bench.stand.settingsId,
    })
  })

  it('start from what the client approved of the first, with its crop, whatever was kept since', async () => {
    const bench = await variants(['Fjord white', 'Fjord blue', 'Fjord red'])
    await bench.keep(0)
    await bench.api.picks.newest({ shootIds: [Number(bench.shootIds[0])] })
    const { items } = await bench.api.answers.ofJob({ jobId: bench.jobId })
    const first = items.filter(({ shootId }) => shootId === Number(bench.shootIds[0]))
    await bench.api.answers.show({ jobId: bench.jobId, items: first })
    await bench.api.answers.answer({ verdict: 'yes', items: first })
    // The second was turned otherwise; the third matches what has the client's yes.
    const { settingsId } = await others(bench)
    bench.studio.db
      .prepare('UPDATE shoot SET rig_revision_id = ?, settings_id = ? WHERE id = ?')
      .run(bench.stand.rigRevisionId, settingsId, bench.shootIds[1])
    await bench.keep(1)
    expect(await bench.plan(2)).toMatchObject({ from: 'family', settingsId: bench.stand.settingsId })
    expect(await bench.api.families.one({ familyId: bench.familyId })).toMatchObject({
      rigRevisionId: bench.stand.rigRevisionId,
      settingsId: bench.stand.settingsId,
    })
  })

  it('begin as the first of them does, until a product or a spin says otherwise', async () => {
    const bench = await variants(['Fjord white', 'Fjord blue'])
    const { studio, shootIds, productIds } = bench
    const pose = () =>
      studio.db.prepare('SELECT start_pose FROM spin_start_pose WHERE shoot_id = ?').pluck().get(shootIds[1])
    studio.db.prepare(`UPDATE brief SET start_pose = 'front'`).run()
    expect(pose()).toBe('front')
    studio.db.prepare(`UPDATE product SET start_pose = 'spout left' WHERE id = ?`).run(productIds[0])
    expect(pose()).toBe('spout left')
    studio.db.prepare(`UPDATE product SET start_pose = 'spout right' WHERE id = ?`).run(productIds[1])
    expect(pose()).toBe('spout right')
    studio.db.prepare(`UPDATE shoot SET start_pose = 'as in May' WHERE id = ?`).run(shootIds[1])
    expect(pose()).toBe('as in May')
    const takeId = await bench.start(1)
    expect((await bench.api.takes.one({ takeId })).startPose).toBe('as in May')
  })

  it('start on the rig that is planned although no settings are, with what was dialled on it last', async () => {
    const bench = await variants(['Fjord white', 'Fjord blue'])
    await bench.keep(0)
    await bench.api.rigs.plan({
      shootIds: [Number(bench.shootIds[2])],
      rigRevisionId: bench.stand.rigRevisionId,
    })
    expect(await bench.plan(2)).toMatchObject({
      from: 'plan',
      rigRevisionId: bench.stand.rigRevisionId,
      settingsId: bench.stand.settingsId,
    })
  })
})

describe('rig and settings apart', () => {
  it('a take keeps its revision for ever, whatever becomes of the rig', async () => {
    const bench = await atTheBench()
    const takeId = await bench.keep()
    const { rigId, platterId } = await bench.api.rigs.revision({ rigRevisionId: bench.stand.rigRevisionId })
    await bench.api.rigs.revise({
      rigId,
      revision: aRevision(platterId, { cameraHeightMm: 300, why: 'shoulders closed up' }),
    })
    const kept = () =>
      bench.studio.db.prepare('SELECT rig_revision_id FROM take WHERE id = ?').pluck().get(takeId)
    expect(kept()).toBe(bench.stand.rigRevisionId)
    expect(() =>
      bench.studio.db
        .prepare('UPDATE take SET rig_revision_id = rig_revision_id + 1 WHERE id = ?')
        .run(takeId),
    ).toThrow('a take keeps what was shot')
    expect(() =>
      bench.studio.db.prepare('UPDATE take SET settings_id = 99 WHERE id = ?').run(takeId),
    ).toThrow('a take keeps what was shot')
    expect(kept()).toBe(bench.stand.rigRevisionId)
    expect((await bench.api.rigs.revision({ rigRevisionId: bench.stand.rigRevisionId })).cameraHeightMm).toBe(
      220,
    )
  })

  it('refuses a revision in which nothing that stands has changed, and says what to write instead', async () => {
    const bench = await atTheBench()
    const { rigId, platterId } = await bench.api.rigs.revision({ rigRevisionId: bench.stand.rigRevisionId })
    await expect(
      bench.api.rigs.revise({ rigId, revision: aRevision(platterId, { why: 'focus 20 mm nearer' }) }),
    ).rejects.toThrow(/differs from revision 1.*new settings/u)
    expect((await bench.api.rigs.one({ rigId })).revisions).toHaveLength(1)
  })

  it('calls a rig otherwise without a revision, and with one only if both are kept', async () => {
    const { api, stand } = await atTheBench()
    const { rigId, platterId } = await api.rigs.revision({ rigRevisionId: stand.rigRevisionId })
    const [newest] = (await api.rigs.one({ rigId })).revisions
    if (!newest) throw new Error('The rig has no revision.')
    const typed = revisionValueOf(newest)
    expect(isRevised(typed, newest)).toBe(false)
    expect(isRevised({ ...typed, cameraHeightUm: 230_000 }, newest)).toBe(true)
    expect(isRevised({ ...typed, lights: typed.lights.slice(1) }, newest)).toBe(true)
    expect(isRevised({ ...typed, why: 'a new tape' }, newest)).toBe(true)
    const rig = { name: 'Glass, tall', sizeClass: 'medium', note: null } as const
    await expect(
      api.rigs.revise({ rigId, rig, revision: aRevision(platterId, { why: 'renamed' }) }),
    ).rejects.toThrow(/differs from revision 1/u)
    expect((await api.rigs.one({ rigId })).rig.name).toBe('Glass, small')
    await api.rigs.revise({ rigId, rig, revision: aRevision(platterId, { why: 'up', cameraHeightMm: 300 }) })
    const { rig: called, revisions } = await api.rigs.one({ rigId })
    expect(called).toMatchObject(rig)
    expect(revisions).toHaveLength(2)
  })

  it('tells settings apart where one is chosen, also when only focus or frames differ', async () => {
    const { api, stand, shootIds } = await atTheBench()
    const { id: _, createdAt: __, ...plain } = await api.settings.one({ settingsId: stand.settingsId })
    const dialled = { ...plain, rigId: null, rows: [...plain.rows] }
    await api.settings.add({ ...dialled, focusMm: 1_480 })
    await api.settings.add({ ...dialled, rows: dialled.rows.map((row) => ({ ...row, framesPerTurn: 244 })) })
    const { settings } = await api.takes.plan({ shootId: Number(shootIds[0]) })
    const read = settings.map((one) => settingsText(one).replaceAll('\u00a0', ' '))
    expect(read).toEqual([
      '244 frames · f/11 · 1/125 s · ISO 100 · 5,500 K',
      '8 frames · f/11 · 1/125 s · ISO 100 · 5,500 K · focus 1,480 mm',
      '8 frames · f/11 · 1/125 s · ISO 100 · 5,500 K',
    ])
  })

  it('finds settings on the rig beside which they were written, before anything is turned with them', async () => {
    const bench = await atTheBench()
    const { rigId } = await bench.api.rigs.revision({ rigRevisionId: bench.stand.rigRevisionId })
    const {
      id: _,
      createdAt: __,
      ...plain
    } = await bench.api.settings.one({
      settingsId: bench.stand.settingsId,
    })
    expect(await bench.api.settings.onRig({ rigId })).toEqual([])
    const { settingsId } = await bench.api.settings.add({
      ...plain,
      rigId,
      rows: [
        { viewAngleDeg: 0, framesPerTurn: 244, overlapFrames: 3 },
        {
          viewAngleDeg: 20,
          framesPerTurn: 82,
          overlapFrames: 2,
          cameraDistanceMm: 1_700,
          cameraHeightMm: 800,
        },
      ],
    })
    const [only] = await bench.api.settings.onRig({ rigId })
    expect(only?.id).toBe(settingsId)
    expect(only?.rows[1]).toMatchObject({ viewAngleDeg: 20, cameraDistanceMm: 1_700, cameraHeightMm: 800 })
    expect((await bench.api.rigs.one({ rigId })).revisions).toHaveLength(1)
    // Turned with, and planned with: each once, the newest first.
    await bench.keep()
    const { settingsId: planned } = await bench.api.settings.add({
      ...plain,
      rows: [...plain.rows],
      rigId: null,
    })
    await bench.api.rigs.plan({
      shootIds: [Number(bench.shootIds[0])],
      rigRevisionId: bench.stand.rigRevisionId,
      settingsId: planned,
    })
    expect((await bench.api.settings.onRig({ rigId })).map(({ id }) => id)).toEqual([
      planned,
      settingsId,
      bench.stand.settingsId,
    ])
    await expect(bench.api.settings.add({ ...plain, rows: [...plain.rows], rigId: 99 })).rejects.toThrow(
      'not in the studio',
    )
  })
})
