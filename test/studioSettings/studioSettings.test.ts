import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { openStore } from '../../db/open.ts'
import { aClient } from '../builders.ts'
import { aStudio } from '../studio.ts'

describe('the studio’s own row', () => {
  it('changes what is given and leaves the rest', async () => {
    const { api } = aStudio()
    const { studio: before } = await api.studio.one()
    await api.studio.change({ legalName: 'Lindenhof Spin Studio OHG', paymentDays: 21 })
    const { studio: after } = await api.studio.one()
    expect(after).toEqual({ ...before, legalName: 'Lindenhof Spin Studio OHG', paymentDays: 21 })
  })

  it('empties a field that is sent empty', async () => {
    const { api } = aStudio()
    await api.studio.change({ phone: '+49 40 0000' })
    await api.studio.change({ phone: ' ' })
    expect((await api.studio.one()).studio.phone).toBeNull()
  })

  it('writes an event with each field as it was and as it is, and none where nothing differs', async () => {
    const { api, db } = aStudio()
    await api.studio.change({ paymentDays: 30, yesDays: 5 })
    await api.studio.change({ paymentDays: 30 })
    const events = db.prepare(`SELECT detail FROM event WHERE what = 'studio changed'`).all() as readonly {
      detail: string
    }[]
    expect(events.map(({ detail }) => JSON.parse(detail))).toEqual([{ paymentDays: { from: 14, to: 30 } }])
  })

  it('keeps an account number without its spaces', async () => {
    const { api } = aStudio()
    // The example of the German IBAN in the ISO 13616 registry of SWIFT.
    await api.studio.change({ iban: 'de89 3704 0044 0532 0130 00' })
    expect((await api.studio.one()).studio.iban).toBe('DE89370400440532013000')
  })

  it('refuses an account number with a wrong digit, blames its field and saves nothing', async () => {
    const { api } = aStudio()
    const wrong = api.studio.change({ name: 'Another', iban: 'DE89370400440532013001' })
    await expect(wrong).rejects.toMatchObject({ cause: { code: 'bad-iban', field: 'iban' } })
    expect((await api.studio.one()).studio).toMatchObject({ name: 'Lindenhof Spin Studio', iban: null })
  })

  it('refuses a BIC of nine characters and blames its field', async () => {
    const { api } = aStudio()
    await expect(api.studio.change({ bic: 'ABCDDEFF1' })).rejects.toMatchObject({
      cause: { code: 'bad-bic', field: 'bic' },
    })
  })

  it.each([
    ['an e-mail address without an @', { email: 'desk.studio.example' }, 'email'],
    ['a time zone that is not in the list', { timeZone: 'Europe/Lindenhof' }, 'timeZone'],
    ['an empty name', { name: '  ' }, 'name'],
    ['a deposit of more than the whole', { depositPpm: 1_000_001 }, 'depositPpm'],
    ['a validity of no day', { quoteValidDays: 0 }, 'quoteValidDays'],
    ['a price below nothing', { dayMinor: -1 }, 'dayMinor'],
  ])('refuses %s', async (_, change, field) => {
    const { api } = aStudio()
    await expect(api.studio.change(change)).rejects.toMatchObject({
      cause: { issues: [expect.objectContaining({ path: [field] })] },
    })
  })

  it('takes another currency while no money has been written', async () => {
    const { api } = aStudio()
    expect((await api.studio.one()).currencyFixedBy).toBeNull()
    await api.studio.change({ currency: 'CHF' })
    expect((await api.studio.one()).studio.currency).toBe('CHF')
  })

  it('keeps its currency once a price list stands in it', async () => {
    const { api, db } = aStudio()
    db.prepare(
      `INSERT INTO price_list (name, currency, is_standard, valid_from) VALUES ('Prices', 'EUR', 1, '2026-01-01')`,
    ).run()
    await expect(api.studio.change({ currency: 'CHF' })).rejects.toThrow('stays EUR: a price list')
    await api.studio.change({ currency: 'EUR', paymentDays: 30 })
    expect((await api.studio.one()).studio).toMatchObject({ currency: 'EUR', paymentDays: 30 })
  })

  it('keeps its currency once an hour of somebody is priced in it', async () => {
    const { api } = aStudio()
    await api.studio.addPerson({ name: 'Ilse Brandt', role: null, hourMinor: 28_00, turns: true })
    await expect(api.studio.change({ currency: 'JPY' })).rejects.toThrow('a person’s hour')
  })
})

