import { expect, it } from 'vitest'
import { turningState } from '../../renderer/takes/turningState.ts'
import { atTheBench, turnFrames } from './aSpin.ts'

it('voids the frame that was shot last, also while the page lags several frames behind', async () => {
  const { api, start, pass } = await atTheBench()
  const takeId = await start()
  const behind = await api.takes.one({ takeId })
  const kept = []
  for (let frame = 1; frame <= 3; frame += 1) {
    pass(6000)
    kept.push(await api.takes.press({ takeId, pressKey: `press-key-${frame}` }))
  }
  expect(turningState(behind, kept)).toMatchObject({ lastGood: 3, shot: 3, nextMark: 3, missing: [] })
  const caughtUp = await api.takes.one({ takeId })
  expect(turningState(caughtUp, kept)).toMatchObject({ lastGood: 3, shot: 3, nextMark: 3, missing: [] })
  await api.takes.voidFrame({ takeId, frame: 3 })
  expect(turningState(await api.takes.one({ takeId }), kept)).toMatchObject({
    lastGood: 2,
    voids: 1,
    nextMark: 2,
    framesPerTurn: turnFrames,
  })
})
