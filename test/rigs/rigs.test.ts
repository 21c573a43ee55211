import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { standingOf } from '../../db/standing.ts'
import { compareRigs, fieldWidthMm, platterDiameterMm } from '../../main/trade/rigs.ts'
import { aStudio } from '../studio.ts'
import { aLight, aPlatter, aRevision, aRig, aStoredJob } from './builders.ts'

describe('platters', () => {
  it('keeps a rim and a division exactly as the tape reads them', async () => {
    const { api } = aStudio()
    const { platterId } = await api.platters.add(aPlatter({ rimMm: 1220.5, divisionMm: 0.5 }))
    expect(await api.platters.one({ platterId })).toMatchObject({ rimMm: 1220.5, divisionMm: 0.5 })
  })

  it('refuses a second platter of the same name beside its name', async () => {
    const { api } = aStudio()
    await api.platters.add(aPlatter())
    await expect(api.platters.add(aPlatter())).rejects.toMatchObject({
      cause: { code: 'name-taken', field: 'name' },
    })
  })

  it('leaves what stood as it was when a platter gets a new tape', async () => {
    const studio = aStudio()
    const { rigId, platterId } = await aRig(studio)
    const { id: _, goneAt: __, ...platter } = await studio.api.platters.one({ platterId })
    await studio.api.platters.change({ platterId, platter: { ...platter, rimMm: 1_221 } })
    const { revisions } = await studio.api.rigs.one({ rigId })
    expect(revisions[0]?.rimMm).toBe(1_220)
    await studio.api.rigs.revise({ rigId, revision: aRevision(platterId, { why: 'new tape' }) })
    expect((await studio.api.rigs.one({ rigId })).revisions.map(({ rimMm }) => rimMm)).toEqual([1_221, 1_220])
  })
})

