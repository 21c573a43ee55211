import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import {
  canPropose,
  type ReshootCause,
  type ReshootFacts,
  reshootStanding,
} from '../../main/trade/reshootBilling.ts'
import { anOrder } from '../invoices/order.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })
const causes: readonly ReshootCause[] = ['ours', "client's wish", 'sample', 'carrier']

/** Reshoots as the bench writes them, put in row by row: how one is called for has tests of its own. */
function aReshoot({ db }: TestStudio, shootId: number, cause: ReshootCause, askedAt: string): Id<'reshoot'> {
  return db
    .prepare('INSERT INTO reshoot (shoot_id, cause, reason, asked_at) VALUES (?, ?, ?, ?) RETURNING id')
    .pluck()
    .get(shootId, cause, 'Other pose', askedAt) as Id<'reshoot'>
}

const spins = { kind: 'spins' as const, quantityMilli: 2000, priceMinor: 5200, netMinor: 10_400, spins: 2 }

describe('whether a reshoot is billed', () => {
  it('is never, where it was ours, and within the rounds included, whatever else is true', () => {
    // A rule of this project after common practice; no published source.
    const facts = fc.record<ReshootFacts>({
      cause: fc.constantFrom(...causes),
      round: fc.integer({ min: 0, max: 9 }),
      roundsIncluded: fc.integer({ min: 0, max: 9 }),
      extra: fc.constantFrom(null, 'proposed' as const, 'agreed' as const, 'declined' as const),
      letGoReason: fc.constantFrom(null, 'A favour'),
    })
    fc.assert(
      fc.property(facts, (of) => {
        const isFree = of.cause === 'ours' || (of.cause === "client's wish" && of.round <= of.roundsIncluded)
        expect(['ours', 'included'].includes(reshootStanding(of))).toBe(isFree)
        if (isFree || of.letGoReason !== null) expect(canPropose(reshootStanding(of))).toBe(false)
      }),
    )
  })

  it('counts the rounds of each spin by itself, and lists every reshoot with its reason', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const [first = 0, second = 0] = shootIds
    aReshoot(studio, first, "client's wish", '2026-03-03T08:00:00.000Z')
    aReshoot(studio, first, 'ours', '2026-03-04T08:00:00.000Z')
    aReshoot(studio, first, "client's wish", '2026-03-05T08:00:00.000Z')
    aReshoot(studio, second, "client's wish", '2026-03-06T08:00:00.000Z')
    aReshoot(studio, second, 'sample', '2026-03-07T08:00:00.000Z')
    const { reshoots } = await studio.api.extras.ofJob({ jobId })
    expect(reshoots.map(({ standing }) => standing)).toEqual(['open', 'included', 'open', 'ours', 'included'])
    expect(reshoots[2]?.why).toBe(
      'The client wished for it. Round 2 of changes; 1 included. It can be billed by an extra.',
    )
  })

  it('is proposed at the spin’s price by a person, and proposed anew where that was thrown away or declined', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      spins,
      { kind: 'spins', quantityMilli: 1000, priceMinor: 3100, netMinor: 3100, spins: 1 },
    ])
    const reshootId = aReshoot(studio, shootIds[0] ?? 0, 'carrier', '2026-03-03T08:00:00.000Z')
    const extras = async () => (await api.extras.ofJob({ jobId })).extras
    const own = await api.extras.proposeReshoot({ reshootId, price: 'own' })
    expect(await extras()).toMatchObject([{ netMinor: 5200, state: 'proposed', why: 'Other pose' }])
    await expect(api.extras.proposeReshoot({ reshootId, price: 'own' })).rejects.toMatchObject(
      refused('reshoot-not-billable'),
    )
    await api.extras.discard(own)
    const lower = await api.extras.proposeReshoot({ reshootId, price: 'following' })
    expect(await extras()).toMatchObject([{ netMinor: 3100 }])
    await api.extras.decide({
      ...lower,
      state: 'declined',
      day: '2026-03-02',
      contactId: null,
      how: 'by e-mail',
    })
    await api.extras.letReshootGo({ reshootId, reason: 'They were kind about it' })
    expect((await api.extras.ofJob({ jobId })).reshoots[0]).toMatchObject({ standing: 'let go' })
    expect(db.prepare('SELECT count(*) FROM invoice').pluck().get()).toBe(0)
  })

  it('refuses to propose what was our mistake', async () => {
    const studio = aStudio()
    const { shootIds } = await anOrder(studio, [spins])
    const reshootId = aReshoot(studio, shootIds[0] ?? 0, 'ours', '2026-03-03T08:00:00.000Z')
    await expect(studio.api.extras.proposeReshoot({ reshootId, price: 'own' })).rejects.toMatchObject(
      refused('reshoot-not-billable'),
    )
  })
})

describe('the hours of unpaid reshoots', () => {
  it('are those of the takes after the call, by the studio’s year and the cause, until the next call', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins])
    const [first = 0, second = 0] = shootIds
    const take = (shootId: number, startedAt: string, endedAt: string) => {
      // A row alone, without its rig and bench: what counts here is when it was turned.
      db.pragma('foreign_keys = OFF')
      db.prepare(
        `INSERT INTO take (shoot_id, number, rig_revision_id, settings_id, bench_id, person_id, device_id,
           frames_per_turn, overlap_frames, started_at, ended_at, frames_shot)
         SELECT ?, count(*) + 1, 1, 1, 1, 1, 1, 72, 0, ?, ?, 72 FROM take`,
      ).run(shootId, startedAt, endedAt)
      db.pragma('foreign_keys = ON')
    }
    take(first, '2025-12-01T08:00:00.000Z', '2025-12-01T09:00:00.000Z')
    aReshoot(studio, first, 'ours', '2025-12-02T08:00:00.000Z')
    take(first, '2025-12-03T08:00:00.000Z', '2025-12-03T08:30:00.000Z')
    // 23:30 UTC on New Year's Eve is the new year in Berlin.
    take(first, '2025-12-31T23:30:00.000Z', '2026-01-01T00:30:00.000Z')
    const paid = aReshoot(studio, second, 'sample', '2026-01-05T08:00:00.000Z')
    take(second, '2026-01-06T08:00:00.000Z', '2026-01-06T10:00:00.000Z')
    expect(await api.extras.unpaidReshoots()).toEqual([
      { year: 2026, cause: 'sample', reshoots: 1, benchMs: 7_200_000 },
      { year: 2026, cause: 'ours', reshoots: 1, benchMs: 3_600_000 },
      { year: 2025, cause: 'ours', reshoots: 1, benchMs: 1_800_000 },
    ])
    const { extraId } = await api.extras.proposeReshoot({ reshootId: paid, price: 'own' })
    await api.extras.decide({ extraId, state: 'agreed', day: '2026-03-02', contactId: null, how: 'signed' })
    expect((await api.extras.unpaidReshoots()).map(({ cause }) => cause)).toEqual(['ours', 'ours'])
    expect((await api.extras.ofJob({ jobId })).reshoots[0]?.standing).toBe('agreed')
  })
})
