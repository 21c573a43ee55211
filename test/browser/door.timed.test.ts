import { once } from 'node:events'
import { existsSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it, onTestFinished } from 'vitest'
import { describeBrowser, type OpenBrowser, openBrowser, startHost } from './kit.ts'

const newStudio = {
  name: 'Quarry Lane Spins',
  personName: 'Ada Winter',
  country: 'DE',
  currency: 'EUR',
  timeZone: 'Europe/Berlin',
  locale: 'en-GB',
  taxName: 'VAT',
  taxRatePpm: 190_000,
}

describeBrowser('the browser door', () => {
  let open: OpenBrowser
  beforeAll(async () => {
    open = await openBrowser()
  })
  afterAll(() => open?.close())

  it('lets the browser in, without the key staying in the address', async () => {
    expect(new URL(open.page.url()).search).toBe('')
    expect(await open.page.title()).toMatch(/\bTurnsheet$/)
    const [cookie] = await open.context.cookies()
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict' })
    expect(await open.page.evaluate(() => document.cookie)).toBe('')
  })

  it('leaves a second browser outside, in plain words', async () => {
    const stranger = await open.browser.newContext()
    const page = await stranger.newPage()
    const answer = await page.goto(open.host.address)
    expect(answer?.status()).toBe(401)
    expect(await page.getByRole('heading').textContent()).toBe('This browser is not let in yet')
    await stranger.close()
  })

  it('shows a change in a second window within a second', async () => {
    const second = await open.context.newPage()
    await second.goto(open.page.url())
    await second.evaluate(() => {
      const heard = new Promise<number>((resolve) => {
        const events = new EventSource('/events')
        events.onmessage = () => {
          events.close()
          resolve(Date.now())
        }
      })
      Object.assign(window, { heard })
    })
    await new Promise((resolve) => setTimeout(resolve, 300))
    const sent = Date.now()
    const status = await open.page.evaluate(async (studio) => {
      const headers = { 'content-type': 'application/json' }
      const body = JSON.stringify(studio)
      return (await fetch('/api/start.createStudio', { method: 'POST', headers, body })).status
    }, newStudio)
    expect(status).toBe(200)
    const heard = await second.evaluate(() => (window as unknown as { heard: Promise<number> }).heard)
    expect(heard - sent).toBeLessThan(1000)
    await second.close()
  })

  it('gives nothing to a page on another port, though the browser sends the cookie along', async () => {
    const [itsPage, another] = [await aStranger(), await aStranger()]
    const stranger = await open.context.newPage()
    await stranger.goto(itsPage)
    const reach = (address: string) =>
      stranger.evaluate((url) => {
        const asked = fetch(url, { mode: 'no-cors', credentials: 'include' })
        return asked.then(
          ({ type }) => type,
          () => 'nothing',
        )
      }, address)
    expect(await reach(another)).toBe('opaque')
    expect(await reach(new URL('/api/start.state', open.page.url()).href)).toBe('nothing')
    await stranger.close()
  })

  it('closes its store on Ctrl+C while windows still listen, and forgets who was in', async () => {
    await open.page.evaluate(() => {
      Object.assign(window, { events: new EventSource('/events') })
    })
    const kept = join(open.host.studio, 'studio.db')
    const started = Date.now()
    const { process: host, studio } = open.host
    host.kill('SIGINT')
    await new Promise((resolve) => host.once('exit', resolve))
    expect(host.exitCode).toBe(0)
    expect(Date.now() - started).toBeLessThan(3000)
    // SQLite removes the write-ahead log when the last connection has closed the file in order.
    expect(existsSync(`${kept}-wal`)).toBe(false)
    const again = await startHost(studio)
    const answer = await open.page.goto(new URL('/', again.address).href)
    expect(answer?.status()).toBe(401)
    expect(await again.close()).toBe(0)
  })
})

/** A server of somebody else on this computer, gone after the test. */
async function aStranger(): Promise<string> {
  const server = createServer((_request, answer) =>
    answer.setHeader('content-type', 'text/html').end('<p>A stranger'),
  )
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  onTestFinished(() => {
    server.close()
    server.closeAllConnections()
  })
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/`
}
