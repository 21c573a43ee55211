import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { learnedPace, paceFrom } from '../../db/learnedPace.ts'
import { openStore } from '../../db/open.ts'
import { buildDemoStudio } from '../../main/demo/build.ts'
import { fromTakes } from '../../main/trade/paceFrom.ts'
import { backTestState, startBackTest, stopBackTest } from '../../main/work/backTest.ts'
import { aStudio } from '../studio.ts'
import { atTheBench } from '../takes/aSpin.ts'

describe('what takes have taught', () => {
  it('is the settings while there are none, and says so', async () => {
    const { api, db } = aStudio()
    const learned = await api.figures.learned()
    expect(learned.step).toEqual({ stepMs: learned.settingStepMs, takes: 0, weight: 0, lastDay: null })
    expect(learned.rigs).toEqual([])
    expect(learned.handling.every(({ first }) => first.learnedMs === first.settingMs)).toBe(true)
    expect(learned.restart).toMatchObject({ hits: 0, spins: 0, range: { low: 0, high: 1 } })
    expect(fromTakes(paceFrom(db, []), String)).toBe('studio setting, no takes yet')
    expect(await api.figures.backTest()).toEqual({ state: 'done', takes: 0, figures: null })
  })

  it('comes from the takes of the rig, kept and rejected, by their frame times', async () => {
    const { act, api, studio, keep, start, shoot } = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
    await keep(0)
    const takeId = await start(1)
    await shoot(takeId, 10)
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'reject', reason: 'bumped' })
    const learned = await api.figures.learned()
    expect(learned.step.takes).toBe(2)
    expect(await api.pace.from()).toMatchObject({ takes: 2, rigName: null })
    // Both takes were pressed every 6 s, which is the setting.
    expect(learned.step.stepMs).toBe(6000)
    expect(learned.stops).toMatchObject({ medianStepMs: 6000, takes: 2 })
    const [rig] = learned.rigs
    expect(rig).toMatchObject({ takes: 2, lastDay: '2026-03-02' })
    expect(fromTakes(paceFrom(studio.db, [rig?.rigId ?? 0]), (day) => day)).toBe(
      `from 2 takes on ${rig?.name}, the last on 2026-03-02`,
    )
  })

  it('is learned anew when a verdict is given, and not while nothing changes', async () => {
    const { act, api, studio, start, shoot } = await atTheBench()
    const takeId = await start(0)
    await shoot(takeId, 10)
    await act(takeId, { kind: 'end' })
    const before = learnedPace(studio.db)
    expect(learnedPace(studio.db)).toBe(before)
    expect(before.figures.restart.spins).toBe(0)
    await api.takes.judge({ takeId, verdict: 'keep' })
    expect(learnedPace(studio.db).figures.restart.spins).toBe(1)
  })
})

describe('the back-test of the demo’s two years', () => {
  let folder: string
  beforeAll(async () => {
    const place = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-figures-'))
    folder = path.join(place, 'demo')
    await buildDemoStudio(folder, () => {}, { madeAt: new Date('2025-03-12T14:30:00.000Z') })
    return () => fs.rmSync(place, { recursive: true, force: true })
  }, 240_000)

  const demo = () => openStore(path.join(folder, 'studio.db'), { readonly: true })

  /** Waits for the stretches of work that are still to come. */
  async function finished(db: ReturnType<typeof demo>) {
    for (let state = backTestState(db); ; state = backTestState(db)) {
      if (state.state !== 'working') return state
      await new Promise(setImmediate)
    }
  }

  it('finds the learned quotes closer than the flat setting, both on average and one by one', async () => {
    const db = demo()
    const result = await finished(db)
    if (result.state !== 'done' || !result.figures) throw new Error('The back-test came to nothing.')
    const { spins, withHandling, learned, flat } = result.figures
    expect(spins).toBeGreaterThan(150)
    expect(withHandling).toBeGreaterThan(60)
    expect(learned.absoluteMs).toBeLessThan(0.75 * flat.absoluteMs)
    expect(Math.abs(learned.biasMs)).toBeLessThan(0.5 * Math.abs(flat.biasMs))
    db.close()
  })

  it('learns the pace the demo was played at', () => {
    const db = demo()
    const { figures } = learnedPace(db)
    // The demo turns a frame in 5.8 s at the median, 6.1 s on average with its stops (its own dice).
    expect(figures.step.stepMs).toBeGreaterThan(5900)
    expect(figures.step.stepMs).toBeLessThan(6300)
    expect(figures.restart.hits).toBeGreaterThan(5)
    db.close()
  })

  it('can be stopped on its way, and begun anew', async () => {
    const db = demo()
    // A lot is 200 takes; a demo has more than one lot, but a fast machine may be done within one stretch.
    const begun = startBackTest(db)
    stopBackTest(db)
    expect(backTestState(db).state).toBe(begun.state === 'done' ? 'done' : 'stopped')
    startBackTest(db)
    expect((await finished(db)).state).toBe('done')
    db.close()
  })
})
