import { describe, expect, it } from 'vitest'
import { standingOf } from '../../db/standing.ts'
import { type AtTheBench, atTheBench } from '../takes/aSpin.ts'

const [loop, set] = [0, 1]

/** A job whose spins are turned, kept and picked for everything. */
async function picked(names: readonly string[] = ['Kettle']): Promise<AtTheBench> {
  const bench = await atTheBench(names.map((name) => ({ name })))
  for (const [index] of names.entries()) await bench.keep(index)
  bench.pass(60_000)
  await bench.api.picks.newest({ shootIds: [...bench.shootIds] })
  return bench
}

async function itemsOf({ api, jobId }: AtTheBench) {
  return (await api.answers.ofJob({ jobId })).items
}

/** What the standing keeps and what it works out must be the same after every fact. */
function expectStandingTrue({ studio, jobId }: AtTheBench): void {
  expect(studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)).toEqual(
    standingOf(studio.db, jobId),
  )
}

describe('picks', () => {
  it('choose a take for every row and deliverable at once, and leave what is picked alone', async () => {
    const bench = await picked(['Kettle', 'Jug'])
    expect(
      (await itemsOf(bench)).map(({ state, picks }) => [state, picks.map(({ takeNumber }) => takeNumber)]),
    ).toEqual([
      ['to show', [1]],
      ['to show', [1]],
      ['to show', [1]],
      ['to show', [1]],
    ])
    expect(await bench.api.picks.newest({ shootIds: [...bench.shootIds] })).toEqual({
      picked: 0,
      notTurned: [],
    })
    expectStandingTrue(bench)
  })

  it('name the spins that have no kept take', async () => {
    const bench = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    await bench.keep(0)
    expect(await bench.api.picks.newest({ shootIds: [...bench.shootIds] })).toEqual({
      picked: 2,
      notTurned: ['Jug'],
    })
  })

  it('withdraw the one they replace, so that one stands per row and deliverable', async () => {
    const bench = await picked()
    const second = await bench.keep()
    const items = await itemsOf(bench)
    const deliverableId = Number(items[loop]?.deliverableId)
    await bench.api.picks.pick({
      takeId: second,
      deliverableIds: [deliverableId],
      startFrame: 5,
      reversed: true,
    })
    expect((await itemsOf(bench))[loop]?.picks).toEqual([
      { row: 1, takeId: second, takeNumber: 2, startFrame: 5, reversed: true },
    ])
    expect((await itemsOf(bench))[set]?.picks).toMatchObject([{ takeNumber: 1 }])
    const { db } = bench.studio
    expect(db.prepare('SELECT count(*) FROM pick WHERE withdrawn_at IS NULL').pluck().get()).toBe(2)
    expect(() => db.exec('UPDATE pick SET withdrawn_at = NULL')).toThrow('UNIQUE constraint failed')
  })

  it('take only kept takes, and start within the turn', async () => {
    const { api, start, act } = await atTheBench()
    const takeId = await start()
    await expect(api.picks.pick({ takeId })).rejects.toMatchObject({ cause: { code: 'take-not-kept' } })
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'keep', reason: 'only to try' })
    await expect(api.picks.pick({ takeId, startFrame: 9 })).rejects.toMatchObject({
      cause: {
        code: 'start-past-turn',
        field: 'startFrame',
        message: 'The turn has 8 frames. Start at one of them.',
      },
    })
  })

  it('hold a take against being rejected', async () => {
    const bench = await picked()
    await expect(
      bench.api.takes.judge({ takeId: 1, verdict: 'reject', reason: 'dust' }),
    ).rejects.toMatchObject({
      cause: {
        code: 'take-is-picked',
        message: 'Take 1 of Kettle is picked for loop, set. Pick another take for it first.',
      },
    })
  })
})

describe('showing to the client', () => {
  it('asks for an answer within the working days of the studio', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    await bench.api.answers.show({ jobId: bench.jobId, items })
    // Monday 2 March 2026 and five working days (the studio's yes_days): Monday 9 March.
    expect((await itemsOf(bench)).map(({ state, answerByDay }) => [state, answerByDay])).toEqual([
      ['shown', '2026-03-09'],
      ['shown', '2026-03-09'],
    ])
  })

  it('refuses what is not picked, by name', async () => {
    const bench = await atTheBench()
    await bench.keep()
    await expect(
      bench.api.answers.show({ jobId: bench.jobId, items: await itemsOf(bench) }),
    ).rejects.toMatchObject({
      cause: {
        code: 'not-picked',
        message: 'No take is picked yet for Kettle (loop), Kettle (set). Pick one first, or leave it out.',
      },
    })
  })
})

