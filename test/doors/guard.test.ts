import { describe, expect, it } from 'vitest'
import { anOpenDoor, pathOf } from './aDoor.ts'

describe('the guard of the browser door', () => {
  it('lets in by the key of the printed address and keeps a cookie that no script and no other site can use', async () => {
    const { door, send } = await anOpenDoor()
    const answer = await send(pathOf(door.newAddress()))
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/')
    const cookie = answer.headers['set-cookie']?.[0] ?? ''
    expect(cookie).toMatch(/HttpOnly/)
    expect(cookie).toMatch(/SameSite=Strict/)
    // 256 bits in base64url are 43 characters (RFC 4648 section 5, without padding).
    expect(cookie).toMatch(/^turnsheet-\d+=[\w-]{43};/)
    const page = await send('/', { cookie: cookie.split(';')[0] ?? '' })
    expect(page.status).toBe(200)
    expect(page.text).toContain('<title>Turnsheet</title>')
  })

  it('refuses whoever brings neither key nor cookie, in plain words', async () => {
    const { send } = await anOpenDoor()
    for (const path of ['/', '/api/greet', '/events', '/papers/7', '/assets/page-1a2b.js']) {
      const answer = await send(path)
      expect(answer.status).toBe(401)
      expect(answer.text).toContain('This browser is not let in yet')
    }
  })

  it('takes a key once', async () => {
    const { door, send } = await anOpenDoor()
    const path = pathOf(door.newAddress())
    expect((await send(path)).status).toBe(303)
    expect((await send(path)).status).toBe(401)
  })

  it('refuses a wrong key, a wrong cookie, and a right key anywhere but at the front', async () => {
    const { door, send } = await anOpenDoor()
    const key = new URL(door.newAddress()).search
    expect((await send('/?key=guessed')).status).toBe(401)
    expect((await send(`/api/greet${key}`)).status).toBe(401)
    expect((await send('/', { cookie: `turnsheet-${door.port}=guessed` })).status).toBe(401)
    expect((await send(`/${key}`)).status).toBe(303)
  })

  it('refuses a foreign name, even with the right cookie: that is how DNS rebinding arrives', async () => {
    const { door, send, enter } = await anOpenDoor()
    const cookie = await enter()
    for (const host of [
      'studio.example',
      `studio.example:${door.port}`,
      '127.0.0.1',
      `127.0.0.1:${door.port + 1}`,
    ]) {
      expect((await send('/', { cookie, host })).status).toBe(403)
    }
    expect((await send('/', { cookie, host: `localhost:${door.port}` })).status).toBe(200)
  })

  it('refuses a foreign origin, and a write that names none', async () => {
    const { door, send, enter } = await anOpenDoor()
    const cookie = await enter()
    const own = `http://127.0.0.1:${door.port}`
    for (const origin of ['http://studio.example', 'null', `http://127.0.0.1:${door.port + 1}`, `${own}0`]) {
      expect((await send('/api/change', { cookie, origin }, 'POST')).status).toBe(403)
      expect((await send('/papers/7', { cookie, origin })).status).toBe(403)
    }
    expect((await send('/api/change', { cookie }, 'POST')).status).toBe(403)
    const json = { 'content-type': 'application/json' }
    expect((await send('/api/change', { cookie, origin: own, ...json }, 'POST')).status).toBe(200)
  })

  it('refuses what another page on this computer fetches, and lets a link from there open the page', async () => {
    const { send, enter } = await anOpenDoor()
    const cookie = await enter()
    const from = { cookie, 'sec-fetch-site': 'same-site' }
    expect((await send('/papers/7', { ...from, 'sec-fetch-mode': 'no-cors' })).status).toBe(403)
    expect((await send('/', { ...from, 'sec-fetch-mode': 'navigate' })).status).toBe(200)
  })

  it('forgets every session when the door closes', async () => {
    const first = await anOpenDoor()
    const cookie = await first.enter()
    const second = await anOpenDoor()
    const carried = cookie.replace(/^turnsheet-\d+/, `turnsheet-${second.door.port}`)
    expect((await second.send('/', { cookie: carried })).status).toBe(401)
  })
})
