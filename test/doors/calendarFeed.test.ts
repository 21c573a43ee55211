import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { caller } from '../../main/api/caller.ts'
import { webApplication } from '../../main/doors/web.ts'
import { anInside, anOpenDoor } from './aDoor.ts'

/** A door whose studio has an open calendar. */
async function anOpenCalendar() {
  const opened = await anOpenDoor()
  const api = caller(opened.inside.house)
  await api.calendar.open({ withNames: true })
  const path = async () => new URL((await api.calendar.feed())?.address ?? '').pathname
  return { ...opened, api, path }
}

describe('the calendar at the browser door', () => {
  it('is read with the secret of its address alone: no session, no cookie, nothing to keep but its tag', async () => {
    const { send, path } = await anOpenCalendar()
    const answer = await send(await path())
    expect(answer.status).toBe(200)
    expect(answer.text).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*END:VCALENDAR\r\n$/u)
    expect(answer.headers['content-type']).toBe('text/calendar; charset=utf-8')
    expect(answer.headers['set-cookie']).toBeUndefined()
    expect(answer.headers['cache-control']).toBe('private, no-cache')
  })

  it('is at the address that the page shows while the door is open, and at none afterwards', async () => {
    const { door, api } = await anOpenCalendar()
    expect((await api.calendar.feed())?.address).toMatch(
      new RegExp(`^http://127\\.0\\.0\\.1:${door.port}/calendar/[\\w-]{43}\\.ics$`, 'u'),
    )
    await door.close()
    expect((await api.calendar.feed())?.address).toBeNull()
  })

  it('answers 304 to whoever has it already, and in full once something has changed', async () => {
    const { send, path, api } = await anOpenCalendar()
    const etag = (await send(await path())).headers.etag ?? ''
    expect(etag).toMatch(/^"[\w-]{43}"$/u)
    for (const named of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const again = await send(await path(), { 'if-none-match': named })
      expect([again.status, again.text, again.headers.etag]).toEqual([304, '', etag])
    }
    expect((await send(await path(), { 'if-none-match': '"other"' })).status).toBe(200)
    const [bench] = await api.benches.list()
    // A Monday far enough ahead: the bench of a new studio is open on it.
    const monday = new Date(Date.now() + 14 * 86_400_000)
    monday.setUTCDate(monday.getUTCDate() + ((8 - monday.getUTCDay()) % 7))
    await api.bookings.add({
      blocks: [
        {
          benchId: bench?.id ?? 0,
          kind: 'other',
          title: 'wiring',
          day: monday.toISOString().slice(0, 10),
          fromMinute: 600,
          toMinute: 660,
        },
      ],
    })
    const changed = await send(await path(), { 'if-none-match': etag })
    expect(changed.status).toBe(200)
    expect(changed.text).toContain('SUMMARY:wiring')
  })

  it('answers a wrong secret, a renewed one and one switched off alike: there is nothing', async () => {
    const { send, path, api, enter } = await anOpenCalendar()
    const old = await path()
    const wrong = old.replace(/.(?=\.ics$)/u, (last) => (last === 'A' ? 'B' : 'A'))
    expect((await send(wrong)).status).toBe(404)
    await api.calendar.open({ withNames: true })
    expect((await send(old)).status).toBe(404)
    const renewed = await path()
    expect((await send(renewed)).status).toBe(200)
    await api.calendar.close()
    const off = await send(renewed)
    expect(off.status).toBe(404)
    expect(off.text).toBe((await send(wrong)).text)
    expect((await send(renewed, { cookie: await enter() })).status).toBe(404)
  })

  it('lets nobody further: every other address still asks for a session', async () => {
    const { send, path } = await anOpenCalendar()
    const secret = (await path()).slice('/calendar/'.length, -'.ics'.length)
    const ways = [
      `/calendar/${secret}`,
      `/calendar/${secret}.ics/`,
      `/calendar/../calendar/${secret}x.ics`,
      `/calendar/${secret}.ics/../../api/greet`,
      `/calendar/${secret}.ics%2f..%2f..%2fpapers%2f7`,
      `/calendar/${'a'.repeat(42)}.ics`,
      `/papers/7?/calendar/${secret}.ics`,
      '/calendar/',
    ]
    for (const way of ways) expect([way, (await send(way)).status]).toEqual([way, 401])
  })

  it('is only read: whatever else is asked needs a session, and with one changes nothing', async () => {
    const { send, path, enter, door, api } = await anOpenCalendar()
    const host = `127.0.0.1:${door.port}`
    expect((await send(await path(), {}, 'HEAD')).status).toBe(200)
    for (const method of ['POST', 'PUT', 'DELETE']) {
      expect((await send(await path(), { origin: `http://${host}` }, method)).status).toBe(401)
      const inside = await send(await path(), { origin: `http://${host}`, cookie: await enter() }, method)
      expect(inside.status).toBe(404)
    }
    expect(await api.calendar.feed()).not.toBeNull()
  })

  it('is refused under a foreign name and to a foreign page, even with the right secret', async () => {
    const { send, path, door } = await anOpenCalendar()
    const ways: readonly Record<string, string>[] = [
      { host: 'studio.example' },
      { host: `studio.example:${door.port}` },
      { origin: 'https://studio.example' },
      { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors' },
    ]
    for (const headers of ways) expect((await send(await path(), headers)).status).toBe(403)
  })

  it('never stands with its secret in the log, even when something breaks', async () => {
    const inside = anInside()
    const app = webApplication({
      ...inside,
      openCalendar: () => {
        throw new Error('the drawer is stuck')
      },
      guard: (_c, next) => next(),
      closing: new AbortController().signal,
    })
    const secret = 'S'.repeat(43)
    expect((await app.request(`/calendar/${secret}.ics`)).status).toBe(500)
    const log = readFileSync(join(inside.folder, 'studio.log'), 'utf8')
    expect(log).toContain('the drawer is stuck')
    expect(log).not.toContain(secret)
  })
})
