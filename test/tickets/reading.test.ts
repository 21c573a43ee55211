import { describe, expect, it } from 'vitest'
import { ticketKey } from '../../db/tickets.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { aJob } from '../jobs/aJob.ts'
import { turn } from '../jobs/aTake.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const codeOf = ({ db }: TestStudio, shootId: number) =>
  ticketText({ studioKey: ticketKey(db), shootId, product: null })

describe('a ticket that is read', () => {
  it('opens its spin with its samples and the take that is running', async () => {
    const studio = aStudio()
    const { jobId, shootIds, sampleIds } = await aJob(studio)
    const [shootId = 0 as never] = shootIds
    expect(await studio.api.tickets.read({ code: codeOf(studio, shootId) })).toMatchObject({
      shootId,
      jobId,
      name: 'Kettle KN-01',
      cancelledReason: null,
      runningTakeId: null,
      samples: [{ id: sampleIds[0], code: 'KN-01', state: 'expected' }],
    })
    turn(studio, shootId, 'running')
    expect((await studio.api.tickets.read({ code: codeOf(studio, shootId) })).runningTakeId).toBeGreaterThan(
      0,
    )
  })

  it('is still right when its spin was cancelled, and says why it was', async () => {
    const studio = aStudio()
    const { shootIds } = await aJob(studio)
    const [shootId = 0 as never] = shootIds
    await studio.api.spins.cancel({ shootIds: [shootId], reason: 'the lid is cracked' })
    expect(await studio.api.tickets.read({ code: codeOf(studio, shootId) })).toMatchObject({
      shootId,
      cancelledReason: 'the lid is cracked',
    })
  })

  it('is refused by a studio that did not print it, and where its spin is not known', async () => {
    const studio = aStudio()
    const other = ticketKey(studio.db) === '0000' ? '0001' : '0000'
    await expect(
      studio.api.tickets.read({ code: ticketText({ studioKey: other, shootId: 1, product: null }) }),
    ).rejects.toThrow('printed by another studio')
    await expect(studio.api.tickets.read({ code: codeOf(studio, 77) })).rejects.toThrow('older backup')
    await expect(studio.api.tickets.read({ code: '4006381333931' })).rejects.toThrow('is no ticket')
  })

  it('shows on a screen the very code that is printed', async () => {
    const studio = aStudio()
    const { shootIds } = await aJob(studio)
    const [shootId = 0 as never] = shootIds
    const slate = await studio.api.tickets.slate({ shootId })
    expect(slate).toMatchObject({ scanText: codeOf(studio, shootId), name: 'Kettle KN-01', codes: ['KN-01'] })
    const { readDrawn } = await import('./drawnCodes.ts')
    const rects = slate.dark.map(({ column, line, length }) => ({
      x: column,
      y: line,
      width: length,
      height: 1,
    }))
    expect(readDrawn(rects)).toBe(slate.scanText)
  })

  it('reads no table from end to end, nor does printing', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds, sampleIds } = await aJob(studio)
    const code = codeOf(studio, shootIds[0] ?? 0)
    const scans = await scansDuring(db, async () => {
      await api.tickets.read({ code })
      await api.prints.tickets({ of: { jobId } })
      await api.prints.slates({ of: { shootIds }, paper: 'A5' })
      await api.prints.labels({ of: { jobId }, paper: 'A4' })
      await api.prints.labels({ of: { sampleIds }, paper: 'A4' })
    })
    expect(scans).toEqual([])
  })
})
