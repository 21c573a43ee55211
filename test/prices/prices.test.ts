import { describe, expect, it } from 'vitest'
import { priceListFor } from '../../db/prices.ts'
import type { Asks } from '../../main/api/types.ts'
import { aClient } from '../builders.ts'
import { aStudio } from '../studio.ts'

type NewPriceList = Asks['prices']['add']

const aList = (of: Partial<NewPriceList> = {}): NewPriceList => ({
  name: 'Standard 2026',
  currency: 'EUR',
  validFrom: '2026-01-01',
  validTo: null,
  isStandard: true,
  prices: [
    {
      sizeClass: 'medium',
      finishClassId: null,
      kind: 'loop',
      rows: 1,
      firstMinor: 12_000,
      followingMinor: 9_000,
    },
  ],
  breaks: [{ fromSpins: 20, discountPpm: 50_000 }],
  ...of,
})

describe('price lists', () => {
  it('keep prices and breaks, and change as a whole', async () => {
    const { api } = aStudio()
    const { priceListId } = await api.prices.add(aList())
    await api.prices.change({ priceListId, priceList: aList({ breaks: [] }) })
    expect(await api.prices.one({ priceListId })).toEqual({ id: priceListId, ...aList({ breaks: [] }) })
  })

  it('refuse two prices for the same case', async () => {
    const { api } = aStudio()
    const [price] = aList().prices
    if (!price) throw new Error('The list under test has a price.')
    await expect(api.prices.add(aList({ prices: [price, price] }))).rejects.toMatchObject({
      cause: { issues: [{ path: ['prices'] }] },
    })
  })

  it('refuse two standard lists of one currency that begin on one day', async () => {
    const { api } = aStudio()
    await api.prices.add(aList())
    await expect(api.prices.add(aList({ name: 'Another' }))).rejects.toMatchObject({
      cause: { code: 'two-standard-lists', field: 'validFrom' },
    })
  })

  it('choose the client’s own list, and the standard one, with a word about it, once it has ended', async () => {
    const { api, db } = aStudio()
    const own = await api.prices.add(aList({ name: 'Halvorsen', isStandard: false, validTo: '2026-06-30' }))
    const standard = await api.prices.add(aList())
    const { clientId } = await api.clients.add(aClient({ priceListId: own.priceListId }))
    expect(priceListFor(db, clientId as never, 'EUR', '2026-06-30')).toMatchObject({
      list: { id: own.priceListId },
      notice: undefined,
    })
    const later = priceListFor(db, clientId as never, 'EUR', '2026-07-01')
    expect(later.list?.id).toBe(standard.priceListId)
    expect(later.notice).toContain('to 2026-06-30 only')
  })

  it('take next year’s standard list on its first day and not before', async () => {
    const { api, db } = aStudio()
    const now = await api.prices.add(aList())
    const next = await api.prices.add(aList({ name: 'Standard 2027', validFrom: '2027-01-01' }))
    const { clientId } = await api.clients.add(aClient())
    const listOn = (day: string) => priceListFor(db, clientId as never, 'EUR', day).list?.id
    expect(listOn('2025-12-31')).toBeUndefined()
    expect(listOn('2026-12-31')).toBe(now.priceListId)
    expect(listOn('2027-01-01')).toBe(next.priceListId)
  })
})