describe('rigs', () => {
  it('makes a new revision for a change and never touches the old one', async () => {
    const studio = aStudio()
    const { rigId, platterId } = await aRig(studio)
    await studio.api.rigs.revise({
      rigId,
      revision: aRevision(platterId, { lights: [aLight(60)], why: 'one lamp less for mirrors' }),
    })
    const { revisions } = await studio.api.rigs.one({ rigId })
    expect(revisions.map(({ revision, why, lights }) => [revision, why, lights.length])).toEqual([
      [2, 'one lamp less for mirrors', 1],
      [1, 'first set-up', 2],
    ])
  })

  it('refuses to change or delete a revision or its lights even past the program', async () => {
    const studio = aStudio()
    await aRig(studio)
    for (const sql of [
      `UPDATE rig_revision SET lens = 'other'`,
      'DELETE FROM rig_revision',
      'UPDATE rig_light SET distance_um = 20000',
      'DELETE FROM rig_light',
    ]) {
      expect(() => studio.db.exec(sql)).toThrow('a rig revision never changes')
    }
  })

  it.each([
    ['a focal length longer than the distance', { focalMm: 900, cameraDistanceMm: 800 }, 'not shorter than'],
    ['no focal length', { focalMm: Number.NaN }, 'The focal length is missing'],
    ['a focal length in words', { focalMm: 'long' as never }, 'The focal length is missing'],
    ['a focal length of nothing', { focalMm: 0 }, 'at least 1 mm'],
    ['a camera at the axis', { cameraDistanceMm: 0 }, 'The camera’s distance'],
    ['a sensor below nothing', { sensorWidthMm: -36 }, 'sensor'],
  ])('refuses %s with a sentence', async (_what, of, sentence) => {
    const studio = aStudio()
    const { platterId } = await studio.api.platters.add(aPlatter())
    await expect(
      studio.api.rigs.add({
        rig: { name: 'Wrong', sizeClass: 'small', note: null },
        revision: aRevision(platterId, of),
      }),
    ).rejects.toThrow(sentence)
  })

  it('refuses a revision without a reason', async () => {
    const studio = aStudio()
    const { rigId, platterId } = await aRig(studio)
    await expect(
      studio.api.rigs.revise({ rigId, revision: aRevision(platterId, { why: '  ' }) }),
    ).rejects.toThrow('Why it stands like this is empty')
    expect((await studio.api.rigs.one({ rigId })).revisions).toHaveLength(1)
  })

  it('says what differs between two revisions and what the change from one to the other takes', async () => {
    const studio = aStudio()
    const { rigId, platterId } = await aRig(studio)
    await studio.api.rigs.revise({
      rigId,
      revision: aRevision(platterId, {
        cameraDistanceMm: 1_900,
        lights: [aLight(45), aLight(300), aLight(180, { kind: 'rim lamp' })],
        why: 'rim lamp for dark glass',
      }),
    })
    const [after, before] = (await studio.api.rigs.one({ rigId })).revisions.map(({ id }) => id)
    if (!after || !before) throw new Error('two revisions expected')
    const { figures, changeover } = await studio.api.rigs.compare({ before, after })
    expect(figures.filter(({ differs }) => differs).map(({ differs: _, ...figure }) => figure)).toEqual([
      { field: 'cameraDistanceMm', light: null, before: 1_850, after: 1_900 },
      { field: 'bearingDeg', light: { before: 1, after: 1 }, before: 315, after: 300 },
      { field: 'light', light: { before: null, after: 2 }, before: null, after: 'rim lamp' },
    ])
    // Alike figures stand beside each other too, so that the page can show both rigs whole.
    expect(figures).toContainEqual({
      field: 'lens',
      light: null,
      before: '100 mm macro',
      after: '100 mm macro',
      differs: false,
    })
    const { figures: pace } = await studio.api.pace.figures()
    expect(changeover).toEqual([
      { part: 'camera', light: null, ms: pace.changeCameraMs },
      { part: 'light', light: { before: 1, after: 1 }, ms: pace.changeLightMs },
      { part: 'light', light: { before: null, after: 2 }, ms: pace.changeLightMs },
    ])
  })

  it('compares also the note and which piece of equipment a part is', async () => {
    const studio = aStudio()
    const { rigId, platterId } = await aRig(studio)
    const { equipmentId } = await studio.api.equipment.add({
      name: 'Lens 2',
      kind: 'lens',
      count: 1,
      dayMinor: 0,
      note: null,
    })
    await studio.api.rigs.revise({
      rigId,
      revision: aRevision(platterId, {
        lensEquipmentId: equipmentId,
        note: 'the sharper copy',
        why: 'swapped',
      }),
    })
    const [after = 0, before = 0] = (await studio.api.rigs.one({ rigId })).revisions.map(({ id }) => id)
    const { figures } = await studio.api.rigs.compare({ before, after })
    expect(figures.filter(({ differs }) => differs).map(({ field, after }) => [field, after])).toEqual([
      ['note', 'the sharper copy'],
      ['lensEquipment', 'Lens 2'],
    ])
  })

  it('finds no difference between a revision and itself', () => {
    const same = { values: { lens: 'a' }, lights: [{ kind: 'lamp', bearingDeg: 0.001 }] }
    const pairs = [{ before: 0, after: 0, stays: true }]
    expect(compareRigs(same, same, pairs).filter(({ differs }) => differs)).toEqual([])
  })

  it('leaves an archived rig out of the choice and keeps it in its own list', async () => {
    const studio = aStudio()
    const { rigId } = await aRig(studio)
    await studio.api.rigs.archive({ rigId, archived: true })
    expect(await studio.api.rigs.choices()).toEqual([])
    expect((await studio.api.rigs.list({})).total).toBe(0)
    expect((await studio.api.rigs.list({ archived: true })).lines.map(({ id }) => id)).toEqual([rigId])
  })

  it('draws a field as wide as a published lens formula gives', () => {
    // 36 mm sensor, 50 mm lens, 1,000 mm from the front principal plane: 684 mm (thin lens, m = f / (s − f)).
    expect(fieldWidthMm(36, 50, 1_000)).toBeCloseTo(684, 9)
    expect(fieldWidthMm(null, 50, 1_000)).toBeNull()
    // 100 mm lens at 600 mm, 36 mm sensor: 180 mm.
    expect(fieldWidthMm(36, 100, 600)).toBeCloseTo(180, 9)
  })

  it('draws a platter as wide as its rim over pi', () => {
    // C = π d: a circle of 1 m has a rim of 3,141.592653589793 mm.
    expect(platterDiameterMm(3_141.592653589793)).toBeCloseTo(1000, 9)
  })
})

