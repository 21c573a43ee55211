import { describe, expect, it } from 'vitest'
import { learnedPace } from '../../db/learnedPace.ts'
import { aStudio } from '../studio.ts'

describe('the studio’s figures', () => {
  it('change together, and the log keeps what they were', async () => {
    const { api, db } = aStudio()
    const { figures } = await api.pace.figures()
    await api.pace.change({ ...figures, stepMs: 5400 })
    expect((await api.pace.figures()).figures).toEqual({ ...figures, stepMs: 5400 })
    const { detail } = db.prepare(`SELECT detail FROM event WHERE what = 'figures changed'`).get() as {
      detail: string
    }
    expect(JSON.parse(detail)).toMatchObject({
      before: { stepMs: figures.stepMs },
      after: { stepMs: 5400 },
    })
  })

  it('refuse a limit of medium products below that of small ones, beside its field', async () => {
    const { api } = aStudio()
    const { figures } = await api.pace.figures()
    await expect(
      api.pace.change({ ...figures, smallMaxUm: 300_000, mediumMaxUm: 200_000 }),
    ).rejects.toMatchObject({ cause: { issues: [{ path: ['mediumMaxUm'] }] } })
  })

  it('say that the step comes from the studio alone while nothing was shot', () => {
    const { db } = aStudio()
    const { pace, learned } = learnedPace(db)
    expect(learned).toMatchObject({ takes: 0, weight: 0, stepMs: pace.stepMs })
  })

  it('keep handling by size and finish, and leave the other cases alone', async () => {
    const { api } = aStudio()
    const before = (await api.pace.figures()).handling
    await api.pace.changeHandling([
      { sizeClass: 'large', finish: 'mirror', firstMs: 3_000_000, followingMs: 2_000_000 },
    ])
    const after = (await api.pace.figures()).handling
    expect(after.find(({ sizeClass, finish }) => sizeClass === 'large' && finish === 'mirror')).toMatchObject(
      {
        firstMs: 3_000_000,
      },
    )
    expect(after.length).toBe(before.length)
  })

  it('hold finish classes in house and bought in, and refuse a second of the same name', async () => {
    const { api } = aStudio()
    const boughtIn = {
      name: 'cut-out, bought in',
      inHouse: false,
      frameMs: 0,
      frameMinorPer100: 2_400,
      supplier: 'Kanten & Co.',
    }
    const { finishClassId } = await api.pace.addFinishClass(boughtIn)
    expect((await api.pace.finishClasses()).at(-1)).toMatchObject({ id: finishClassId, ...boughtIn })
    await expect(api.pace.addFinishClass(boughtIn)).rejects.toMatchObject({ cause: { code: 'name-taken' } })
  })
})

describe('tax rates', () => {
  const reverseCharge = {
    name: 'Reverse charge',
    category: 'AE' as const,
    ratePpm: 0,
    exemptionReason: 'Reverse charge',
    isDefault: false,
    validFrom: null,
    validTo: null,
  }

  it('have one default: a new default takes the place of the old', async () => {
    const { api } = aStudio()
    const { taxRateId } = await api.taxRates.add({
      ...reverseCharge,
      name: 'VAT 21 %',
      category: 'S',
      ratePpm: 210_000,
      exemptionReason: null,
      isDefault: true,
    })
    const rates = await api.taxRates.list()
    expect(rates.filter(({ isDefault }) => isDefault).map(({ id }) => id)).toEqual([taxRateId])
  })

  it('refuse a rate on reverse charge, and no tax without a reason (EN 16931-1 BR-AE-05 and BR-AE-10)', async () => {
    const { api } = aStudio()
    await expect(api.taxRates.add({ ...reverseCharge, ratePpm: 190_000 })).rejects.toMatchObject({
      cause: { issues: [{ path: ['ratePpm'] }] },
    })
    await expect(api.taxRates.add({ ...reverseCharge, exemptionReason: null })).rejects.toMatchObject({
      cause: { issues: [{ path: ['exemptionReason'] }] },
    })
  })
})
