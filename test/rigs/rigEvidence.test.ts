import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { takenBack } from '../../db/statement.ts'
import type { Finish } from '../../main/trade/product.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aStudio } from '../studio.ts'
import { aRig, aStoredJob } from './builders.ts'

/** Spins that were each turned once on both of two rigs, ready to be picked and answered straight in the store. */
async function twoRigs(names: readonly string[] = ['vase', 'jug', 'bowl']) {
  const studio = aStudio()
  const { db } = studio
  const first = await aRig(studio, 'Glass')
  const second = await aRig(studio, 'Table')
  const job = await aStoredJob(
    studio,
    names.map((name) => ({ name })),
  )
  const settings = db
    .prepare(`INSERT INTO settings (created_at) VALUES ('2026-03-01T08:00:00.000Z')`)
    .run().lastInsertRowid
  const deliverableId = db
    .prepare('SELECT min(d.id) FROM deliverable d JOIN job ON job.brief_id = d.brief_id')
    .pluck()
    .get() as number
  const takeOf = (shootId: number, rig: { rigRevisionId: number }, verdict = 'keep') =>
    job.insert('take', {
      shoot_id: shootId,
      number: 1 + (db.prepare('SELECT count(*) FROM take WHERE shoot_id = ?').pluck().get(shootId) as number),
      rig_revision_id: rig.rigRevisionId,
      settings_id: Number(settings),
      bench_id: 1,
      person_id: 1,
      device_id: 1,
      frames_per_turn: 244,
      overlap_frames: 3,
      started_at: '2026-03-01T08:00:00.000Z',
      ended_at: '2026-03-01T09:00:00.000Z',
      frames_shot: 247,
      median_step_ms: 6_000,
      verdict,
    })
  const spins = job.shootIds.map((shootId) => ({
    shootId,
    takes: [takeOf(shootId, first), takeOf(shootId, second)] as const,
  }))
  let at = Date.UTC(2026, 2, 2)
  const now = () => {
    at += 60_000
    return new Date(at).toISOString()
  }
  const unpick = (shootId: number) =>
    db
      .prepare('UPDATE pick SET withdrawn_at = ? WHERE shoot_id = ? AND withdrawn_at IS NULL')
      .run(now(), shootId)
  const pick = (shootId: number, takeId: number) => {
    unpick(shootId)
    job.insert('pick', {
      shoot_id: shootId,
      row: 1,
      deliverable_id: deliverableId,
      take_id: takeId,
      picked_at: now(),
    })
  }
  const takeBackYes = (shootId: number) =>
    db
      .prepare(
        `UPDATE answer SET withdrawn_at = ? WHERE shoot_id = ? AND verdict = 'yes' AND withdrawn_at IS NULL`,
      )
      .run(now(), shootId)
  const yes = (shootId: number) => {
    takeBackYes(shootId)
    const at = now()
    job.insert('answer', {
      shoot_id: shootId,
      deliverable_id: deliverableId,
      verdict: 'yes',
      answered_at: at,
    })
    return at
  }
  const change = (shootId: number, cause: string) => {
    takeBackYes(shootId)
    job.insert('answer', {
      shoot_id: shootId,
      deliverable_id: deliverableId,
      verdict: 'change',
      needs: 'rework',
      cause,
      answered_at: now(),
    })
  }
  return { studio, db, job, first, second, spins, takeOf, pick, unpick, yes, change, takeBackYes }
}

type Act = 'pick' | 'unpick' | 'yes' | 'ours' | 'sample' | 'take back' | 'finish'

const rateOf = (kinds: readonly { approved: number; answered: number }[]) => [
  kinds.reduce((sum, { approved }) => sum + approved, 0),
  kinds.reduce((sum, { answered }) => sum + answered, 0),
]