describe("the client's yes", () => {
  it('is written for forty at once, and a second time changes nothing', async () => {
    const names = Array.from({ length: 20 }, (_, index) => `Cup ${index + 1}`)
    const bench = await picked(names)
    const items = await itemsOf(bench)
    expect(items).toHaveLength(40)
    await bench.api.answers.answer({ verdict: 'yes', items })
    await bench.api.answers.answer({ verdict: 'yes', items })
    expect((await itemsOf(bench)).every(({ state }) => state === 'yes')).toBe(true)
    expect(bench.studio.db.prepare('SELECT count(*) FROM answer').pluck().get()).toBe(40)
    expectStandingTrue(bench)
  })

  it('gives the family its rig and settings, and leaves those it has', async () => {
    const bench = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    const { db } = bench.studio
    const family = (name: string) =>
      Number(db.prepare('INSERT INTO family (client_id, name) VALUES (1, ?)').run(name).lastInsertRowid)
    const kettles = family('Kettles')
    db.prepare("UPDATE product SET family_id = ? WHERE name = 'Kettle'").run(kettles)
    await bench.keep(0)
    await bench.api.picks.newest({ shootIds: [...bench.shootIds] })
    const [item] = await itemsOf(bench)
    if (!item) throw new Error('no item')
    await bench.api.answers.answer({ verdict: 'yes', items: [item] })
    expect(
      db.prepare('SELECT rig_revision_id, settings_id FROM family WHERE id = ?').raw().get(kettles),
    ).toEqual([bench.stand.rigRevisionId, bench.stand.settingsId])
  })

  it('can be back-dated, but not set in the future', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    await expect(
      bench.api.answers.answer({ verdict: 'yes', items, answeredDay: '2026-03-03' }),
    ).rejects.toMatchObject({ cause: { code: 'answer-in-future', field: 'answeredDay' } })
    await bench.api.answers.answer({ verdict: 'yes', items, answeredDay: '2026-03-01' })
    // Noon in Berlin on 1 March is 11:00 UTC: Central European Time, UTC+1 (IANA time zone database).
    expect((await itemsOf(bench))[loop]?.answer?.answeredAt).toBe('2026-03-01T11:00:00.000Z')
  })

  it('guards the pick until it is taken back', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    await bench.api.answers.answer({ verdict: 'yes', items })
    const second = await bench.keep()
    await expect(bench.api.picks.pick({ takeId: second })).rejects.toMatchObject({
      cause: { code: 'pick-has-yes' },
    })
    for (const { answer } of await itemsOf(bench))
      await bench.api.answers.withdraw({ answerId: Number(answer?.id) })
    await bench.api.picks.pick({ takeId: second })
    expect((await itemsOf(bench)).map(({ picks }) => picks[0]?.takeNumber)).toEqual([2, 2])
  })
})

describe('a change the client wants', () => {
  it('that needs a reshoot takes back yes and picks and reopens the spin with its cause', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    await bench.api.answers.answer({ verdict: 'yes', items })
    bench.pass(3_600_000)
    await bench.api.answers.answer({
      verdict: 'change',
      items: items.slice(0, 1),
      needs: 'reshoot',
      cause: "client's wish",
      words: 'handle to the left',
    })
    expect((await itemsOf(bench)).map(({ state }) => state)).toEqual(['to turn', 'to turn'])
    const { db } = bench.studio
    expect(db.prepare('SELECT cause, reason FROM reshoot').all()).toEqual([
      { cause: "client's wish", reason: 'handle to the left' },
    ])
    expect((await bench.api.answers.ofJob({ jobId: bench.jobId })).rounds).toEqual({ used: 1, included: 1 })
    expectStandingTrue(bench)
    await expect(bench.api.picks.pick({ takeId: 1 })).rejects.toMatchObject({
      cause: { code: 'take-before-reshoot' },
    })
    bench.pass(3_600_000)
    await bench.keep()
    await bench.api.picks.newest({ shootIds: [...bench.shootIds] })
    expect((await itemsOf(bench)).map(({ state }) => state)).toEqual(['to show', 'to show'])
  })

  it('that needs a rework keeps the pick and waits to be shown again', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    await bench.api.answers.show({ jobId: bench.jobId, items })
    bench.pass(3_600_000)
    await bench.api.answers.answer({
      verdict: 'change',
      items: items.slice(0, 1),
      needs: 'rework',
      cause: 'ours',
      words: 'dust on the lid',
    })
    expect((await itemsOf(bench)).map(({ state, picks }) => [state, picks.length])).toEqual([
      ['change wanted', 1],
      ['shown', 1],
    ])
    bench.pass(3_600_000)
    await bench.api.answers.show({ jobId: bench.jobId, items: items.slice(0, 1) })
    expect((await itemsOf(bench))[loop]?.state).toBe('shown')
    await bench.api.answers.answer({ verdict: 'yes', items })
    expect((await itemsOf(bench)).map(({ state }) => state)).toEqual(['yes', 'yes'])
  })

  it('want no change of a deliverable that the spin does not have', async () => {
    const bench = await picked()
    const [item] = await itemsOf(bench)
    const strange = { shootId: Number(item?.shootId), deliverableId: 9999 }
    await expect(
      bench.api.answers.answer({ verdict: 'change', items: [strange], needs: 'rework', cause: 'ours' }),
    ).rejects.toMatchObject({ cause: { code: 'no-spin' } })
  })

  it('says what it needs and who caused it', async () => {
    const bench = await picked()
    const items = await itemsOf(bench)
    const wanted = { verdict: 'change', items, needs: 'rework' } as unknown as Parameters<
      typeof bench.api.answers.answer
    >[0]
    await expect(bench.api.answers.answer(wanted)).rejects.toThrow('Say who or what caused the change.')
  })
})
