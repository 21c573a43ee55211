import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
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
    expect(await open.page.title()).toBe('Turnsheet')
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

  it('refuses a page of another origin that knows the address', async () => {
    const port = new URL(open.page.url()).port
    const page = await open.context.newPage()
    await page.route('http://127.0.0.1:9/', (route) =>
      route.fulfill({ contentType: 'text/html', body: '<p>a stranger' }),
    )
    await page.goto('http://127.0.0.1:9/')
    const answered = page.waitForResponse(/start\.state/)
    await page.evaluate(async (own) => {
      await fetch(`http://127.0.0.1:${own}/api/start.state`, { mode: 'no-cors', credentials: 'include' })
    }, port)
    const answer = await answered
    // The browser does send the cookie: to it, two ports of one machine are one site.
    expect((await answer.request().allHeaders()).cookie).toContain(`turnsheet-${port}=`)
    expect(answer.status()).toBe(403)
    await page.close()
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
