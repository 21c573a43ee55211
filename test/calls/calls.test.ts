import { describe, expect, it } from 'vitest'
import { callAnswer } from '../../main/trade/callQuote.ts'
import { fromTakes } from '../../main/trade/paceFrom.ts'
import { aClient } from '../builders.ts'
import { priceList } from '../quotes/aQuote.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { atTheBench } from '../takes/aSpin.ts'

async function aPricedStudio() {
  const studio = aStudio()
  studio.db.exec('UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4500')
  await studio.api.prices.add(priceList)
  return studio
}

const ask = { spins: 4, sizeClass: 'small', finishClassId: null, kinds: ['frame set'] } as const
const kept = {
  ask: { ...ask, kinds: [...ask.kinds] },
  title: '4 small products',
  told: 'Between 128 and 174 euros.',
}
const daily = { callBackDay: '2026-03-06', phone: null }

async function answered(studio: TestStudio, of: Partial<Parameters<typeof callAnswer>[1]> = {}) {
  const { basis, usual } = await studio.api.calls.basis({})
  return callAnswer(basis, { ...ask, ...of }, usual)
}

describe('a call about a job', () => {
  it('is answered from one family of products to each a first one, by the studio’s list', async () => {
    const { low, high } = await answered(await aPricedStudio())
    // By hand from the list: first 45.05, following 30.05; four spins reach the break of 3.3333 %.
    // 45.05 + 3 × 30.05 = 135.20 less 4.51 (4.50662); 4 × 45.05 = 180.20 less 6.01 (6.00661).
    expect([low.netMinor, high.netMinor]).toEqual([13_520 - 451, 18_020 - 601])
    // 130.69 ÷ 4 = 32.67 and 174.19 ÷ 4 = 43.55, rounded.
    expect([low.perSpinMinor, high.perSpinMinor]).toEqual([3267, 4355])
  })

  it('tells the floor, which the price must cover, and never a low over a high', async () => {
    const { low, high } = await answered(await aPricedStudio(), { sizeClass: 'large', spins: 40 })
    expect(low.floorMinor).toBeGreaterThan(0)
    expect(high.floorMinor).toBeGreaterThanOrEqual(low.floorMinor ?? 0)
    expect(high.netMinor).toBeGreaterThanOrEqual(low.netMinor)
    expect(high.benchP80Ms).toBeGreaterThan(high.spinP80Ms)
  })

  it('works a price out from the time where the studio has no list, and says so', async () => {
    const studio = aStudio()
    studio.db.exec('UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4500')
    const { low, high, notices } = await answered(studio)
    expect(low.netMinor).toBeGreaterThanOrEqual(low.floorMinor ?? Number.POSITIVE_INFINITY)
    expect(high.netMinor).toBeGreaterThanOrEqual(high.floorMinor ?? Number.POSITIVE_INFINITY)
    expect(notices.join(' ')).toContain('no price list in EUR')
  })

  it('comes with what its times rest on, so that the page can say it', async () => {
    const bench = await atTheBench()
    expect((await bench.api.calls.basis({})).basis.paceFrom).toMatchObject({ takes: 0, lastDay: null })
    await bench.keep()
    const { basis } = await bench.api.calls.basis({})
    expect(fromTakes(basis.paceFrom, String)).toBe('from 1 take, on 2026-03-02')
  })

  it('takes a known client’s own list and currency', async () => {
    const studio = await aPricedStudio()
    const { priceListId } = await studio.api.prices.add({
      ...priceList,
      name: 'Halvorsen 2026',
      currency: 'CHF',
      isStandard: false,
      prices: priceList.prices.map((price) => ({ ...price, firstMinor: 9900, followingMinor: 9900 })),
      breaks: [],
    })
    const { clientId } = await studio.api.clients.add(
      aClient({ currency: 'CHF', priceListId: priceListId as never }),
    )
    const { basis, usual } = await studio.api.calls.basis({ clientId })
    const { low } = callAnswer(basis, ask, usual)
    expect([basis.currency, low.netMinor, low.floorMinor]).toEqual(['CHF', 4 * 9900, null])
  })

  it('is refused without a number of products or anything to deliver, with a sentence', async () => {
    const studio = await aPricedStudio()
    for (const spins of [0, -3, 2.5, Number.NaN, 2001]) {
      await expect(answered(studio, { spins })).rejects.toThrow('no number of products')
    }
    await expect(answered(studio, { kinds: [] })).rejects.toThrow('Choose a loop')
  })
})

describe('keeping a call', () => {
  it('makes the new client and an enquiry with what was asked, told and when to call back, in one go', async () => {
    const studio = await aPricedStudio()
    const finish = studio.db
      .prepare('SELECT id FROM finish_class ORDER BY id DESC LIMIT 1')
      .pluck()
      .get() as number
    const { jobId } = await studio.api.calls.keep({
      ...kept,
      ...daily,
      ask: { ...kept.ask, finishClassId: finish, kinds: ['loop', 'stills'] },
      clientId: null,
      name: 'Brunn Ceramics',
      phone: '0170 000000',
    })
    const { job, standing } = await studio.api.jobs.one({ jobId })
    expect(job).toMatchObject({ title: kept.title, callBackDay: '2026-03-06', note: kept.told })
    expect(standing).toMatchObject({ station: 'enquiry', isOpen: true })
    const brief = await studio.api.jobs.brief({ jobId })
    expect(brief.finishClassId).toBe(finish)
    expect(brief.deliverables.map(({ kind }) => kind)).toEqual(['loop', 'stills'])
    expect((await studio.api.clients.names()).map(({ name }) => name)).toEqual(['Brunn Ceramics'])
  })

  it('takes a known client, and what that client always wants of a deliverable', async () => {
    const studio = await aPricedStudio()
    const { clientId } = await studio.api.clients.add(aClient())
    const { jobId } = await studio.api.calls.keep({ ...kept, ...daily, clientId, name: null })
    expect((await studio.api.jobs.brief({ jobId })).deliverables).toMatchObject([
      { kind: 'frame set', frames: 24, widthPx: 1600 },
    ])
    expect((await studio.api.clients.names()).length).toBe(1)
  })

  it('refuses a call of nobody, an unknown client and a day that is past, and keeps nothing', async () => {
    const studio = await aPricedStudio()
    const keep = (of: Partial<Parameters<typeof studio.api.calls.keep>[0]>) =>
      studio.api.calls.keep({ ...kept, ...daily, clientId: null, name: null, ...of })
    await expect(keep({})).rejects.toThrow('Who called is missing')
    await expect(keep({ clientId: 99 })).rejects.toThrow('not in the studio')
    await studio.api.clients.add(aClient())
    await expect(keep({ name: 'halvorsen lamps' })).rejects.toMatchObject({
      cause: { code: 'client-name-taken', field: 'name' },
    })
    studio.db.exec('DELETE FROM client')
    await expect(keep({ name: 'Brunn', callBackDay: '2026-03-01' })).rejects.toThrow('is past')
    await expect(keep({ name: 'Brunn', ask: { ...kept.ask, spins: 0 } })).rejects.toThrow(
      'at least 1 product',
    )
    expect(
      studio.db.prepare('SELECT (SELECT count(*) FROM job) + (SELECT count(*) FROM client)').pluck().get(),
    ).toBe(0)
  })
})
