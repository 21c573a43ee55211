import { describe, expect, it } from 'vitest'
import { framesChangedSince, productChangesSince, rigCautionsSince } from '../../main/trade/lastTime.ts'
import { scansDuring } from '../jobs/plans.ts'
import { type AtTheBench, atTheBench, turnFrames } from '../takes/aSpin.ts'
import { aRevision, aStoredJob } from './builders.ts'

/** A kettle and a jug of one family whose kettle was approved in March, and a second order of both in June. */
async function aReorder() {
  const bench = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
  const { api, studio, jobId, shootIds } = bench
  const { db } = studio
  const familyId = db
    .prepare(`INSERT INTO family (client_id, name) SELECT client_id, 'Hob' FROM job WHERE id = ?`)
    .run(jobId).lastInsertRowid
  db.prepare('UPDATE product SET family_id = ?, height_um = 240000, start_pose = ?').run(
    familyId,
    'spout left',
  )
  await bench.keep(0)
  await api.picks.newest({ shootIds: [Number(shootIds[0])] })
  const { items } = await api.answers.ofJob({ jobId })
  await api.answers.answer({
    verdict: 'yes',
    items: items.filter(({ shootId }) => Number(shootId) === shootIds[0]),
  })
  studio.setNow('2026-06-02T08:00:00.000Z')
  const { clientId, insert } = await aStoredJob(studio, [], { number: 'J-2026-002' })
  const again = Number(db.prepare(`SELECT id FROM job WHERE number = 'J-2026-002'`).pluck().get())
  const reorder = ['Kettle', 'Jug'].map((name, index) => {
    const shootId = insert('shoot', { job_id: again, position: index + 1, name })
    const productId = db.prepare('SELECT id FROM product WHERE name = ?').pluck().get(name)
    insert('shoot_product', { shoot_id: shootId, product_id: productId as number })
    insert('shoot_row', { shoot_id: shootId, row: 1, frames_per_turn: turnFrames, overlap_frames: 2 })
    return shootId
  })
  return { ...bench, db, clientId, insert, again, reorder, productId: productIdOf(bench, 'Kettle') }
}

function productIdOf({ studio }: AtTheBench, name: string): number {
  return Number(studio.db.prepare('SELECT id FROM product WHERE name = ?').pluck().get(name))
}

