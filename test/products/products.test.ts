import fs from 'node:fs'
import { describe, expect, it, vi } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import type { Db } from '../../db/open.ts'
import { aClient, aProduct } from '../builders.ts'
import { jobDraft } from '../jobs/aJob.ts'
import { aStudio, type TestStudio } from '../studio.ts'

async function withClient() {
  const studio = aStudio()
  const { clientId } = await studio.api.clients.add(aClient())
  return { ...studio, clientId }
}

describe('products', () => {
  it('come back as they were typed, to a thousandth of a millimetre', async () => {
    const { api, db, clientId } = await withClient()
    const typed = aProduct({ widthMm: 80.125, depthMm: 0.1, heightMm: 1234.567, gtin: '4006381333931' })
    const { productId } = await api.products.add({ clientId, product: typed })
    const { product } = await api.products.one({ productId })
    expect(product).toMatchObject({ ...typed, clientId, archivedAt: null })
    expect(db.prepare('SELECT width_um, depth_um, height_um FROM product').get()).toEqual({
      width_um: 80_125,
      depth_um: 100,
      height_um: 1_234_567,
    })
  })

  it('say their swept width: the diagonal of a box, the diameter of round goods, the reading where measured', async () => {
    const { api, clientId } = await withClient()
    const swept = async (of: Parameters<typeof aProduct>[0]) => {
      const { productId } = await api.products.add({ clientId, product: aProduct(of) })
      return (await api.products.one({ productId })).product.sweptWidthMm
    }
    // Pythagoras: 30-40-50.
    expect(await swept({ code: 'a', widthMm: 300, depthMm: 400 })).toBe(500)
    expect(await swept({ code: 'b', plan: 'round', widthMm: 90, depthMm: 90 })).toBe(90)
    expect(await swept({ code: 'c', plan: 'measured', sweptMm: 412.5 })).toBe(412.5)
    expect(await swept({ code: 'd', widthMm: null })).toBeNull()
  })

  it('fall into a size class by the studio’s limits, and say where a size is missing', async () => {
    const { api, clientId } = await withClient()
    const sized = async (of: Parameters<typeof aProduct>[0]) => {
      const { productId } = await api.products.add({ clientId, product: aProduct(of) })
      const { sizeClass, sizeKnown } = (await api.products.one({ productId })).product
      return [sizeClass, sizeKnown]
    }
    expect(await sized({ code: 'a', widthMm: 30, depthMm: 40, heightMm: 20 })).toEqual(['small', true])
    expect(await sized({ code: 'b', widthMm: 30, depthMm: 40, heightMm: 2400 })).toEqual(['large', true])
    expect(await sized({ code: 'c', widthMm: null, depthMm: null, heightMm: null })).toEqual([
      'medium',
      false,
    ])
  })

  it('refuse a second product of the same code for one client, and allow it for another', async () => {
    const { api, clientId } = await withClient()
    const other = await api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    await api.products.add({ clientId, product: aProduct() })
    await expect(api.products.add({ clientId, product: aProduct() })).rejects.toMatchObject({
      cause: { code: 'product-code-taken', field: 'product.code' },
    })
    await api.products.add({ clientId: other.clientId, product: aProduct() })
    const second = await api.products.add({ clientId, product: aProduct({ code: 'K-105' }) })
    await expect(
      api.products.change({ productId: second.productId, product: aProduct({ code: 'K-104' }) }),
    ).rejects.toMatchObject({ cause: { code: 'product-code-taken' } })
    await api.products.change({
      productId: second.productId,
      product: aProduct({ code: 'K-105', name: 'Pot' }),
    })
  })

  it('refuse a family of another client', async () => {
    const { api, clientId } = await withClient()
    const other = await api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    const { familyId } = await api.families.add({
      clientId: other.clientId,
      family: { name: 'Fjord', note: null },
    })
    await expect(api.products.add({ clientId, product: aProduct({ familyId }) })).rejects.toMatchObject({
      cause: { code: 'family-of-another-client' },
    })
  })

  it.each([
    ['a measured plan without its reading', { plan: 'measured', sweptMm: null } as const, 'swept width'],
    ['a size finer than a thousandth of a millimetre', { widthMm: 80.1234 }, 'thousandth'],
    ['a size of nothing', { widthMm: 0 }, 'The width is under 0.1 mm'],
    ['a size below nothing', { heightMm: -240 }, 'The height is under 0.1 mm'],
    ['NaN for a size', { depthMm: Number.NaN }, 'The depth is not a number'],
    ['a size in words', { widthMm: 'wide' as never }, 'The width is not a number'],
    ['a size beyond ten metres', { widthMm: 10_001 }, '10 m'],
    ['a mass that is no whole number of grams', { massG: 1.5 }, 'whole number'],
    ['an article number with a wrong check digit', { gtin: '4006381333932' }, 'should be 1'],
    ['a code of blanks', { code: '  ' }, 'empty'],
  ])('refuse %s with a sentence', async (_, of, words) => {
    const { api, clientId } = await withClient()
    await expect(api.products.add({ clientId, product: aProduct(of) })).rejects.toThrow(words)
    expect((await api.products.list({})).total).toBe(0)
  })

  it('leave the list when taken off it, and come back', async () => {
    const { api, clientId } = await withClient()
    const { productId } = await api.products.add({ clientId, product: aProduct() })
    await api.products.archive({ productId, archived: true })
    expect((await api.products.list({})).lines).toEqual([])
    expect((await api.products.list({ archived: true })).lines.map(({ id }) => id)).toEqual([productId])
    await api.products.archive({ productId, archived: false })
    expect((await api.products.list({})).total).toBe(1)
  })

  it('show the spins they are in, each at its station, and count them in the list', async () => {
    const { api, clientId } = await withClient()
    const { productId } = await api.products.add({ clientId, product: aProduct() })
    const lid = await api.products.add({ clientId, product: aProduct({ code: 'K-104-LID' }) })
    const job = jobDraft({ title: 'Autumn kettles', dueDay: '2026-03-20' })
    const spins = [
      { productIds: [productId] },
      { productIds: [productId, lid.productId], name: 'Kettle, open' },
    ]
    const { jobId } = await api.jobs.add({ clientId, job, spins })
    expect((await api.products.one({ productId })).spins).toMatchObject([
      { jobId, jobTitle: 'Autumn kettles', dueDay: '2026-03-20', station: 'samples in', rig: null },
      { jobId, name: 'Kettle, open', cancelled: false },
    ])
    await api.jobs.cancel({ jobId, reason: 'The range was dropped' })
    expect((await api.products.one({ productId })).spins.map(({ cancelled }) => cancelled)).toEqual([
      true,
      true,
    ])
    const { lines } = await api.products.list({})
    expect(lines.map(({ code, spins }) => [code, spins])).toEqual([
      ['K-104', 2],
      ['K-104-LID', 1],
    ])
  })

  it('change the hours of the open jobs that spin them, when their size, finish or family changes', async () => {
    const { api, clientId } = await withClient()
    const small = aProduct({ widthMm: 60, depthMm: 60, heightMm: 60, finish: 'matt' })
    const large = aProduct({ widthMm: 900, depthMm: 900, heightMm: 900, finish: 'mirror' })
    const { productId } = await api.products.add({ clientId, product: small })
    const second = await api.products.add({ clientId, product: { ...small, code: 'K-105' } })
    const spins = [{ productIds: [productId] }, { productIds: [second.productId] }]
    await api.jobs.add({ clientId, job: jobDraft(), spins })
    const hours = async () => (await api.jobs.list({})).lines[0]?.benchMsLeft ?? 0
    const asSmall = await hours()
    await api.products.change({ productId, product: large })
    const asLarge = await hours()
    expect(asLarge).toBeGreaterThan(asSmall)
    const text = 'code,width,depth,height,finish\nK-104,60,60,60,matt'
    const { columns, decimalMark } = await api.productImport.read({ text })
    const list = { clientId, text, columns, decimalMark, sizeUnit: 'mm', massUnit: 'g' } as const
    await api.productImport.take({ ...list, fileName: 'list.csv' })
    expect(await hours()).toBe(asSmall)
    const { familyId } = await api.families.add({ clientId, family: { name: 'Fjord', note: null } })
    await api.families.place({ familyId, productIds: [productId, second.productId] })
    expect(await hours()).toBeLessThan(asSmall)
    await api.families.breakUp({ familyId })
    expect(await hours()).toBe(asSmall)
  })

  it('keep in the log what they were before a change', async () => {
    const { api, db, clientId } = await withClient()
    const { productId } = await api.products.add({ clientId, product: aProduct() })
    await api.products.change({ productId, product: aProduct({ name: 'Kettle, 2 l' }) })
    const detail = db
      .prepare(`SELECT detail FROM event WHERE what = 'product changed'`)
      .pluck()
      .get() as string
    expect(JSON.parse(detail)).toMatchObject({ before: { name: 'Kettle' }, after: { name: 'Kettle, 2 l' } })
  })
})

