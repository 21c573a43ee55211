import { describe, expect, it } from 'vitest'
import { plainBrief } from '../../db/briefs.ts'
import { aClient } from '../builders.ts'
import { aStudio } from '../studio.ts'

describe('clients', () => {
  it('keeps a client with its contacts and standing brief', async () => {
    const { api } = aStudio()
    const { clientId } = await api.clients.add(
      aClient({
        name: 'Nordkap Kettles',
        contacts: [{ name: 'Ida Falk', role: 'buyer', email: null, phone: null, isMain: true }],
      }),
    )
    const { client, contacts, brief } = await api.clients.one({ clientId })
    expect(client.name).toBe('Nordkap Kettles')
    expect(contacts.map(({ name, isMain }) => [name, isMain])).toEqual([['Ida Falk', true]])
    expect(brief.deliverables.map(({ kind }) => kind)).toEqual(
      plainBrief.deliverables.map(({ kind }) => kind),
    )
  })

  it('refuses a second client of the same name with a sentence and the field', async () => {
    const { api } = aStudio()
    await api.clients.add(aClient({ name: 'Nordkap Kettles' }))
    await expect(api.clients.add(aClient({ name: 'Nordkap Kettles' }))).rejects.toMatchObject({
      cause: { code: 'client-name-taken', field: 'client.name' },
    })
  })

  it.each([
    [12, 1, false],
    [25, 1, true],
    [24_000, 1001, true],
  ])(
    'refuses a loop at %d/%d frames a second, drop-frame %s, which has no timecode',
    async (fpsNum, fpsDen, dropFrame) => {
      const { api } = aStudio()
      const { brief } = aClient()
      const deliverables = brief.deliverables.map((each) =>
        each.kind === 'loop' ? { ...each, fpsNum, fpsDen, dropFrame } : each,
      )
      await expect(api.clients.add(aClient({ brief: { ...brief, deliverables } }))).rejects.toThrow(
        'A loop plays at one of these rates',
      )
    },
  )

  it('lets a contact leave without losing the papers that name them', async () => {
    const { api, db } = aStudio()
    const ida = { name: 'Ida Falk', role: null, email: null, phone: null, isMain: true }
    const { clientId } = await api.clients.add(aClient({ contacts: [ida] }))
    await api.clients.change({ ...aClient({ contacts: [] }), clientId })
    expect((await api.clients.one({ clientId })).contacts).toEqual([])
    expect(db.prepare('SELECT name FROM contact').pluck().all()).toEqual(['Ida Falk'])
  })

  it('writes who changed a client, and when', async () => {
    const { api, db, setNow } = aStudio()
    const { clientId } = await api.clients.add(aClient())
    setNow('2026-03-03T09:30:00.000Z')
    await api.clients.change({ ...aClient({ name: 'Nordkap Home' }), clientId })
    expect(db.prepare(`SELECT at, what FROM event WHERE subject = 'client' ORDER BY id`).all()).toEqual([
      { at: '2026-03-02T08:00:00.000Z', what: 'client added' },
      { at: '2026-03-03T09:30:00.000Z', what: 'client changed' },
    ])
  })

  it('are found by part of a name or town, sorted and off the list when taken off it', async () => {
    const { api } = aStudio()
    const add = async (name: string, city: string) =>
      (await api.clients.add(aClient({ name, city }))).clientId
    await add('Nordkap Kettles', 'Bergen')
    await add('anders glass', 'Aarhus')
    const gone = await add('Zobel Shoes', 'Bergen')
    const names = async (ask: Parameters<typeof api.clients.list>[0]) =>
      (await api.clients.list(ask)).lines.map(({ name }) => name)
    expect(await names({})).toEqual(['anders glass', 'Nordkap Kettles', 'Zobel Shoes'])
    expect(await names({ descending: true })).toEqual(['Zobel Shoes', 'Nordkap Kettles', 'anders glass'])
    expect(await names({ text: 'berg' })).toEqual(['Nordkap Kettles', 'Zobel Shoes'])
    expect(await names({ text: 'A' })).toEqual(['anders glass'])
    await api.clients.archive({ clientId: gone, archived: true })
    expect(await names({ text: 'berg' })).toEqual(['Nordkap Kettles'])
    expect(await names({ archived: true })).toEqual(['Zobel Shoes'])
  })
})
