import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { atTheBench } from '../takes/aSpin.ts'

async function aKeptTake() {
  const bench = await atTheBench()
  const takeId = await bench.keep(0)
  const { takeCheck } = bench.api
  const playing = async () => (await takeCheck.report({ takeId })).playing
  return { bench, takeId, takeCheck, playing }
}

describe('how a take is played where it is looked at', () => {
  it('is as a person chose it, until it is given back to the check', async () => {
    const { takeId, takeCheck, playing } = await aKeptTake()
    expect(await playing()).toEqual({ direction: 'clockwise', chosen: null, picked: null })
    await takeCheck.choosePlaying({ takeId, loop: { inFrame: 2, outFrame: 7 }, isReversed: true })
    expect((await playing()).chosen).toEqual({ loop: { inFrame: 2, outFrame: 7 }, isReversed: true })
    await takeCheck.choosePlaying({ takeId, loop: null, isReversed: true })
    expect((await playing()).chosen).toEqual({ loop: null, isReversed: true })
    await takeCheck.choosePlaying({ takeId, loop: null, isReversed: false })
    expect((await playing()).chosen).toBeNull()
  })

  it('begins where the take was picked to begin, by its exposure, and turns as its brief says', async () => {
    const { bench, takeId, takeCheck, playing } = await aKeptTake()
    bench.studio.db.prepare("UPDATE brief SET direction = 'anticlockwise'").run()
    await bench.api.picks.pick({ takeId, startFrame: 3, reversed: true })
    expect(await playing()).toEqual({
      direction: 'anticlockwise',
      chosen: null,
      picked: { startFrame: 3, isReversed: true },
    })
    // Forward is a choice of its own against a pick that goes backwards.
    await takeCheck.choosePlaying({ takeId, loop: null, isReversed: false })
    expect((await playing()).chosen).toEqual({ loop: null, isReversed: false })
  })

  it('is where a pick of it begins unless another start is said, counted by the marks', async () => {
    const { bench, takeId, takeCheck } = await aKeptTake()
    const chosen = async () => (await bench.api.answers.ofJob({ jobId: bench.jobId })).takes[0]?.chosen
    expect(await chosen()).toBeNull()
    await takeCheck.choosePlaying({ takeId, loop: { inFrame: 3, outFrame: 8 }, isReversed: true })
    expect(await chosen()).toEqual({ startFrame: 3, reversed: true })
    await takeCheck.choosePlaying({ takeId, loop: null, isReversed: true })
    expect(await chosen()).toEqual({ startFrame: 1, reversed: true })
    await takeCheck.choosePlaying({ takeId, loop: null, isReversed: false })
    expect(await chosen()).toBeNull()
  })

  it('is picked from the mark of the loop’s first frame, where frames before it are void', async () => {
    const bench = await atTheBench()
    const takeId = (await bench.start(0)) as Id<'take'>
    await bench.shoot(takeId, 3)
    await bench.act(takeId, { kind: 'void', frame: 2 })
    await bench.act(takeId, { kind: 'void', frame: 3 })
    await bench.shoot(takeId, 7)
    await bench.act(takeId, { kind: 'end' })
    await bench.api.takes.judge({ takeId, verdict: 'keep' })
    // Exposures 1 to 3 stand at marks 1 to 3; the fourth is shot again at the second mark.
    await bench.api.takeCheck.choosePlaying({
      takeId,
      loop: { inFrame: 2, outFrame: 10 },
      isReversed: false,
    })
    const { takes } = await bench.api.answers.ofJob({ jobId: bench.jobId })
    expect(takes[0]?.chosen).toEqual({ startFrame: 2, reversed: false })
    await bench.api.takeCheck.choosePlaying({
      takeId,
      loop: { inFrame: 6, outFrame: 10 },
      isReversed: false,
    })
    expect((await bench.api.answers.ofJob({ jobId: bench.jobId })).takes[0]?.chosen).toEqual({
      startFrame: 4,
      reversed: false,
    })
  })

  it('refuses a loop that ends before it begins, and a take that is not there', async () => {
    const { takeId, takeCheck, playing } = await aKeptTake()
    const backwards = { loop: { inFrame: 7, outFrame: 2 }, isReversed: false }
    await expect(takeCheck.choosePlaying({ takeId, ...backwards })).rejects.toThrow(
      /end at frame 2, before it begins at 7/,
    )
    expect((await playing()).chosen).toBeNull()
    await expect(
      takeCheck.choosePlaying({ takeId: 999 as Id<'take'>, loop: null, isReversed: true }),
    ).rejects.toThrow(/not in the studio/)
  })
})