describe('the list of products', () => {
  it('finds part of a code or name, whatever its case, and the beginning of a code from one letter', async () => {
    const { api, clientId } = await withClient()
    const products = [
      ['K-104', 'Kettle'],
      ['K-105', 'Kettle "Fjord"'],
      ['P-200', 'Pan'],
    ]
    for (const [code, name] of products) {
      await api.products.add({ clientId, product: aProduct({ code, name }) })
    }
    const found = async (text: string) => (await api.products.list({ text })).lines.map(({ code }) => code)
    expect(await found('kett')).toEqual(['K-104', 'K-105'])
    expect(await found('-10')).toEqual(['K-104', 'K-105'])
    expect(await found('"fjord"')).toEqual(['K-105'])
    expect(await found('p')).toEqual(['P-200'])
    expect(await found('k-')).toEqual(['K-104', 'K-105'])
    expect(await found('  ')).toEqual(['K-104', 'K-105', 'P-200'])
    expect(await found('lamp')).toEqual([])
  })

  it('sorts and pages in the studio', async () => {
    const { api, clientId } = await withClient()
    for (const [code, heightMm] of [
      ['b', 300],
      ['A', 900],
      ['c', 400],
    ] as const) {
      await api.products.add({ clientId, product: aProduct({ code, heightMm }) })
    }
    const codes = async (ask: Parameters<typeof api.products.list>[0]) =>
      (await api.products.list(ask)).lines.map(({ code }) => code)
    expect(await codes({ order: 'code' })).toEqual(['A', 'b', 'c'])
    expect(await codes({ order: 'code', descending: true })).toEqual(['c', 'b', 'A'])
    expect(await codes({ order: 'size', descending: true })).toEqual(['A', 'c', 'b'])
    expect(await codes({ order: 'newest', descending: true })).toEqual(['c', 'A', 'b'])
    const second = await api.products.list({ order: 'code', page: { offset: 1, limit: 1 } })
    expect([second.lines.map(({ code }) => code), second.total]).toEqual([['b'], 3])
  })

  it('is read along an index by client, by code and by name, with no scan and no sort', async () => {
    const { api, db, clientId } = await withClient()
    for (let n = 0; n < 40; n += 1) {
      await api.products.add({ clientId, product: aProduct({ code: `K-${n}` }) })
    }
    db.exec('ANALYZE')
    expect(await planOf(db, () => api.products.list({ clientId }))).toContain('INDEX product_by_client')
    expect(await planOf(db, () => api.products.list({ text: 'k' }))).toContain('INDEX product_by_code')
    for (const order of ['code', 'name'] as const) {
      const plan = await planOf(db, () => api.products.list({ order }))
      expect(plan).toContain(`SCAN product USING INDEX product_by_${order}`)
      expect(plan).not.toContain('TEMP B-TREE FOR ORDER BY')
    }
  })
})