describe('the record of a rig', () => {
  it('counts a yes against the answered spins alone, by finish and size', async () => {
    const { studio, db, first, spins, pick, yes, change } = await twoRigs(['vase', 'jug', 'bowl', 'cup'])
    const { api } = studio
    db.prepare(`UPDATE product SET finish = 'clear', width_um = 150000 WHERE name IN ('vase', 'jug')`).run()
    for (const { shootId, takes } of spins) pick(shootId, takes[0])
    yes(spins[0]?.shootId ?? 0)
    yes(spins[1]?.shootId ?? 0)
    change(spins[2]?.shootId ?? 0, 'ours')
    const record = await api.rigEvidence.ofRig({ rigId: first.rigId })
    // The cup was picked and never answered: our own pick says nothing.
    expect(record.kinds).toMatchObject([
      // 2 × log2(150) = 14.46.
      { finish: 'clear', sizeStep: 14, answered: 2, approved: 2 },
      { finish: 'matt', sizeStep: -1, answered: 1, approved: 0, lastYesAt: null },
    ])
    expect(record).toMatchObject({ spinsApproved: 2, takes: 4, medianStepMs: 6_000 })
  })

  it('counts a yes once, whatever was changed before it, and leaves out what the sample or the carrier caused', async () => {
    const { studio, first, spins, pick, yes, change } = await twoRigs()
    const [vase, jug, bowl] = spins
    if (!vase || !jug || !bowl) throw new Error('Three spins were made.')
    for (const { shootId, takes } of spins) pick(shootId, takes[0])
    change(vase.shootId, 'ours')
    change(vase.shootId, "client's wish")
    yes(vase.shootId)
    change(jug.shootId, 'sample')
    change(bowl.shootId, 'carrier')
    expect(rateOf((await studio.api.rigEvidence.ofRig({ rigId: first.rigId })).kinds)).toEqual([1, 1])
  })

  it('keeps the miss with the rig it happened on when the spin is turned again on another', async () => {
    const { studio, first, second, spins, pick, unpick, yes, change } = await twoRigs(['vase'])
    const [vase] = spins
    if (!vase) throw new Error('One spin was made.')
    pick(vase.shootId, vase.takes[0])
    change(vase.shootId, 'ours')
    unpick(vase.shootId)
    pick(vase.shootId, vase.takes[1])
    yes(vase.shootId)
    const rate = async (rigId: number) => rateOf((await studio.api.rigEvidence.ofRig({ rigId })).kinds)
    expect(await rate(first.rigId)).toEqual([0, 1])
    expect(await rate(second.rigId)).toEqual([1, 1])
  })

  it('counts takes, rejected ones and faults by kind, and forgets a fault that was none', async () => {
    const { studio, first, spins, takeOf } = await twoRigs(['vase'])
    const { api } = studio
    const takeId = takeOf(spins[0]?.shootId ?? 0, first, 'reject')
    const fault = (kind: 'dust' | 'bump') => api.takes.fault({ takeId, kind, frame: null, note: null })
    await fault('dust')
    await fault('bump')
    const { faultId } = await fault('bump')
    await fault('bump')
    await api.takes.noFault({ faultId })
    expect(await api.rigEvidence.ofRig({ rigId: first.rigId })).toMatchObject({
      takes: 2,
      rejectedTakes: 1,
      faults: [
        { kind: 'bump', faults: 2 },
        { kind: 'dust', faults: 1 },
      ],
    })
  })

  it('is always what picks and answers give, in whatever order they come, are taken back and corrected', async () => {
    const { db, first, second, spins, pick, unpick, yes, change, takeBackYes } = await twoRigs()
    const rigIds = [first.rigId, second.rigId]
    const act = fc.tuple(
      fc.constantFrom<Act>('pick', 'unpick', 'yes', 'ours', 'sample', 'take back', 'finish'),
      fc.nat(2),
      fc.nat(1),
    )
    const inAccord = fc.property(fc.array(act, { maxLength: 40 }), (acts) => {
      // Each case begins with nothing picked or answered: one that fails does so alone.
      takenBack(db, () => {
        /** The same told once more in plain JavaScript: per spin what is picked, the yes, and what changes were about. */
        const model = spins.map(() => ({
          picked: -1,
          yesAt: '',
          missedOn: new Set<number>(),
          finish: 'matt',
        }))
        for (const [what, which, rig] of acts) {
          const spin = spins[which]
          const told = model[which]
          if (!spin || !told) continue
          if (what === 'pick') {
            pick(spin.shootId, spin.takes[rig] ?? 0)
            told.picked = rig
          } else if (what === 'unpick') {
            unpick(spin.shootId)
            told.picked = -1
          } else if (what === 'yes') told.yesAt = yes(spin.shootId)
          else if (what === 'take back') {
            takeBackYes(spin.shootId)
            told.yesAt = ''
          } else if (what === 'finish') {
            const finish: Finish = rig === 0 ? 'matt' : 'gloss'
            db.prepare(
              'UPDATE product SET finish = ? WHERE id = (SELECT product_id FROM shoot_product WHERE shoot_id = ?)',
            ).run(finish, spin.shootId)
            told.finish = finish
          } else {
            change(spin.shootId, what)
            told.yesAt = ''
            if (what === 'ours' && told.picked >= 0) told.missedOn.add(told.picked)
          }
        }
        const expected = rigIds.flatMap((rigId, rig) =>
          ['gloss', 'matt'].flatMap((finish) => {
            const alike = model.filter((told) => told.finish === finish)
            const hits = alike.filter(({ picked, yesAt }) => picked === rig && yesAt !== '')
            const answered = alike.filter((told) => hits.includes(told) || told.missedOn.has(rig)).length
            const last =
              hits
                .map(({ yesAt }) => yesAt)
                .sort()
                .at(-1) ?? null
            return answered === 0 ? [] : [[rigId, finish, answered, hits.length, last]]
          }),
        )
        const kept = db
          .prepare(
            `SELECT rig_id, finish, answered, approved, last_yes_at FROM rig_evidence WHERE answered > 0
             ORDER BY rig_id, finish`,
          )
          .raw()
          .all()
        expect(kept).toEqual(expected)
      })
    })
    fc.assert(inAccord, {
      numRuns: 60,
      examples: [
        [
          [
            ['finish', 0, 1],
            ['finish', 0, 1],
            ['pick', 0, 1],
            ['ours', 1, 1],
            ['yes', 0, 1],
            ['unpick', 0, 1],
          ],
        ],
      ],
    })
  })
})