describe('same as last time', () => {
  it('is the approved take of the product, else the first of its family, without a caution where all is as it was', async () => {
    const { api, again, stand } = await aReorder()
    const [kettle, jug] = await api.lastTime.ofJob({ jobId: again })
    expect(kettle?.lastTime).toMatchObject({
      from: 'product',
      spin: 'Kettle',
      takeNumber: 1,
      rigRevisionId: stand.rigRevisionId,
      settingsId: stand.settingsId,
      startPose: 'spout left',
      cautions: [],
      overLoad: null,
    })
    expect(jug?.lastTime).toMatchObject({ from: 'family', spin: 'Kettle', cautions: [] })
  })

  it('plans rig, settings and start pose of all spins of a job in one press, and tells the bench', async () => {
    const { api, db, reorder, stand } = await aReorder()
    db.prepare('UPDATE product SET start_pose = NULL').run()
    db.prepare(`UPDATE shoot SET start_pose = 'handle right' WHERE name = 'Kettle' AND job_id = 1`).run()
    expect(await api.lastTime.plan({ shootIds: reorder })).toEqual({
      planned: 2,
      without: [],
      tooHeavy: [],
      blocks: [],
    })
    expect(
      db.prepare('SELECT rig_revision_id, settings_id, start_pose FROM shoot WHERE job_id = 2').raw().all(),
    ).toEqual(reorder.map(() => [stand.rigRevisionId, stand.settingsId, 'handle right']))
    const { takeId } = await api.takes.start({
      shootId: Number(reorder[0]),
      overruleReason: 'The sample is on its way.',
    })
    expect((await api.takes.one({ takeId })).startPose).toBe('handle right')
  })

  it('says what has changed: a newer revision, a platter gone, the product’s size and mass, the frames', async () => {
    const { api, db, stand, productId, reorder } = await aReorder()
    const { rigId, platterId } = db
      .prepare('SELECT rig_id AS rigId, platter_id AS platterId FROM rig_revision WHERE id = ?')
      .get(stand.rigRevisionId) as { rigId: number; platterId: number }
    await api.rigs.revise({
      rigId,
      revision: aRevision(platterId, { why: 'camera nearer', cameraDistanceMm: 1_700 }),
    })
    await api.platters.retire({ platterId, gone: true })
    const { product } = await api.products.one({ productId })
    const { familyId, code, name, variant, widthMm, depthMm, plan, sweptMm, finish, gtin, valueMinor } =
      product
    await api.products.change({
      productId,
      product: {
        ...{ familyId, code, name, variant, widthMm, depthMm, plan, sweptMm, finish, gtin, valueMinor },
        heightMm: 260,
        massG: 620,
        startPose: null,
        handlingNote: null,
      },
    })
    db.prepare('UPDATE shoot_row SET frames_per_turn = 12 WHERE shoot_id = ?').run(reorder[0])
    const said = async () => (await api.lastTime.ofSpin({ shootId: Number(reorder[0]) }))?.cautions ?? []
    expect(await said()).toEqual([
      expect.stringMatching(/^Revision 2 of .* stands now; revision 1 was approved\.$/u),
      expect.stringMatching(/^The platter .* is out of use\.$/u),
      expect.stringMatching(/^Height: 240\smm then, 260\smm now\.$/u),
      expect.stringMatching(/^Mass: 500\sg then, 620\sg now\.$/u),
      'Frames: 8 + 2 then, 12 + 2 asked now.',
    ])
  })

  it('warns of equipment that a revision takes and that is in repair or gone', async () => {
    const { api, studio, shootIds, shoot, act } = await atTheBench()
    const { equipmentId } = await api.equipment.add({ name: '100 mm macro', kind: 'lens', count: 1 })
    const { platterId } = studio.db.prepare('SELECT id AS platterId FROM platter').get() as {
      platterId: number
    }
    const { rigRevisionId } = await api.rigs.add({
      rig: { name: 'Macro', sizeClass: 'small' },
      revision: aRevision(platterId, { lensEquipmentId: equipmentId }),
    })
    const settingsId = Number(studio.db.prepare('SELECT max(id) FROM settings').pluck().get())
    const { takeId } = await api.takes.start({ shootId: Number(shootIds[0]), rigRevisionId, settingsId })
    await shoot(takeId, turnFrames + 2)
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'keep' })
    await api.picks.newest({ shootIds: [...shootIds] })
    const { items } = await api.answers.ofJob({ jobId: 1 })
    await api.answers.answer({ verdict: 'yes', items })
    studio.db.exec(
      `INSERT INTO shoot (job_id, position, name) VALUES (1, 9, 'Kettle');
       INSERT INTO shoot_product (shoot_id, product_id) SELECT max(shoot.id), 1 FROM shoot;
       INSERT INTO shoot_row (shoot_id, row, frames_per_turn, overlap_frames) SELECT max(id), 1, ${turnFrames}, 2 FROM shoot`,
    )
    const shootId = Number(studio.db.prepare('SELECT max(id) FROM shoot').pluck().get())
    await api.equipment.addOutage({
      equipmentId,
      kind: 'repair',
      fromDay: '2026-03-01',
      toDay: '2026-03-20',
      reason: 'focus ring',
    })
    expect((await api.lastTime.ofSpin({ shootId }))?.cautions).toEqual([
      "'100 mm macro' is in repair until 2026-03-20 (focus ring).",
    ])
    await api.equipment.retire({ equipmentId, gone: true })
    expect((await api.lastTime.ofSpin({ shootId }))?.cautions).toEqual(["'100 mm macro' is out of use."])
  })

  it('leaves out, by name, what was never approved and what its platter does not carry now', async () => {
    const { api, db, insert, again, reorder, clientId } = await aReorder()
    const strange = insert('shoot', { job_id: again, position: 3, name: 'Ladle' })
    const productId = insert('product', {
      client_id: clientId,
      code: 'L-1',
      name: 'Ladle',
      created_at: '2026-06-02T08:00:00.000Z',
    })
    insert('shoot_product', { shoot_id: strange, product_id: productId })
    insert('shoot_row', { shoot_id: strange, row: 1, frames_per_turn: 8, overlap_frames: 2 })
    db.prepare(`UPDATE product SET mass_g = 12500 WHERE name = 'Jug'`).run()
    const done = await api.lastTime.plan({ shootIds: [...reorder, strange] })
    expect(done).toMatchObject({ planned: 1, without: ['Ladle'] })
    expect(done.tooHeavy).toEqual([
      expect.stringMatching(/^'Jug' weighs 12\.5 kg, but the platter .* carries 12 kg\./u),
    ])
    expect(db.prepare('SELECT rig_revision_id FROM shoot WHERE id = ?').pluck().get(reorder[1])).toBeNull()
  })

  it('counts the stand a product needs against the platter, at planning and at the start of a take', async () => {
    const { api, db, reorder, stand } = await aReorder()
    db.prepare(`UPDATE product SET mass_g = 11000, stand_g = 1001 WHERE name = 'Kettle'`).run()
    const refused = {
      message: expect.stringMatching(
        /^'Kettle' weighs 12\.001\skg with what it stands on, but the platter .* carries 12\skg\./u,
      ),
      cause: { code: 'over-load-limit', canOverrule: false },
    }
    const kettle = { shootIds: [Number(reorder[0])], rigRevisionId: stand.rigRevisionId }
    await expect(api.rigs.plan(kettle)).rejects.toMatchObject(refused)
    await expect(
      api.takes.start({ shootId: Number(reorder[0]), ...stand, overruleReason: 'It will hold.' }),
    ).rejects.toMatchObject(refused)
    db.prepare('UPDATE product SET stand_g = 1000').run()
    expect(await api.rigs.plan(kettle)).toMatchObject({ planned: 1 })
  })

  it('takes, of a product with several spins, the one of the same name', async () => {
    const { api, db, insert, productId, reorder } = await aReorder()
    db.prepare(`UPDATE shoot SET name = 'Kettle, lid open' WHERE job_id = 1 AND name = 'Kettle'`).run()
    const take = db.prepare('SELECT * FROM take LIMIT 1').get() as Record<string, number>
    const shut = insert('shoot', { job_id: 1, position: 8, name: 'Kettle' })
    insert('shoot_product', {
      shoot_id: shut,
      product_id: productId,
    })
    insert('shoot_row', { shoot_id: shut, row: 1, frames_per_turn: 8, overlap_frames: 2 })
    const { id: _, ...rest } = take
    const takeId = insert('take', { ...rest, shoot_id: shut })
    const deliverable = db.prepare('SELECT deliverable_id FROM pick LIMIT 1').pluck().get() as number
    insert('pick', {
      shoot_id: shut,
      row: 1,
      deliverable_id: deliverable,
      take_id: takeId,
      picked_at: '2026-02-01T08:00:00.000Z',
    })
    // Its yes is the older of the two.
    insert('answer', {
      shoot_id: shut,
      deliverable_id: deliverable,
      verdict: 'yes',
      answered_at: '2026-02-01T08:00:00.000Z',
    })
    expect((await api.lastTime.ofSpin({ shootId: Number(reorder[0]) }))?.spin).toBe('Kettle')
  })

  it('is, for a row of several, the approved take of that row', async () => {
    const { api, db, insert, reorder, stand, shootIds } = await aReorder()
    const [spin, again] = [Number(shootIds[0]), Number(reorder[0])]
    const { id: first, ...rest } = db.prepare('SELECT * FROM take LIMIT 1').get() as Record<string, number>
    const upper = insert('take', { ...rest, row: 2, number: 2 })
    const matched = async (row: number) =>
      (await api.checkAids.stand({ shootId: again, row, ...stand })).lastTime
    for (const shoot_id of [spin, again])
      insert('shoot_row', { shoot_id, row: 2, frames_per_turn: 8, overlap_frames: 2 })
    // Nobody picked the upper row for the client yet.
    expect(await matched(2)).toMatchObject({ takeId: first, takeNumber: 1 })
    const deliverable_id = db.prepare('SELECT deliverable_id FROM pick LIMIT 1').pluck().get() as number
    const pick = { shoot_id: spin, row: 2, deliverable_id, take_id: upper }
    insert('pick', { ...pick, picked_at: '2026-03-02T08:00:00.000Z' })
    expect(await matched(2)).toMatchObject({ takeId: upper, takeNumber: 2 })
    expect(await matched(1)).toMatchObject({ takeId: first, takeNumber: 1 })
  })

  it('is, for a row that only another spin of the family has approved, the approved take of that row there', async () => {
    const { api, db, insert, reorder, stand, shootIds } = await aReorder()
    const [jug, again] = [Number(shootIds[1]), Number(reorder[0])]
    const { id: first, ...rest } = db.prepare('SELECT * FROM take LIMIT 1').get() as Record<string, number>
    for (const shoot_id of [jug, again])
      insert('shoot_row', { shoot_id, row: 2, frames_per_turn: 8, overlap_frames: 2 })
    const upper = insert('take', { ...rest, shoot_id: jug, row: 2, number: 1 })
    const deliverable_id = db.prepare('SELECT deliverable_id FROM pick LIMIT 1').pluck().get() as number
    const ofJug = { shoot_id: jug, deliverable_id }
    insert('pick', { ...ofJug, row: 2, take_id: upper, picked_at: '2026-03-02T08:00:00.000Z' })
    const matched = async (row: number) =>
      (await api.checkAids.stand({ shootId: again, row, ...stand })).lastTime
    // Nobody said yes to it yet.
    expect(await matched(2)).toMatchObject({ takeId: first, from: 'product' })
    insert('answer', { ...ofJug, verdict: 'yes', answered_at: '2026-03-03T08:00:00.000Z' })
    expect(await matched(2)).toMatchObject({ takeId: upper, spin: 'Jug', from: 'family' })
    expect(await matched(1)).toMatchObject({ takeId: first, spin: 'Kettle', from: 'product' })
  })

  it('is found by indexes alone', async () => {
    const { api, studio, again, reorder, stand, insert } = await aReorder()
    insert('shoot_row', { shoot_id: Number(reorder[0]), row: 2, frames_per_turn: 8, overlap_frames: 2 })
    // What a rig takes of the equipment is a view over the few rows of its revision; the limits are one row.
    const scans = await scansDuring(studio.db, async () => {
      await api.lastTime.ofJob({ jobId: again })
      await api.lastTime.ofSpin({ shootId: Number(reorder[0]) })
      await api.lastTime.plan({ shootIds: reorder })
      await api.checkAids.stand({ shootId: Number(reorder[0]), row: 1, ...stand })
      await api.checkAids.stand({ shootId: Number(reorder[0]), row: 2, ...stand })
    })
    expect(
      scans.filter((scan) => !/^SCAN (rig|chosen|check_limits|rig_light|v|n|\(subquery)/u.test(scan)),
    ).toEqual([])
  })
})