/** How SQLite reads the statement with a LIMIT that the call runs. */
async function planOf(db: Db, ask: () => Promise<unknown>): Promise<string> {
  const prepare = vi.spyOn(db, 'prepare')
  await ask()
  const sql = prepare.mock.calls.map(([text]) => text).find((text) => text.includes('LIMIT'))
  prepare.mockRestore()
  const steps = db.prepare<unknown[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`)
  return steps
    .all(...Array.from(sql?.matchAll(/\?/gu) ?? [], () => 1))
    .map(({ detail }) => detail)
    .join('; ')
}

describe('the picture of a product', () => {
  // The smallest PNG there is: its signature and nothing the studio has to understand.
  const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3])

  async function withProduct(): Promise<TestStudio & { productId: number }> {
    const studio = await withClient()
    const { productId } = await studio.api.products.add({ clientId: studio.clientId, product: aProduct() })
    return { ...studio, productId }
  }

  it('is kept as a file of the studio and shown with the product', async () => {
    const { api, folder, productId } = await withProduct()
    await api.products.setPicture({ productId, name: 'kettle.png', base64: png.toString('base64') })
    const { picture } = await api.products.one({ productId })
    expect(picture).toMatchObject({ name: 'kettle.png', bytes: png.length })
    expect(fs.readFileSync(attachmentPath(folder, picture?.sha256 ?? '')).equals(png)).toBe(true)
    await api.products.removePicture({ productId })
    expect((await api.products.one({ productId })).picture).toBeNull()
  })

  it('is refused when its bytes are no picture, whatever its name says', async () => {
    const { api, folder, productId } = await withProduct()
    const base64 = Buffer.from('<svg onload="alert(1)"/>').toString('base64')
    await expect(api.products.setPicture({ productId, name: 'kettle.png', base64 })).rejects.toMatchObject({
      cause: { code: 'no-picture' },
    })
    expect(fs.readdirSync(`${folder}/files`)).toEqual([])
  })

  it('is refused above 8 MB', async () => {
    const { api, productId } = await withProduct()
    const base64 = Buffer.alloc(8_000_004).toString('base64')
    await expect(api.products.setPicture({ productId, name: 'big.png', base64 })).rejects.toThrow('8 MB')
  })
})
