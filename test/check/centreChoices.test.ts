import { describe, expect, it } from 'vitest'
import { takeToCheck } from '../../db/checkedTakes.ts'
import type { Id } from '../../db/ids.ts'
import { isOffCentre } from '../../main/trade/check/centre/centreWords.ts'
import { aCheckedBench, writeFrames } from './aCheckedBench.ts'
import { renderTake, turnAngles } from './render.ts'

const patient = { timeout: 15_000, interval: 50 }
const framesPerTurn = 24

async function aMugBeingTurned() {
  const bench = await aCheckedBench(framesPerTurn)
  const shootId = Number(bench.shootIds[0])
  bench.studio.db.prepare(`UPDATE product SET plan = 'round'`).run()
  return {
    ...bench,
    shootId,
    choose: (choice: 'body' | 'least sweep') => bench.api.centreChoices.choose({ shootId, choice }),
    happened: () =>
      bench.studio.db.prepare(`SELECT what FROM event WHERE what LIKE 'centred %' ORDER BY id`).pluck().all(),
    kept: () => bench.studio.db.prepare('SELECT centre_choice FROM shoot WHERE id = ?').pluck().get(shootId),
  }
}

describe('what of a spin is to stand on the axis', () => {
  it('is the body of a round product until a person chooses, for the help and for the take alike', async () => {
    const { api, studio, shootId, stand, choose, start } = await aMugBeingTurned()
    const help = async () => (await api.checkAids.stand({ shootId, row: 1, ...stand })).centre
    expect(await help()).toEqual({ choice: 'body', usual: 'body', plan: 'round' })
    await choose('least sweep')
    expect(await help()).toEqual({ choice: 'least sweep', usual: 'body', plan: 'round' })
    const takeId = (await start()) as Id<'take'>
    expect(takeToCheck(studio.db, takeId)?.take.centreChoice).toBe('least sweep')
  })

  it('is told in the spin’s history once for each change; the usual goes with the product again', async () => {
    const { api, studio, shootId, choose, happened, kept } = await aMugBeingTurned()
    await choose('body')
    await choose('least sweep')
    await choose('least sweep')
    expect([happened(), kept()]).toEqual([['centred for least sweep'], 'least sweep'])
    await choose('body')
    expect([happened(), kept()]).toEqual([['centred for least sweep', 'centred on the body'], null])
    studio.db.prepare(`UPDATE product SET plan = 'measured', swept_um = 90000`).run()
    expect(await api.centreChoices.ofSpin({ shootId })).toMatchObject({ choice: 'least sweep' })
    await expect(api.centreChoices.choose({ shootId: 9999, choice: 'body' })).rejects.toMatchObject({
      cause: { code: 'no-spin' },
    })
  })

  it('tells the centre of a take that was read already anew, without its folder', async () => {
    const { api, folder, startByFolder, report, choose, act } = await aMugBeingTurned()
    const takeId = await startByFolder()
    // Its handle lengthens what it sweeps to one side: the middle of that lies some millimetres off the body's.
    const { frames, truth } = renderTake({
      kind: 'mug',
      anglesDeg: turnAngles({ framesPerTurn, frames: framesPerTurn + 2 }),
      widthPx: 160,
      heightPx: 120,
      offsetMm: 0,
    })
    expect(truth.leastSweep.offsetMm).toBeGreaterThan(5)
    await writeFrames(folder, frames)
    const centre = async () => (await report(takeId)).report?.centre
    await expect.poll(async () => (await report(takeId)).report?.framesRead, patient).toBe(frames.length)
    await act(takeId, { kind: 'end' })
    await expect.poll(async () => (await api.takeCheck.status({ takeId })).state, patient).toBe('done')
    const body = await centre()
    expect(body).toMatchObject({ choice: 'body', measuredOn: expect.stringMatching(/round body/) })
    await choose('least sweep')
    await expect.poll(async () => (await centre())?.choice, patient).toBe('least sweep')
    const swept = await centre()
    expect(swept?.measuredOn).toMatch(/whole outline/)
    expect(swept?.offset?.value).toBeGreaterThan(5 * (body?.offset?.value ?? 0))
    await choose('body')
    await expect.poll(centre, patient).toEqual(body)
    expect((await report(takeId)).report?.findings.filter(({ key }) => isOffCentre(key))).toEqual([])
  })
})
