import { describe, expect, it } from 'vitest'
import { aClient, aProduct } from '../builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'

interface WithClient extends TestStudio {
  readonly clientId: number
}

async function withClient(): Promise<WithClient> {
  const studio = aStudio()
  const { clientId } = await studio.api.clients.add(aClient())
  return { ...studio, clientId }
}

/** The list with its columns matched by name, as the page would send it. */
async function readAs(
  { api, clientId }: WithClient,
  text: string,
  units: { sizeUnit?: 'mm' | 'cm' | 'in' } = {},
) {
  const { columns, decimalMark } = await api.productImport.read({ text })
  return { clientId, text, columns, decimalMark, sizeUnit: units.sizeUnit ?? 'mm', massUnit: 'g' } as const
}

async function take(studio: WithClient, text: string, units: { sizeUnit?: 'mm' | 'cm' | 'in' } = {}) {
  const list = await readAs(studio, text, units)
  return studio.api.productImport.take({ ...list, fileName: 'list.csv' })
}

async function productOf({ api }: WithClient, code: string) {
  const { lines } = await api.products.list({ text: code })
  return lines.find((line) => line.code === code)
}

describe('taking a product list', () => {
  it('adds its products, its families and nothing else', async () => {
    const studio = await withClient()
    const counts = await take(
      studio,
      'SKU,Name,Colour,Range,Width (mm),Depth (mm),Height (mm),Weight (kg),Finish,EAN\n' +
        'K-1,Kettle,blue,Fjord,220,160,240.5,1.2,gloss,4006381333931\n' +
        'K-2,Kettle,red,Fjord,220,160,240.5,1.2,gloss,\n',
    )
    expect(counts).toEqual({ added: 2, updated: 0, unchanged: 0 })
    expect(await productOf(studio, 'K-1')).toMatchObject({
      name: 'Kettle',
      variant: 'blue',
      familyName: 'Fjord',
      widthMm: 220,
      depthMm: 160,
      heightMm: 240.5,
      plan: 'box',
      massG: 1200,
      finish: 'gloss',
      gtin: '4006381333931',
    })
    const families = await studio.api.families.list({ clientId: studio.clientId })
    expect(families.lines).toMatchObject([{ name: 'Fjord', products: 2 }])
  })

  it.each([
    ['mm', 127],
    ['cm', 1270],
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    ['in', 3225.8],
  ] as const)('reads sizes without a unit in %s when the person says so', async (sizeUnit, widthMm) => {
    const studio = await withClient()
    await take(studio, 'code,width\nK-1,127', { sizeUnit })
    expect((await productOf(studio, 'K-1'))?.widthMm).toBe(widthMm)
  })

  it('reads a German list: semicolons, decimal commas, units in its headers', async () => {
    const studio = await withClient()
    await take(studio, 'Artikelnr.;Bezeichnung;Breite [cm];Gewicht [kg]\r\nK-1;Kessel, groß;22,5;1,25\r\n')
    expect(await productOf(studio, 'K-1')).toMatchObject({ name: 'Kessel, groß', widthMm: 225, massG: 1250 })
  })

  it('changes a product of a code it knows and never doubles it; blank cells keep what was there', async () => {
    const studio = await withClient()
    const { api, clientId } = studio
    const kept = aProduct({ plan: 'round', finish: 'mirror', startPose: 'spout left', valueMinor: 4900 })
    await api.products.add({ clientId, product: kept })
    const counts = await take(studio, 'code,name,width,mass,finish\nK-104,,221,,')
    expect(counts).toEqual({ added: 0, updated: 1, unchanged: 0 })
    expect((await api.products.list({})).total).toBe(1)
    expect(await productOf(studio, 'K-104')).toMatchObject({ ...kept, widthMm: 221 })
  })

  it('finds nothing to do when the same list is taken twice', async () => {
    const studio = await withClient()
    const text = 'code,name,family,width,diameter\nK-1,Kettle,Fjord,220,\nK-2,Bowl,,,180\n'
    await take(studio, text)
    const events = () => studio.db.prepare('SELECT count(*) FROM event').pluck().get()
    const before = events()
    expect(await take(studio, text)).toEqual({ added: 0, updated: 0, unchanged: 2 })
    expect(events()).toBe(before)
  })

  it('keeps the products of two clients apart, though their codes are the same', async () => {
    const studio = await withClient()
    const other = await studio.api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    await take(studio, 'code,name\nK-1,Kettle')
    await take({ ...studio, clientId: other.clientId }, 'code,name\nK-1,Pan')
    expect((await studio.api.products.list({})).lines.map(({ name }) => name).sort()).toEqual([
      'Kettle',
      'Pan',
    ])
  })

  it('brings a product back that was off the list', async () => {
    const studio = await withClient()
    const { api, clientId } = studio
    const { productId } = await api.products.add({ clientId, product: aProduct() })
    await api.products.archive({ productId, archived: true })
    expect(await take(studio, 'code\nK-104')).toEqual({ added: 0, updated: 1, unchanged: 0 })
    expect((await api.products.one({ productId })).product.archivedAt).toBeNull()
  })

  it('takes the good rows where others are bad', async () => {
    const studio = await withClient()
    expect(await take(studio, 'code,width\nK-1,220\nK-2,wide\nK-3,80')).toMatchObject({ added: 2 })
    expect((await studio.api.products.list({})).lines.map(({ code }) => code)).toEqual(['K-1', 'K-3'])
  })

  it('writes each product into the log with the file it came from', async () => {
    const studio = await withClient()
    await take(studio, 'code,name\nK-1,Kettle')
    const row = studio.db.prepare(`SELECT what, detail FROM event WHERE subject = 'product'`).get()
    expect(row).toMatchObject({ what: 'product added from a list' })
    expect(JSON.parse((row as { detail: string }).detail)).toMatchObject({
      fileName: 'list.csv',
      code: 'K-1',
    })
  })

  it('keeps nothing of a list when one row cannot be written', async () => {
    const studio = await withClient()
    studio.db.exec(`CREATE TRIGGER full BEFORE INSERT ON product WHEN NEW.code = 'K-3'
      BEGIN SELECT raise(ABORT, 'disk full'); END`)
    await expect(take(studio, 'code,family\nK-1,Fjord\nK-2,Fjord\nK-3,Fjord')).rejects.toThrow()
    expect((await studio.api.products.list({})).total).toBe(0)
    expect((await studio.api.families.list({ clientId: studio.clientId })).total).toBe(0)
  })
})

