import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { aClient, aProduct } from '../builders.ts'
import { jobDraft } from '../jobs/aJob.ts'
import { see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const folder = mkdtempSync(join(tmpdir(), 'turnsheet-camera-'))
const film = join(folder, 'ticket.y4m')

/** A camera's film of one frame: the code on a sheet held a little askew before a dark set. */
async function filmOf(slate: {
  sizeModules: number
  dark: { column: number; line: number; length: number }[]
}) {
  const [width, height] = [640, 480]
  const modules = slate.dark
    .map(({ column, line, length }) => `<rect x="${column}" y="${line}" width="${length}" height="1"/>`)
    .join('')
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#181818"/>
    <g transform="translate(320 240) rotate(11)"><rect x="-130" y="-180" width="260" height="360" fill="#e4e4e4"/>
    <g transform="scale(${200 / slate.sizeModules}) translate(${-slate.sizeModules / 2} ${-slate.sizeModules / 2})" fill="#262626">${modules}</g></g></svg>`
  const grey = await sharp(Buffer.from(svg)).flatten().greyscale().blur(1).raw().toBuffer()
  const light = Uint8Array.from(
    { length: width * height },
    (_, k) => grey[k * (grey.length / (width * height))] ?? 0,
  )
  const colour = new Uint8Array((width * height) / 2).fill(128)
  // The format as the mjpegtools write it: a line for the film, then FRAME, lightness and two colours for each.
  const frame = Buffer.concat([Buffer.from('FRAME\n'), light, colour])
  writeFileSync(
    film,
    Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420mpeg2\n`), frame, frame]),
  )
}

describeBrowser('scanning a ticket', () => {
  let open: OpenBrowser
  let jobId = 0
  let shootId = 0
  let scanText = ''
  const ask = async (path: string, input: unknown) => {
    const { status, answer } = await open.page.evaluate(
      async ([name, body]) => {
        const headers = { 'content-type': 'application/json' }
        const response = await fetch(`/api/${name}`, { method: 'POST', headers, body })
        return { status: response.status, answer: await response.json() }
      },
      [path, JSON.stringify(input)] as const,
    )
    expect(status, JSON.stringify(answer)).toBe(200)
    return answer.result?.data
  }
  const go = (address: string) => open.page.goto(new URL(address, open.host.address).href)
  /** Types as a hand scanner does: every key at once, then Enter. */
  const scanByHand = async (code: string) => {
    await open.page.evaluate((text) => {
      const target = document.activeElement ?? document.body
      for (const key of [...text, 'Enter']) {
        target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
      }
    }, code)
  }

  beforeAll(async () => {
    open = await openBrowser(undefined, [
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ])
    await ask('start.createStudio', {
      name: 'Quarry Lane Spins',
      personName: 'Ada Winter',
      country: 'DE',
      currency: 'EUR',
      timeZone: 'Europe/Berlin',
      locale: 'en-GB',
      taxName: 'VAT',
      taxRatePpm: 190_000,
    })
    const { clientId } = await ask('clients.add', aClient())
    const { productId } = await ask('products.add', { clientId, product: aProduct({ code: 'KN-01' }) })
    const job = await ask('jobs.add', {
      clientId,
      job: jobDraft(),
      spins: [{ productIds: [productId], name: 'Kettle on its stand' }],
    })
    jobId = job.jobId
    const spins = await ask('prints.tickets', { of: { jobId } })
    expect(spins.printed).toBe(1)
    // The only spin of a new studio.
    shootId = 1
    const slate = await open.page.evaluate(async () => {
      const response = await fetch('/api/tickets.slate', {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-http-method-override': 'GET' },
        body: JSON.stringify({ shootId: 1 }),
      })
      return (await response.json()).result.data
    })
    scanText = slate.scanText
    await filmOf(slate)
  })
  afterAll(async () => {
    await open?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  it('through the camera opens its spin’s takes', async () => {
    await go('/board')
    await open.page.getByRole('button', { name: 'Scan' }).click()
    await open.page.waitForURL(`**/jobs/${jobId}/takes?spin=${shootId}`)
    await open.page.getByRole('heading', { name: 'Kettle on its stand' }).waitFor()
    expect(await open.page.getByRole('dialog').count()).toBe(0)
    expect(open.complaints).toEqual([])
  })

  it('by a hand scanner among samples opens its arrival, and then says that it is here', async () => {
    await go(`/jobs/${jobId}/samples`)
    await see(open.page, 'Tick samples')
    await scanByHand(scanText)
    await open.page.getByRole('heading', { name: 'Arrived: KN-01' }).waitFor()
    await open.page.getByLabel('Where it is put').fill('A 3')
    await open.page.getByRole('button', { name: 'Take them in' }).click()
    await see(open.page, 'KN-01: taken in')
    await scanByHand(scanText)
    await open.page.getByText('at A 3.').waitFor()
  })

  it('typed into the search box opens its spin', async () => {
    await go('/board')
    const box = open.page.getByRole('combobox', { name: /Find a client/ })
    await box.fill(scanText.toLowerCase())
    await box.press('Enter')
    await open.page.waitForURL(`**/jobs/${jobId}/takes?spin=${shootId}`)
  })

  it('of somebody else is refused by a sentence, and the page stays', async () => {
    await go('/board')
    await open.page.getByRole('heading', { name: 'Board' }).first().waitFor()
    await scanByHand('4006381333931')
    await open.page.getByText('“4006381333931” is no ticket of this program.').waitFor()
    const mark = scanText.slice(10, 14) === '0000' ? '0001' : '0000'
    await scanByHand(`TURNSHEET.${mark}.1`)
    await open.page.getByText('was printed by another studio').waitFor()
    expect(new URL(open.page.url()).pathname).toBe('/board')
  })

  it('shows the slate as large as the tablet, and it can be read from its picture', async () => {
    await open.page.setViewportSize({ width: 1024, height: 768 })
    await go(`/slate/${shootId}`)
    const code = open.page.getByRole('img', { name: `Square code ${scanText}` })
    await code.waitFor()
    expect((await code.boundingBox())?.height).toBeGreaterThan(768 * 0.85)
    const { default: jsQR } = await import('jsqr')
    const { data, info } = await sharp(await open.page.screenshot())
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true })
    expect(jsQR(new Uint8ClampedArray(data), info.width, info.height)?.data).toBe(scanText)
  })
})
