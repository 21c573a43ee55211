import { expect, it } from 'vitest'
import { applyAct } from '../../main/trade/benchActs.ts'
import { actedTake, type TakePage, turningState } from '../../renderer/takes/turningState.ts'
import { atTheBench, turnFrames } from './aSpin.ts'

it('shows a take as the page has it, and as acts carry it on that the page does not hold yet', async () => {
  const { api, act, start, pass } = await atTheBench()
  const takeId = await start()
  // As it comes over the wire.
  const asked = async (): Promise<TakePage> => JSON.parse(JSON.stringify(await api.takes.one({ takeId })))
  const behind = await asked()
  let ahead = actedTake(behind)
  for (const ms of [6000, 12_000, 18_000]) {
    pass(6000)
    await act(takeId, { kind: 'frame' })
    ahead = applyAct(ahead, { kind: 'frame' }, ms)
  }
  const after = { lastGood: 3, shot: 3, nextMark: 3, nextMarkMm: 458, missing: [], isOwnPace: true }
  expect(turningState(behind, ahead)).toMatchObject(after)
  expect(turningState(await asked())).toMatchObject(after)
  ahead = applyAct(ahead, { kind: 'void', frame: 3 }, 20_000)
  expect(turningState(await asked(), ahead)).toMatchObject({
    lastGood: 2,
    voids: 1,
    nextMark: 2,
    framesPerTurn: turnFrames,
    // The void frame keeps its number, so the last frame's is one more than there are to shoot.
    lastNumber: turningState(behind).toShoot + 1,
  })
})
