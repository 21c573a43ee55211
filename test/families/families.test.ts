import { describe, expect, it } from 'vitest'
import { aClient, aProduct } from '../builders.ts'
import { aStudio } from '../studio.ts'

async function withFamily() {
  const studio = aStudio()
  const { api } = studio
  const { clientId } = await api.clients.add(aClient())
  const { familyId } = await api.families.add({ clientId, family: { name: 'Fjord', note: null } })
  const blue = await api.products.add({ clientId, product: aProduct({ code: 'K-1', familyId }) })
  const red = await api.products.add({ clientId, product: aProduct({ code: 'K-2' }) })
  return { ...studio, clientId, familyId, blueId: blue.productId, redId: red.productId }
}

describe('families', () => {
  it('gather the variants of one shape and count them', async () => {
    const { api, clientId, familyId, redId } = await withFamily()
    expect((await api.families.list({ clientId })).lines).toMatchObject([{ name: 'Fjord', products: 1 }])
    await api.families.place({ familyId, productIds: [redId] })
    expect((await api.families.one({ familyId })).products).toBe(2)
    expect((await api.products.list({ familyId })).lines.map(({ code }) => code)).toEqual(['K-1', 'K-2'])
    await api.families.place({ familyId: null, productIds: [redId] })
    expect((await api.families.one({ familyId })).products).toBe(1)
  })

  it('keep to one client: its names are its own, and no product of another comes in', async () => {
    const { api, clientId, familyId } = await withFamily()
    const other = await api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    await api.families.add({ clientId: other.clientId, family: { name: 'Fjord', note: null } })
    await expect(api.families.add({ clientId, family: { name: 'Fjord', note: null } })).rejects.toMatchObject(
      {
        cause: { code: 'family-name-taken', field: 'family.name' },
      },
    )
    const strange = await api.products.add({ clientId: other.clientId, product: aProduct() })
    await expect(api.families.place({ familyId, productIds: [strange.productId] })).rejects.toMatchObject({
      cause: { code: 'family-of-another-client' },
    })
  })

  it('can be broken up, and the products stay', async () => {
    const { api, clientId, familyId, blueId } = await withFamily()
    await api.families.breakUp({ familyId })
    expect((await api.families.list({ clientId })).total).toBe(0)
    expect((await api.products.one({ productId: blueId })).family).toBeNull()
    await expect(api.families.one({ familyId })).rejects.toMatchObject({ cause: { code: 'no-family' } })
  })

  it('are not crossed even by a statement that goes past the calls', async () => {
    const { api, db, familyId } = await withFamily()
    const other = await api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    const strange = await api.products.add({ clientId: other.clientId, product: aProduct() })
    expect(() =>
      db.prepare('UPDATE product SET family_id = ? WHERE id = ?').run(familyId, strange.productId),
    ).toThrow('the family belongs to another client')
  })
})
