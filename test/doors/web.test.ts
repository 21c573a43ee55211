import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { webApplication } from '../../main/doors/web.ts'
import { anInside, anOpenDoor } from './aDoor.ts'

function application() {
  const inside = anInside()
  const closing = new AbortController()
  const app = webApplication({ ...inside, guard: (_c, next) => next(), closing: closing.signal })
  return { inside, closing, app }
}

describe('the calls', () => {
  it('answer a refusal with status 200, its code, its sentence and its field', async () => {
    const answer = await application().app.request('/api/refuse')
    expect(answer.status).toBe(200)
    expect(await answer.json()).toMatchObject({
      error: {
        message: 'The step, 900 mm, is longer than the rim, 800 mm.',
        data: { refusal: { code: 'step-longer-than-rim', field: 'stepMm' } },
      },
    })
  })

  it('answer input that does not fit as a refusal too', async () => {
    const { app, inside } = application()
    const answer = await app.request(`/api/greet?input=${encodeURIComponent('{"name":""}')}`)
    expect(answer.status).toBe(200)
    expect(await answer.json()).toMatchObject({
      error: { data: { refusal: { sentence: 'The name is empty. Type it in.', field: 'name' } } },
    })
    expect(() => readFileSync(join(inside.folder, 'studio.log'))).toThrow('ENOENT')
  })

  it('log a bug with its stack and answer without it', async () => {
    const { app, inside } = application()
    const answer = await app.request('/api/breakDown')
    expect(answer.status).toBe(500)
    const text = await answer.text()
    expect(text).toContain('Something broke. Nothing was saved.')
    expect(text).not.toMatch(/drawer|aDoor\.ts/)
    const log = readFileSync(join(inside.folder, 'studio.log'), 'utf8')
    expect(log).toMatch(/query breakDown\n.*the drawer is stuck[\s\S]*at .*aDoor\.ts/)
  })
})

describe('the changes', () => {
  it('reach a listening page within a second', async () => {
    const { app, closing } = application()
    const stream = await app.request('/events')
    expect(stream.headers.get('content-type')).toBe('text/event-stream')
    const reader = (stream.body as ReadableStream<Uint8Array>).getReader()
    await reader.read()
    const started = performance.now()
    const change = await app.request('/api/change', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
    })
    expect(change.status).toBe(200)
    const { value } = await reader.read()
    expect(performance.now() - started).toBeLessThan(1000)
    expect(new TextDecoder().decode(value)).toMatch(/^data: \{"count":\d+,"path":"change"\}\n\n$/)
    closing.abort()
    expect((await reader.read()).done).toBe(true)
  })

  it('end before the door closes, so that it closes at once', async () => {
    const { door, send, enter } = await anOpenDoor()
    const stream = send('/events', { cookie: await enter() })
    await new Promise((resolve) => setTimeout(resolve, 100))
    const started = performance.now()
    await door.close()
    expect(performance.now() - started).toBeLessThan(1500)
    expect((await stream).text).toMatch(/^retry: 1000/)
  })
})

describe('the page and the papers', () => {
  it('carry a policy that lets in our own files alone', async () => {
    const { app } = application()
    for (const path of ['/', '/api/refuse', '/papers/7', '/nothing.js']) {
      const { headers } = await app.request(path)
      expect(headers.get('content-security-policy')).toContain("default-src 'none'; script-src 'self'")
      expect(headers.get('content-security-policy')).not.toContain('unsafe')
      expect(headers.get('x-content-type-options')).toBe('nosniff')
    }
  })

  it('give the page for every address of the page, and files as files', async () => {
    const { app } = application()
    for (const path of ['/', '/jobs/12/quote']) {
      expect(await (await app.request(path)).text()).toContain('<title>Turnsheet</title>')
    }
    const script = await app.request('/assets/page-1a2b.js')
    expect(script.headers.get('content-type')).toContain('text/javascript')
    expect((await app.request('/assets/gone.js')).status).toBe(404)
  })

  it('never read outside the page’s folder, however the path is written', async () => {
    const { send, enter } = await anOpenDoor()
    const cookie = await enter()
    const ways = [
      '/../secret.json',
      '/%2e%2e/secret.json',
      '/..%2fsecret.json',
      '/assets/..%2f..%2fsecret.json',
      '/..%5csecret.json',
      '/%00/secret.json',
      '/%',
    ]
    for (const path of ways) {
      const answer = await send(path, { cookie })
      expect(answer.text).not.toContain('"secret"')
      if (path !== '/%') expect(answer.status).toBe(404)
    }
  })

  it('hand out a frame’s picture, once for as long as it is the same, and keep no answer that there is none', async () => {
    const { app } = application()
    const first = await app.request('/frames/7/2')
    expect(first.headers.get('content-type')).toBe('image/jpeg')
    expect(first.headers.get('cache-control')).toBe('private, no-cache')
    expect(new Uint8Array(await first.arrayBuffer())).toEqual(new Uint8Array([0xff, 0xd8, 0xff]))
    const tag = first.headers.get('etag') ?? ''
    const again = await app.request('/frames/7/2', { headers: { 'if-none-match': tag } })
    expect(again.status).toBe(304)
    expect((await again.arrayBuffer()).byteLength).toBe(0)
    expect((await app.request('/frames/7/2/large')).headers.get('etag')).not.toBe(tag)
    for (const path of [
      '/frames/7/3',
      '/frames/8/2',
      '/frames/7/0',
      '/frames/7',
      '/frames/x/1',
      '/frames/7/2/huge',
    ]) {
      const none = await app.request(path)
      expect(none.status).toBe(404)
      expect(await none.text()).not.toContain('<title>')
    }
    expect((await app.request('/frames/7/3')).headers.get('cache-control')).toBe('no-store')
  })

  it('keep frames’ pictures from whoever has not come in by the door’s own address', async () => {
    const { send, enter } = await anOpenDoor()
    expect((await send('/frames/7/2')).status).toBe(401)
    expect((await send('/frames/7/2', { cookie: await enter() })).status).toBe(200)
  })

  it('hand out a paper under its real name, and say so where there is none', async () => {
    const { app } = application()
    const paper = await app.request('/papers/7')
    expect(await paper.text()).toBe('%PDF-1.7')
    expect(paper.headers.get('content-type')).toBe('application/pdf')
    // RFC 8187: UTF-8 octets percent-encoded, so U+2013 is E2 80 93 and U+00F6 is C3 B6.
    expect(paper.headers.get('content-disposition')).toBe(
      "inline; filename*=UTF-8''Quote%207%20%E2%80%93%20M%C3%B6ller.pdf",
    )
    for (const path of ['/papers/8', '/papers/0', '/papers/x', `/files/${'0'.repeat(64)}`, '/files/x']) {
      expect((await app.request(path)).status).toBe(404)
    }
  })
})
