import type { BenchAct } from '../../trade/benchActs.ts'
import type { FaultKind } from '../../trade/takes.ts'
import type { Chance } from '../chance.ts'
import type { Story } from '../play.ts'
import type { Api } from '../setUp.ts'
import { turningFrom } from './booking.ts'
import { handlingMs } from './handling.ts'
import type { BookedBlock, JobInHand, SpinInHand } from './stage.ts'

// Times of takes: common practice, no published source. A step's time is log-normal about its median.
const stepMedianMs = 5800
const stepSpread = 0.22
const pauseShare = 0.003
const rowChangeMs = 540_000
const restartShare = 0.1
const faultShare = 0.12

const rejecting: readonly (readonly [FaultKind, string])[] = [
  ['bump', 'Knocked the platter at the back.'],
  ['light change', 'A flash head dropped out.'],
  ['product moved', 'It slid on the board.'],
  ['missed step', 'Two marks left out, noticed too late.'],
]
const forgiven: readonly (readonly [FaultKind, string | null])[] = [
  ['dust', 'Hair on the foot; retouch.'],
  ['flicker', null],
  ['off centre', 'About a millimetre; holds in the crop.'],
  ['focus', 'Soft on the handle only.'],
]

/** The takes of the booked blocks, each spin in its place. */
export async function* shoot(job: JobInHand): Story {
  const { plan, stage } = job
  const planned = job.next('shot', '17:40')
  const running = job.twist('running') !== undefined
  const turned = running ? Math.max(1, job.spins.length - 2) : job.spins.length
  let count = 0
  let takes = 0
  const families = new Set<number>()
  for (const block of job.blocks) {
    let at = turningFrom(block)
    for (const spin of block.spins) {
      if (count >= turned) break
      count += 1
      const { familyId } = spin.product
      const isFirst = familyId === null || !families.has(familyId)
      if (familyId !== null) families.add(familyId)
      const shot = yield* turnSpin(job, block, spin, after(at, handlingMs(job.chance, spin.product, isFirst)))
      at = shot.endedAt
      takes += shot.takes
    }
    job.goOnFrom(block.half.day)
  }
  yield planned
  if (plan.told) stage.telling.say(`Shot: ${takes} takes of ${count} spins, one kept of each.`)
}

interface Shot {
  readonly endedAt: Date
  readonly takes: number
}

/** One spin on the platter: now and then a take that is broken off, and the one that is kept. */
async function* turnSpin(
  job: JobInHand,
  block: BookedBlock,
  { shootId }: SpinInHand,
  from: Date,
): AsyncGenerator<Date, Shot, void> {
  const { chance, stage, plan } = job
  const { benchId } = block.half
  const api = stage.apiAt(benchId)
  const { rows } = await api.takes.plan({ shootId })
  let at = from
  let takes = 0
  for (const [index, { row, framesPerTurn, overlapFrames }] of rows.entries()) {
    if (index > 0) at = after(at, rowChangeMs)
    const wanted = framesPerTurn + overlapFrames
    if (chance.happens(restartShare)) {
      const frames = Math.max(2, Math.round(wanted * (0.2 + 0.7 * chance.fraction())))
      at = yield* countTake(api, chance, { shootId, row, benchId, frames }, at, 'reject')
      at = after(at, Math.min(420_000, chance.logNormal(150_000, 0.4)))
      takes += 1
    }
    const kept = { shootId, row, benchId, frames: wanted }
    at = plan.pressed ? yield* pressTake(job, api, kept, at) : yield* countTake(api, chance, kept, at, 'keep')
    takes += 1
  }
  return { endedAt: at, takes }
}

interface OneTake {
  readonly shootId: number
  readonly row: number
  readonly benchId: number
  readonly frames: number
}

