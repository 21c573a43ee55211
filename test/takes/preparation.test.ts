import { expect, it } from 'vitest'
import { preparationFor, startingPreparation } from '../../main/trade/preparation.ts'
import { finishes } from '../../main/trade/product.ts'
import { aStudio } from '../studio.ts'
import { atTheBench } from './aSpin.ts'

it('gives a new studio a list for every finish, to be made its own', async () => {
  const { api } = aStudio()
  const lists = await api.preparation.lists()
  expect(lists.map(({ finish }) => finish)).toEqual([...finishes])
  for (const { before, after } of lists) {
    expect(before.length).toBeGreaterThan(0)
    expect(after.length).toBeGreaterThan(0)
  }
  // Common practice, no published source: what mirrors or is clear is touched with gloves alone, and textile has laces.
  expect(lists.find(({ finish }) => finish === 'mirror')?.before.join(' ')).toMatch(/gloves.*cloth.*air/su)
  expect(lists.find(({ finish }) => finish === 'textile')?.before.join(' ')).toContain('laces')
})

it('keeps the lists as they are typed, in their order, and an empty one empty', async () => {
  const { api } = aStudio()
  await api.preparation.change([{ finish: 'gloss', before: ['Second', 'First'], after: [] }])
  const lists = await api.preparation.lists()
  expect(lists.find(({ finish }) => finish === 'gloss')).toEqual({
    finish: 'gloss',
    before: ['Second', 'First'],
    after: [],
  })
  expect(lists.find(({ finish }) => finish === 'matt')?.before).toEqual(
    startingPreparation.find(({ finish }) => finish === 'matt')?.before,
  )
})

it('refuses an empty step and a list that nobody reads', async () => {
  const { api } = aStudio()
  await expect(api.preparation.change([{ finish: 'gloss', before: [' '], after: [] }])).rejects.toThrow(
    'A step is empty.',
  )
  await expect(
    api.preparation.change([{ finish: 'gloss', before: Array(21).fill('Dust it.'), after: [] }]),
  ).rejects.toThrow('At most 20 steps')
})

it('says every step of a set once', () => {
  const both = preparationFor(startingPreparation, ['mirror', 'clear'])
  expect(new Set(both.before).size).toBe(both.before.length)
  for (const finish of ['mirror', 'clear'] as const) {
    for (const step of startingPreparation.find((list) => list.finish === finish)?.before ?? []) {
      expect(both.before).toContain(step)
    }
  }
})

it('shows what is to be fetched, what stands, and what changes from there', async () => {
  const { api, shootIds, stand, keep, studio } = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
  const shootId = Number(shootIds[0])
  const first = await api.preparation.before({ shootId, ...stand })
  expect(first.change).toMatchObject({ standing: null, isSameRig: false })
  // An empty bench: everything is set up, each light for itself.
  expect(first.change?.items.map(({ part }) => part)).toEqual([
    'platter',
    'backdrop',
    'camera',
    'lens',
    'light',
    'light',
    'settings',
  ])
  await keep(0)
  const next = await api.preparation.before({ shootId: Number(shootIds[1]), ...stand })
  expect(next.change).toMatchObject({ isSameRig: true, newSettings: false, items: [] })
  expect(next.spin.spin).toBe('Jug')
  // What is dialled anew costs what the studio says, and nothing else.
  const { figures } = await api.pace.figures()
  const other = await api.preparation.before({ shootId, ...stand, settingsId: null })
  expect(other.change).toMatchObject({
    isSameRig: true,
    newSettings: true,
    items: [{ part: 'settings', light: null, ms: figures.changeSettingsMs }],
  })
  expect(studio.db.prepare('SELECT count(*) FROM take').pluck().get()).toBe(1)
})

it('reckons a frame from the sensor where it is known: 14 bits a pixel, uncompressed', async () => {
  const { api, shootIds, stand, studio } = await atTheBench()
  const shootId = Number(shootIds[0])
  const { sensorWidthPx, sensorHeightPx } = await api.rigs.revision({ rigRevisionId: stand.rigRevisionId })
  const { frameBytes } = await api.preparation.before({ shootId, ...stand })
  const { figures } = await api.pace.figures()
  expect(frameBytes).toEqual(
    sensorWidthPx && sensorHeightPx
      ? { bytes: Math.ceil((sensorWidthPx * sensorHeightPx * 14) / 8), isFromSensor: true }
      : { bytes: figures.frameBytes, isFromSensor: false },
  )
  expect(studio.db.prepare('SELECT count(*) FROM take').pluck().get()).toBe(0)
})
