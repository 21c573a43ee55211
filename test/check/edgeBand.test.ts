import { describe, expect, it } from 'vitest'
import { aCheckedBench, writeFrames } from './aCheckedBench.ts'
import { renderTake, turnAngles } from './render.ts'

const patient = { timeout: 15_000, interval: 50 }
const framesPerTurn = 60
/** Drawn along the near edge of the platter, as a person would. */
const band = { left: 0.03, top: 0.69, right: 0.97, bottom: 0.82 }

/** A can that looks alike all round, on a platter with a mark on its edge; a mark of the turn is passed over. */
function aPlainCan(frames: number, startDeg = 0) {
  return renderTake({
    kind: 'can',
    texture: 0,
    edgeMark: true,
    anglesDeg: turnAngles({ framesPerTurn, frames, missedAt: [5] }).map((angle) => angle + startDeg),
    widthPx: 160,
    heightPx: 120,
    noiseCodes: 1,
    camera: { fieldWidthMm: 400 },
  }).frames
}

describe('the band of the mark on the platter’s edge', () => {
  it('closes a plain can whose frames were read before it was drawn, and no more once it is taken away', async () => {
    const bench = await aCheckedBench(framesPerTurn)
    const takeId = await bench.startByFolder()
    await writeFrames(bench.folder, aPlainCan(framesPerTurn + 8))
    const read = async () => (await bench.report(takeId)).report?.framesRead
    await expect.poll(read, patient).toBe(framesPerTurn + 8)
    const closing = async () => (await bench.report(takeId)).report?.closing.by
    expect((await bench.report(takeId)).report).toMatchObject({
      closing: { by: 'count' },
      steps: { missed: [] },
    })
    await bench.api.edgeBands.draw({ takeId, band })
    await expect.poll(closing, patient).toBe('edge mark')
    const { report } = await bench.report(takeId)
    expect(report?.closing.framesPerTurn).toBe(framesPerTurn - 1)
    expect(report?.steps).toMatchObject({ state: 'found', missed: [6], doubled: [] })
    const slip = report?.findings.find(({ key }) => key === 'edgeMark:slip @6')
    expect(slip).toMatchObject({ frames: [6], fault: 'missed step' })
    await bench.api.takeCheck.agree({ takeId, key: slip?.key ?? '' })
    expect((await bench.api.takes.one({ takeId })).faults).toMatchObject([{ frame: 6, kind: 'missed step' }])
    await bench.api.edgeBands.takeAway({ takeId })
    await expect.poll(closing, patient).toBe('count')
  })

  it('holds for the next take from the same place, whose frames are looked at for it as they come', async () => {
    const bench = await aCheckedBench(framesPerTurn)
    const takeId = await bench.start()
    await bench.api.edgeBands.draw({ takeId, band })
    await bench.shoot(takeId, 2)
    await bench.act(takeId, { kind: 'end' })
    await bench.api.takes.judge({ takeId, verdict: 'reject', reason: 'A mark was passed over.' })
    const next = await bench.startByFolder()
    expect(await bench.api.edgeBands.ofTake({ takeId: next })).toMatchObject({ band, row: 1 })
    // The mark comes from the left: it passes the nearest place within these frames.
    await writeFrames(bench.folder, aPlainCan(24, -60))
    await expect
      .poll(async () => (await bench.report(next)).report?.steps, patient)
      .toMatchObject({
        missed: [6],
        sentence: expect.stringMatching(/mark on the edge is seen in 2\d of 24/),
      })
  })

  it('is told in the rig’s history once for each change, and refused where it is no band', async () => {
    const bench = await aCheckedBench()
    const takeId = await bench.start()
    const happened = () =>
      bench.studio.db.prepare(`SELECT what FROM event WHERE what LIKE 'band of%' ORDER BY id`).pluck().all()
    await bench.api.edgeBands.draw({ takeId, band })
    await bench.api.edgeBands.draw({ takeId, band })
    expect(happened()).toEqual(['band of the edge mark drawn'])
    await expect(bench.api.edgeBands.draw({ takeId, band: { ...band, bottom: band.top } })).rejects.toThrow(
      /lower side of the band lies below/,
    )
    await expect(bench.api.edgeBands.draw({ takeId, band: { ...band, left: -0.1 } })).rejects.toThrow(
      /within the picture/,
    )
    await bench.api.edgeBands.takeAway({ takeId })
    await bench.api.edgeBands.takeAway({ takeId })
    expect(happened()).toEqual(['band of the edge mark drawn', 'band of the edge mark taken away'])
    expect((await bench.api.edgeBands.ofTake({ takeId })).band).toBeNull()
  })
})
