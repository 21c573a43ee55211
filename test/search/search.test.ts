import { describe, expect, it } from 'vitest'
import { aProduct } from '../builders.ts'
import { aJob } from '../jobs/aJob.ts'
import { aStudio, type TestStudio } from '../studio.ts'

async function found({ api }: TestStudio, text: string) {
  return (await api.search.find({ text })).hits.map(({ kind, label, to }) => [kind, label, to])
}

describe('search', () => {
  it('finds clients, products and jobs by a part of a name, code or number', async () => {
    const studio = aStudio()
    const { clientId, jobId, productIds } = await aJob(studio, {
      codes: ['XK-77'],
      job: { title: 'Spring lamps', orderNumber: 'PO 4711' },
    })
    expect(await found(studio, 'vorsen')).toEqual([['client', 'Halvorsen Lamps', `/clients/${clientId}`]])
    expect(await found(studio, 'k-77')).toEqual([['product', 'XK-77', `/products/${productIds[0]}`]])
    expect(await found(studio, '4711')).toEqual([['job', 'J-2026-0001', `/jobs/${jobId}`]])
    expect(await found(studio, 'spring lam')).toEqual([['job', 'J-2026-0001', `/jobs/${jobId}`]])
  })

  it('finds the beginnings of names, codes and numbers from the first letter on', async () => {
    const studio = aStudio()
    const { clientId, jobId, productIds } = await aJob(studio, { codes: ['XK-77'] })
    expect(await found(studio, 'h')).toEqual([['client', 'Halvorsen Lamps', `/clients/${clientId}`]])
    expect(await found(studio, 'xk')).toEqual([['product', 'XK-77', `/products/${productIds[0]}`]])
    expect(await found(studio, 'j-')).toEqual([['job', 'J-2026-0001', `/jobs/${jobId}`]])
  })

  it('puts the whole label before its beginning, and that before its middle', async () => {
    const studio = aStudio()
    await aJob(studio, { codes: ['AA-100-1', 'ZAA-100', 'AA-100', 'B-1'] })
    expect((await found(studio, 'aa-100')).map(([, label]) => label)).toEqual([
      'AA-100',
      'AA-100-1',
      'ZAA-100',
    ])
  })

  it('takes what is typed as text, whatever it means to the index', async () => {
    const studio = aStudio()
    const { clientId } = await aJob(studio)
    await studio.api.products.add({
      clientId,
      product: aProduct({ code: 'A"B*C', name: '50 % off (NOT here)' }),
    })
    expect(await found(studio, 'A"B*C')).toHaveLength(1)
    expect(await found(studio, '(NOT')).toHaveLength(1)
    for (const text of [
      '"',
      '"""',
      "'",
      'AND',
      'NOT x',
      'label:',
      '*',
      '^a',
      'a OR',
      '-(',
      '%',
      '_',
      '   ',
      '😀😀😀',
    ]) {
      expect(Array.isArray(await found(studio, text)), text).toBe(true)
    }
  })

  it('wants every word, the short ones too', async () => {
    const studio = aStudio()
    const { clientId } = await aJob(studio, { codes: [] })
    const add = (code: string, name: string) =>
      studio.api.products.add({ clientId, product: aProduct({ code, name }) })
    await add('K-1', 'Kettle 2 l')
    await add('K-2', 'Kettle 5 l')
    expect((await found(studio, 'kettle 5')).map(([, label]) => label)).toEqual(['K-2'])
  })

  it('shows twelve hits at most', async () => {
    const studio = aStudio()
    await aJob(studio, { codes: Array.from({ length: 30 }, (_, index) => `MANY-${index}`) })
    expect(await found(studio, 'many')).toHaveLength(12)
    expect(await found(studio, 'ma')).toHaveLength(12)
  })
})