describe('looking at a product list before it is taken', () => {
  it('says what would happen and writes nothing', async () => {
    const studio = await withClient()
    await take(studio, 'code,name\nK-1,Kettle\nK-2,Pan')
    const text = 'code,name,family,width\nK-1,Kettle,,\nK-2,Pot,,\nK-3,Bowl,Fjord,80\n,Lid,,\nK-5,Jug,,wide\n'
    const preview = await studio.api.productImport.preview(await readAs(studio, text))
    expect(preview).toMatchObject({
      rows: 5,
      added: 1,
      updated: 1,
      unchanged: 1,
      badRows: 2,
      newFamilies: ['Fjord'],
      bad: [
        { line: 5, column: 'code' },
        { line: 6, code: 'K-5', column: 'width' },
      ],
    })
    expect(preview.first.map(({ line, does, code }) => [line, does, code])).toEqual([
      [2, 'unchanged', 'K-1'],
      [3, 'updated', 'K-2'],
      [4, 'added', 'K-3'],
    ])
    expect((await studio.api.products.list({})).total).toBe(2)
  })

  it('offers what each column is likely to be, with its first cells', async () => {
    const { api } = await withClient()
    const read = await api.productImport.read({ text: 'Artikel;Notiz;Breite (cm)\nK-1;neu;12,5\nK-2;;13' })
    expect(read).toMatchObject({
      delimiter: ';',
      rows: 2,
      columns: { code: { index: 0 }, width: { index: 2, unit: 'cm' } },
      samples: [['K-1', 'K-2'], ['neu'], ['12,5', '13']],
      decimalMark: ',',
    })
  })
})

describe('a list of 5,000 products', () => {
  it('is previewed and taken, and taken again with changes, in under 2 s each', async () => {
    const studio = await withClient()
    const list = (name: string) =>
      ['code,name,colour,range,width,depth,height,weight (kg),finish']
        .concat(
          Array.from(
            { length: 5000 },
            (_, n) =>
              `K-${n},"${name}, no. ${n}",blue,Range ${n % 80},${100 + (n % 300)},90.5,240,1.25,gloss`,
          ),
        )
        .join('\r\n')
    const timed = async <T>(work: () => Promise<T>) => {
      // The thread's own time: the machine may be busy with other things, the store works in this thread.
      const start = process.threadCpuUsage()
      const result = await work()
      const { user, system } = process.threadCpuUsage(start)
      return { result, ms: (user + system) / 1000 }
    }
    const sent = await readAs(studio, list('Kettle'))
    const preview = await timed(() => studio.api.productImport.preview(sent))
    const first = await timed(() => take(studio, list('Kettle')))
    const second = await timed(() => take(studio, list('Pot')))
    expect([preview.result.added, first.result.added, second.result.updated]).toEqual([5000, 5000, 5000])
    for (const { ms } of [preview, first, second]) expect(ms).toBeLessThan(2000)
  })
})