/** A take whose frames are counted afterwards, with its faults and its verdict. */
async function* countTake(
  api: Api,
  chance: Chance,
  { frames, ...take }: OneTake,
  startedAt: Date,
  verdict: 'keep' | 'reject',
): AsyncGenerator<Date, Date, void> {
  const stepsMs = Array.from({ length: frames - 1 }, () => stepMs(chance))
  const endedAt = after(
    startedAt,
    stepsMs.reduce((sum, ms) => sum + ms, 0),
  )
  yield endedAt
  const { takeId } = await api.takes.count({
    ...take,
    framesShot: frames,
    startedAt: startedAt.toISOString(),
    endedAt: endedAt.toISOString(),
  })
  if (verdict === 'reject') {
    const [kind, note] = chance.one(rejecting)
    await api.takes.fault({ takeId, kind, frame: frames, note })
    await api.takes.judge({ takeId, verdict, reason: note })
    return endedAt
  }
  if (chance.happens(faultShare)) {
    const [kind, note] = chance.one(forgiven)
    await api.takes.fault({ takeId, kind, frame: chance.whole(1, frames), note })
  }
  await api.takes.judge({ takeId, verdict })
  return endedAt
}

/** A take as it is at the bench: started, each frame pressed in its time, ended, kept. */
async function* pressTake(
  { chance, stage }: JobInHand,
  api: Api,
  { frames, ...take }: OneTake,
  startedAt: Date,
): AsyncGenerator<Date, Date, void> {
  yield startedAt
  const { takeId } = await api.takes.start(take)
  let at = startedAt
  for (let frame = 1; frame <= frames; frame += 1) {
    at = after(at, stepMs(chance))
    stage.clock.moveTo(at)
    await act(api, takeId, { kind: 'frame' })
  }
  if (chance.happens(faultShare)) {
    const [kind, note] = chance.one(forgiven)
    await api.takes.fault({ takeId, kind, frame: chance.whole(1, frames), note })
  }
  await act(api, takeId, { kind: 'end' })
  await api.takes.judge({ takeId, verdict: 'keep' })
  return at
}

/** One step of the platter with its frame, in ms; now and then something has to be seen to. */
function stepMs(chance: Chance): number {
  const pause = chance.happens(pauseShare) ? chance.whole(20_000, 110_000) : 0
  return Math.round(chance.logNormal(stepMedianMs, stepSpread)) + pause
}

/** A take that runs as the demo is made: about ten minutes old, with a void frame and a fault. */
export async function startRunningTake(job: JobInHand): Promise<void> {
  const { stage, chance } = job
  const spin = job.spins.at(-2)
  const block = job.blocks.at(-1)
  if (!spin || !block) throw new Error(`${job.number} has no spin to turn.`)
  const api = stage.apiAt(block.half.benchId)
  const { takeId } = await api.takes.start({ shootId: spin.shootId, benchId: block.half.benchId })
  let at = stage.clock.now
  for (let frame = 1; at < stage.clock.madeAt; frame += 1) {
    at = after(at, Math.round(chance.logNormal(stepMedianMs, stepSpread)))
    if (at >= stage.clock.madeAt) break
    stage.clock.moveTo(at)
    await act(api, takeId, { kind: 'frame' })
    if (frame === 30) await act(api, takeId, { kind: 'void', frame })
    if (frame === 52) {
      const note = 'Left head recycles slowly.'
      await act(api, takeId, { kind: 'fault', fault: 'flicker', frame, note, isVoid: false })
    }
  }
}

let acts = 0

/** One act at the bench, from the tablet that stands there. */
async function act(api: Api, takeId: number, done: BenchAct): Promise<void> {
  acts += 1
  const holder = { key: 'demo-tablet', place: 'the tablet' }
  await api.takes.act({ takeId, holder, acts: [{ key: `demo-${acts}`, agoMs: 0, act: done }] })
}

/** How long before the demo is made the running take was started, in ms. */
export const runningForMs = 600_000

function after(instant: Date, ms: number): Date {
  return new Date(instant.getTime() + Math.round(ms))
}
