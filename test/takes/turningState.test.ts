import { expect, it } from 'vitest'
import { type TakePage, turningState } from '../../renderer/takes/turningState.ts'
import { atTheBench, turnFrames } from './aSpin.ts'

it('voids the frame that was shot last, also while the page lags several frames behind', async () => {
  const { api, start, pass } = await atTheBench()
  const takeId = await start()
  // As it comes over the wire.
  const asked = async (): Promise<TakePage> => JSON.parse(JSON.stringify(await api.takes.one({ takeId })))
  const behind = await asked()
  const kept = []
  for (let frame = 1; frame <= 3; frame += 1) {
    pass(6000)
    kept.push(await api.takes.press({ takeId, pressKey: `press-key-${frame}` }))
  }
  expect(turningState(behind, kept)).toMatchObject({ lastGood: 3, shot: 3, nextMark: 3, missing: [] })
  expect(turningState(await asked(), kept)).toMatchObject({ lastGood: 3, shot: 3, nextMark: 3, missing: [] })
  await api.takes.voidFrame({ takeId, frame: 3 })
  expect(turningState(await asked(), kept)).toMatchObject({
    lastGood: 2,
    voids: 1,
    nextMark: 2,
    framesPerTurn: turnFrames,
  })
})
