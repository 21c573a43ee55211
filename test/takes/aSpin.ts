import type { Id } from '../../db/ids.ts'
import type { ActAnswer } from '../../db/takeAnswers.ts'
import type { BenchAct } from '../../main/trade/benchActs.ts'
import { aRig, aStoredJob, type StoredSpin } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

/** A studio with one accepted order, its samples in, and a rig and settings to turn it on. */
export interface AtTheBench {
  readonly studio: TestStudio
  readonly api: TestStudio['api']
  readonly jobId: Id<'job'>
  readonly shootIds: readonly number[]
  /** What a take starts with. */
  readonly stand: { readonly rigRevisionId: number; readonly settingsId: number; readonly benchId: number }
  /** Moves the clock on, by milliseconds. */
  pass(ms: number): void
  /** Starts a take of the spin at this place in the job, and gives its id. */
  start(index?: number): Promise<number>
  /** Shoots a full turn of a running take: frames 6 s apart. */
  shoot(takeId: number, frames: number): Promise<void>
  /** Does one act at the bench of the test, and gives the studio's answer. */
  act(
    takeId: number,
    act: BenchAct,
    of?: { readonly key?: string; readonly agoMs?: number },
  ): Promise<ActAnswer>
  /** Starts, shoots, ends and keeps a take. */
  keep(index?: number): Promise<number>
}

/** The device at which the acts of the tests are done. */
export const theTablet = { key: 'tablet-of-the-test', place: 'the tablet' }

/** The frames per turn of every spin here: few, so that tests are quick. */
export const turnFrames = 8

export async function atTheBench(spins: readonly StoredSpin[] = [{ name: 'Kettle' }]): Promise<AtTheBench> {
  const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
  const { api, db } = studio
  const { jobId, shootIds } = await aStoredJob(studio, spins)
  db.prepare('UPDATE shoot_row SET frames_per_turn = ?, overlap_frames = 2').run(turnFrames)
  db.prepare(
    `UPDATE deliverable SET frames = 4 WHERE kind = 'frame set' AND brief_id = (SELECT brief_id FROM job WHERE id = ?)`,
  ).run(jobId)
  const { rigRevisionId } = await aRig(studio)
  const { settingsId } = await api.settings.add({
    focusMm: null,
    apertureCenti: 1100,
    apertureHeld: 'held',
    shutterNum: 1,
    shutterDen: 125,
    iso: 100,
    whiteBalanceK: 5500,
    development: null,
    note: null,
    rows: [{ viewAngleDeg: 0, framesPerTurn: turnFrames, overlapFrames: 2 }],
  })
  const benchId = Number(db.prepare('SELECT id FROM bench').pluck().get())
  const stand = { rigRevisionId, settingsId, benchId }
  let now = Date.parse('2026-03-02T08:00:00.000Z')
  let presses = 0
  const pass = (ms: number) => {
    now += ms
    studio.setNow(new Date(now).toISOString())
  }
  const start = async (index = 0) => {
    pass(60_000)
    return (await api.takes.start({ shootId: Number(shootIds[index]), ...stand })).takeId
  }
  const act: AtTheBench['act'] = async (takeId, done, { key, agoMs = 0 } = {}) => {
    presses += 1
    const sent = { key: key ?? `act-${presses}`, agoMs, act: done }
    const { answers } = await api.takes.act({ takeId, holder: theTablet, acts: [sent] })
    const [answer] = answers
    if (!answer) throw new Error('The studio gave no answer.')
    return answer
  }
  const shoot = async (takeId: number, frames: number) => {
    for (let frame = 0; frame < frames; frame += 1) {
      pass(6000)
      await act(takeId, { kind: 'frame' })
    }
  }
  const keep = async (index = 0) => {
    const takeId = await start(index)
    await shoot(takeId, turnFrames + 2)
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'keep' })
    return takeId
  }
  return { studio, api, jobId, shootIds: shootIds.map(Number), stand, pass, start, shoot, act, keep }
}