describe('the cautions of last time', () => {
  const rig = {
    rigName: 'Glass',
    isArchived: false,
    revision: 2,
    newestRevision: 2,
    rimUm10: 12_200_000,
    platterName: 'Birch',
    platterRimUm10: 12_200_000,
    platterIsGone: false,
    parts: [],
  }

  it('are none where nothing changed', () => {
    expect(rigCautionsSince(rig)).toEqual([])
    expect(
      framesChangedSince(
        [{ framesPerTurn: 244, overlapFrames: 3 }],
        [{ framesPerTurn: 244, overlapFrames: 3 }],
      ),
    ).toEqual([])
  })

  it('name a tape that reads otherwise, an archived rig, and parts of which there are too few', () => {
    const part = { name: 'Flash head', needed: 3, count: 2, isGone: false, outage: null }
    expect(rigCautionsSince({ ...rig, isArchived: true, platterRimUm10: 12_210_000, parts: [part] })).toEqual(
      [
        'The rig Glass is archived.',
        expect.stringMatching(
          /^The tape of Birch reads 1,221\smm now and read 1,220\smm then: its marks are others\.$/u,
        ),
        "The rig takes 3 of 'Flash head'; the studio has 2.",
      ],
    )
  })

  it('compare another product of the family by its code', () => {
    const jug = {
      code: 'J-1',
      finish: 'gloss',
      widthUm: null,
      depthUm: null,
      heightUm: 180_500,
      sweptUm: null,
      massG: 900,
    }
    expect(productChangesSince({ ...jug, code: 'K-1', heightUm: 240_000 }, jug, false)).toEqual([
      expect.stringMatching(/^Height: 240\smm for K-1, 180\.5\smm for J-1\.$/u),
    ])
  })
})