describe('which rig for a product', () => {
  it('offers rigs by what was approved on products like it, and leaves out those it is too heavy for', async () => {
    const { studio, db, job, first, spins, pick, yes } = await twoRigs()
    const { api } = studio
    db.prepare(`UPDATE product SET finish = 'clear', width_um = 150000`).run()
    for (const { shootId, takes } of spins) {
      pick(shootId, takes[1])
      yes(shootId)
    }
    const productId = job.insert('product', {
      client_id: job.clientId,
      code: 'NEW',
      name: 'flacon',
      finish: 'clear',
      width_um: 140_000,
      depth_um: 40_000,
      height_um: 90_000,
      mass_g: 400,
      created_at: studio.writing.now,
    })
    const names = async () => {
      const { offered, tooWeak } = await api.rigEvidence.forProduct({ productId })
      return [offered.map(({ name }) => name), tooWeak.map(({ name }) => name)]
    }
    expect(await names()).toEqual([['Table', 'Glass'], []])
    expect((await api.rigEvidence.forProduct({ productId })).offered[0]?.reason).toMatchObject({
      likeness: 'both',
      answered: 3,
      approved: 3,
    })
    db.prepare(`UPDATE platter SET load_limit_g = 399 WHERE name = 'Table platter'`).run()
    expect(await names()).toEqual([['Glass'], ['Table']])
    await api.platters.retire({ platterId: first.platterId, gone: true })
    expect(await names()).toEqual([[], ['Table']])
  })

  it('asks for the heaviest of several spins, and for the kind that most of them are', async () => {
    const { studio, db, spins } = await twoRigs()
    db.prepare(`UPDATE product SET finish = 'clear' WHERE name <> 'bowl'`).run()
    db.prepare(`UPDATE product SET mass_g = 9000 WHERE name = 'bowl'`).run()
    db.prepare(`UPDATE product SET mass_g = NULL WHERE name = 'jug'`).run()
    const { wanted } = await studio.api.rigEvidence.forSpins({
      shootIds: spins.map(({ shootId }) => shootId),
    })
    expect(wanted).toMatchObject({ finish: 'clear', loadG: 9_000, alike: 2, of: 3 })
  })

  it('is found by indexes alone', async () => {
    const { studio, first, spins } = await twoRigs()
    const scans = await scansDuring(studio.db, async () => {
      await studio.api.rigEvidence.ofRig({ rigId: first.rigId })
      await studio.api.rigEvidence.approved({ rigId: first.rigId })
      await studio.api.rigEvidence.forProduct({ productId: 1 })
      await studio.api.rigEvidence.forSpins({ shootIds: spins.map(({ shootId }) => shootId) })
    })
    // Rigs and what is counted for each are a few rows per studio, the chosen spins come with the call, and r is one page of yeses.
    expect(scans.filter((scan) => !/^SCAN (rig|rig_evidence|chosen|r)\b/u.test(scan))).toEqual([])
  })
})