describe('what was approved on a rig', () => {
  it('counts the spins with the client’s standing yes, and not our own picks', async () => {
    const studio = aStudio()
    const { rigId, rigRevisionId } = await aRig(studio)
    const { settingsId } = await studio.api.settings.add(someSettings())
    const job = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }, { name: 'bowl' }])
    const deliverable = studio.db
      .prepare('SELECT min(d.id) FROM deliverable d JOIN job ON job.brief_id = d.brief_id')
      .pluck()
      .get()
    const steps = [6_000, 7_000, 9_000]
    job.shootIds.forEach((shootId, index) => {
      const takeId = job.insert('take', {
        shoot_id: shootId,
        number: 1,
        rig_revision_id: rigRevisionId,
        settings_id: settingsId,
        bench_id: 1,
        person_id: 1,
        device_id: 1,
        frames_per_turn: 244,
        overlap_frames: 3,
        started_at: `2026-03-0${index + 1}T08:00:00.000Z`,
        ended_at: `2026-03-0${index + 1}T09:00:00.000Z`,
        frames_shot: 247,
        median_step_ms: steps[index],
        verdict: 'keep',
      })
      job.insert('pick', {
        shoot_id: shootId,
        row: 1,
        deliverable_id: deliverable,
        take_id: takeId,
        picked_at: studio.writing.now,
      })
    })
    const yes = job.shootIds.slice(0, 2).map((shootId) =>
      job.insert('answer', {
        shoot_id: shootId,
        deliverable_id: deliverable,
        verdict: 'yes',
        answered_at: studio.writing.now,
      }),
    )
    const line = async () => (await studio.api.rigs.list({})).lines[0]
    // The median of 6 s and 7 s is 6.5 s; the bowl was picked but has no yes.
    expect(await line()).toMatchObject({
      spinsApproved: 2,
      medianStepMs: 6_500,
      lastUsedAt: '2026-03-03T08:00:00.000Z',
    })
    expect((await studio.api.rigEvidence.approved({ rigId })).map(({ spin }) => spin)).toEqual([
      'jug',
      'vase',
    ])
    studio.db.prepare('UPDATE answer SET withdrawn_at = ? WHERE id = ?').run(studio.writing.now, yes[1])
    expect(await line()).toMatchObject({ spinsApproved: 1, medianStepMs: 6_000 })
  })
})

describe('settings', () => {
  it('keeps settings with their rows and refuses to change them', async () => {
    const { api, db } = aStudio()
    const { settingsId } = await api.settings.add(someSettings())
    const settings = await api.settings.one({ settingsId })
    expect(settings).toMatchObject({ apertureCenti: 1_100, shutterNum: 1, shutterDen: 125, iso: 100 })
    expect(settings.rows.map(({ framesPerTurn, overlapFrames }) => [framesPerTurn, overlapFrames])).toEqual([
      [244, 3],
    ])
    expect(() => db.exec('UPDATE settings SET iso = 200')).toThrow('settings never change')
    expect(() => db.exec('UPDATE settings_row SET overlap_frames = 0')).toThrow('settings never change')
    expect(() => db.exec('DELETE FROM settings_row')).toThrow('settings never change')
  })

  it('refuses half a shutter time and a crop over the edge', async () => {
    const { api } = aStudio()
    await expect(api.settings.add({ ...someSettings(), shutterDen: null })).rejects.toThrow('is a fraction')
    await expect(
      api.settings.add({ ...someSettings(), cropXPpm: 500_000, cropWidthPpm: 600_000 }),
    ).rejects.toThrow('runs over the edge')
  })
})