describe('the people', () => {
  const ilse = { name: 'Ilse Brandt', role: 'assistant', hourMinor: 28_00, turns: true }

  it('are listed by name, those who left at the end', async () => {
    const { api } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    await api.studio.addPerson({ ...ilse, name: 'Odo Wendt' })
    await api.studio.markLeft({ personId, left: true })
    const { people } = await api.studio.people()
    expect(people.map(({ name, leftAt }) => [name, leftAt !== null])).toEqual([
      ['Mara Quist', false],
      ['Odo Wendt', false],
      ['Ilse Brandt', true],
    ])
  })

  it('never have one name twice', async () => {
    const { api } = aStudio()
    await api.studio.addPerson(ilse)
    await expect(api.studio.addPerson(ilse)).rejects.toMatchObject({
      cause: { code: 'person-name-taken', field: 'name' },
    })
  })

  it('may change without a new name', async () => {
    const { api } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    await api.studio.changePerson({ ...ilse, personId, hourMinor: 31_00, turns: false })
    const { people } = await api.studio.people()
    expect(people.find(({ id }) => id === personId)).toMatchObject({ hourMinor: 31_00, turns: false })
  })

  it('are away from one day to another, and only what is not over is listed', async () => {
    const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
    const { personId } = await studio.api.studio.addPerson(ilse)
    await studio.api.studio.addAbsence({
      personId,
      fromDay: '2026-03-09',
      toDay: '2026-03-13',
      reason: 'leave',
    })
    const away = async () =>
      (await studio.api.studio.people()).people.find(({ id }) => id === personId)?.absences
    expect(await away()).toMatchObject([{ fromDay: '2026-03-09', toDay: '2026-03-13', reason: 'leave' }])
    studio.setNow('2026-03-14T08:00:00.000Z')
    expect(await away()).toEqual([])
  })

  it('are never away backwards', async () => {
    const { api } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    const backwards = api.studio.addAbsence({
      personId,
      fromDay: '2026-03-13',
      toDay: '2026-03-09',
      reason: null,
    })
    await expect(backwards).rejects.toMatchObject({
      cause: { issues: [expect.objectContaining({ path: ['toDay'] })] },
    })
  })

  it('are there again once an absence is taken away', async () => {
    const { api } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    const days = { fromDay: '2026-03-09', toDay: '2026-03-13', reason: null }
    const { absenceId } = await api.studio.addAbsence({ personId, ...days })
    await api.studio.removeAbsence({ absenceId })
    const { people } = await api.studio.people()
    expect(people.find(({ id }) => id === personId)?.absences).toEqual([])
  })
})

describe('who works here', () => {
  const ilse = { name: 'Ilse Brandt', role: null, hourMinor: 0, turns: true }

  it('is written to everything that is changed from then on', async () => {
    const { api, db } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    await api.studio.workAs({ personId })
    await api.clients.add(aClient())
    const last = db.prepare('SELECT person_id AS personId FROM event ORDER BY id DESC LIMIT 1').get()
    expect(last).toEqual({ personId })
    expect((await api.start.state()).personName).toBe('Ilse Brandt')
    expect((await api.studio.people()).worksHere).toBe(personId)
  })

  it('is nobody who left', async () => {
    const { api } = aStudio()
    const { personId } = await api.studio.addPerson(ilse)
    await api.studio.markLeft({ personId, left: true })
    await expect(api.studio.workAs({ personId })).rejects.toMatchObject({ cause: { code: 'person-left' } })
    await api.studio.markLeft({ personId, left: false })
    await api.studio.workAs({ personId })
    expect((await api.start.state()).personName).toBe('Ilse Brandt')
  })

  it('cannot leave before somebody else works here', async () => {
    const { api } = aStudio()
    const { worksHere } = await api.studio.people()
    await expect(api.studio.markLeft({ personId: worksHere, left: true })).rejects.toMatchObject({
      cause: { code: 'person-at-work' },
    })
  })
})

describe('the numbers', () => {
  it('say what comes next in the studio’s year', async () => {
    const { api, db } = aStudio({ now: '2026-12-31T23:30:00.000Z', timeZone: 'Europe/Berlin' })
    db.prepare(`INSERT INTO number_series (kind, year, next) VALUES ('invoice', 2027, 18)`).run()
    const { year, next } = await api.studio.numbers()
    // Half past eleven in the evening UTC is half past midnight in Berlin: the next year has begun.
    expect(year).toBe(2027)
    expect(next.find(({ kind }) => kind === 'invoice')?.number).toBe('I-2027-0018')
    expect(next.find(({ kind }) => kind === 'quote')?.number).toBe('Q-2027-0001')
  })
})

describe('a backup', () => {
  it('is a whole store that holds what the studio held', async () => {
    const { api, folder } = aStudio()
    await api.clients.add(aClient({ name: 'Halvorsen Lamps' }))
    const made = await api.studio.backUp()
    expect(await api.studio.backups()).toEqual([made])
    const copy = openStore(path.join(folder, 'backups', made.name), { readonly: true })
    expect(copy.prepare('SELECT name FROM client').all()).toEqual([{ name: 'Halvorsen Lamps' }])
    copy.close()
  })

  it('is listed the newest first, and nothing else of the folder with it', async () => {
    const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
    const { name: older } = await studio.api.studio.backUp()
    fs.utimesSync(path.join(studio.folder, 'backups', older), 1_000, 1_000)
    studio.setNow('2026-03-03T08:00:00.000Z')
    const { name: newer } = await studio.api.studio.backUp()
    fs.writeFileSync(path.join(studio.folder, 'backups', 'note.txt'), 'not a copy')
    expect((await studio.api.studio.backups()).map(({ name }) => name)).toEqual([newer, older])
  })

  it('never writes over another', async () => {
    const { api } = aStudio()
    await api.studio.backUp()
    await expect(api.studio.backUp()).rejects.toMatchObject({ cause: { code: 'backup-exists' } })
  })
})