describe('planning a rig for spins', () => {
  it('plans the rig and settings for every chosen spin', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { settingsId } = await studio.api.settings.add(someSettings())
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }, { name: 'jug' }])
    expect(await studio.api.rigs.plan({ shootIds, rigRevisionId, settingsId })).toEqual({
      planned: 2,
      withoutFamilyRig: [],
      blocks: [],
    })
    expect(
      (await studio.api.rigs.planned({ jobId })).map((spin) => [spin.name, spin.rigName, spin.settingsId]),
    ).toEqual([
      ['vase', 'Glass, small', settingsId],
      ['jug', 'Glass, small', settingsId],
    ])
  })

  it('refuses a product heavier than the platter’s load limit, and plans none of the others then', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio, 'Glass, small', aPlatter({ loadLimitG: 12_000 }))
    const { jobId, shootIds } = await aStoredJob(studio, [
      { name: 'vase', massG: 12_000 },
      { name: 'urn', massG: 12_001 },
    ])
    await expect(studio.api.rigs.plan({ shootIds, rigRevisionId })).rejects.toMatchObject({
      message: expect.stringMatching(
        /^'urn' weighs 12\.001\skg, but the platter Birch platter carries 12\skg\. Choose a rig on another platter, or correct the mass under Products\.$/u,
      ),
      cause: { code: 'over-load-limit', canOverrule: false },
    })
    expect((await studio.api.rigs.planned({ jobId })).map(({ rigName }) => rigName)).toEqual([null, null])
  })

  it('weighs all products of a set together', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const job = await aStoredJob(studio, [
      { name: 'set', massG: 7_000 },
      { name: 'lid', massG: 6_000 },
    ])
    const lid = studio.db.prepare(`SELECT id FROM product WHERE name = 'lid'`).pluck().get()
    job.insert('shoot_product', { shoot_id: job.shootIds[0], product_id: lid, position: 2 })
    await expect(studio.api.rigs.plan({ shootIds: job.shootIds.slice(0, 1), rigRevisionId })).rejects.toThrow(
      "'set' weighs 13 kg",
    )
  })

  it('takes the family’s rig and settings where none are named, and names the spins whose family has none', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { settingsId } = await studio.api.settings.add(someSettings())
    const first = await aStoredJob(studio, [{ name: 'first' }])
    const familyId = first.insert('family', {
      client_id: first.clientId,
      name: 'Fjord',
      rig_revision_id: rigRevisionId,
      settings_id: settingsId,
    })
    const job = await aStoredJob(studio, [{ name: 'blue', familyId }, { name: 'stray' }], {
      number: 'J-2026-002',
      clientId: first.clientId,
    })
    expect(await studio.api.rigs.plan({ shootIds: job.shootIds })).toEqual({
      planned: 1,
      withoutFamilyRig: ['stray'],
      blocks: [],
    })
    expect((await studio.api.rigs.planned({ jobId: job.jobId }))[0]).toMatchObject({
      rigRevisionId,
      settingsId,
    })
  })

  it('keeps the job’s standing as its facts say', async () => {
    const studio = aStudio()
    const { rigRevisionId } = await aRig(studio)
    const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase' }])
    await studio.api.rigs.plan({ shootIds, rigRevisionId })
    const kept = studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)
    expect(kept).toEqual(standingOf(studio.db, jobId as Id<'job'>))
  })
})

function someSettings() {
  return {
    focusMm: 1_800,
    apertureCenti: 1_100,
    apertureHeld: 'held' as const,
    shutterNum: 1,
    shutterDen: 125,
    iso: 100,
    whiteBalanceK: 5_600,
    development: null,
    note: null,
    rows: [{ viewAngleDeg: 0, framesPerTurn: 244, overlapFrames: 3 }],
  }
}
