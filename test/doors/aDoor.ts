import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { request as httpRequest, type IncomingHttpHeaders } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import * as z from 'zod'
import { openCalendar } from '../../main/api/calendar.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { anteroomCall, call, router } from '../../main/api/kit.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { type Inside, openBrowserDoor } from '../../main/doors/browserDoor.ts'
import { bugLog } from '../../main/doors/log.ts'
import { Refusal } from '../../main/trade/refusal.ts'

/** Calls that end in every way a call can end, through the same gate as all others. */
const everyEnding = router({
  greet: anteroomCall
    .input(z.object({ name: z.string().min(1, 'The name is empty. Type it in.') }))
    .query(({ input }) => `Hello ${input.name}`),
  refuse: anteroomCall.query(() => {
    throw new Refusal('step-longer-than-rim', 'The step, 900 mm, is longer than the rim, 800 mm.', {
      field: 'stepMm',
    })
  }),
  breakDown: anteroomCall.query(() => {
    throw new Error('the drawer is stuck')
  }),
  change: call.mutation(() => 'changed'),
})

/** A studio that says of itself what a new one must. */
export const aNewStudio = {
  name: 'Quarry Lane Spins',
  personName: 'Ada Winter',
  country: 'DE',
  currency: 'EUR',
  timeZone: 'Europe/Berlin',
  locale: 'en-GB',
  taxName: 'VAT',
  taxRatePpm: 190_000,
  isDemo: false,
}

/** The inside of a program run on a new studio in a temporary folder, with a built page of two files. */
export function anInside(): Inside & { folder: string } {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-door-'))
  const folder = join(place, 'studio')
  const house = new StudioHouse({
    studioFolder: folder,
    demoFolder: join(place, 'demo'),
    now: () => new Date(),
  })
  makeStudio(house, folder, aNewStudio)
  const rendererFolder = join(place, 'renderer')
  mkdirSync(join(rendererFolder, 'assets'), { recursive: true })
  writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>Turnsheet</title>')
  writeFileSync(join(rendererFolder, 'assets/page-1a2b.js'), 'export {}')
  writeFileSync(join(place, 'secret.json'), '{"secret":true}')
  onTestFinished(() => {
    house.leave()?.close()
    rmSync(place, { recursive: true, force: true })
  })
  const paper = {
    name: 'Quote 7 – Möller.pdf',
    mediaType: 'application/pdf',
    bytes: new TextEncoder().encode('%PDF-1.7'),
  }
  return {
    house,
    router: everyEnding,
    rendererFolder,
    log: bugLog(() => folder),
    openPaper: async (id) => (id === 7 ? paper : undefined),
    openFile: async () => undefined,
    openFrame: async (takeId, frame, size) =>
      takeId === 7 && frame === 2
        ? { jpeg: new Uint8Array([0xff, 0xd8, 0xff]), tag: `one-picture-${size}` }
        : undefined,
    openCalendar: (secret) => house.studio && openCalendar(house.studio, secret),
    folder,
  }
}

export interface Answer {
  readonly status: number
  readonly headers: IncomingHttpHeaders
  readonly text: string
}

/** A browser door that listens, and a way to send it any headers at all, the forbidden ones too. */
export async function anOpenDoor() {
  const inside = anInside()
  const door = await openBrowserDoor(inside, 0)
  onTestFinished(() => door.close())
  const send = (path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const request = httpRequest({ host: '127.0.0.1', port: door.port, path, method, headers }, (answer) => {
        answer.setEncoding('utf8')
        let text = ''
        answer.on('data', (part: string) => {
          text += part
        })
        answer.on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text }))
      })
      request.on('error', reject)
      request.end()
    })
  /** Follows a fresh address as a browser would, and gives the cookie it was handed. */
  const enter = async () => {
    const answer = await send(pathOf(door.newAddress()))
    return answer.headers['set-cookie']?.[0]?.split(';')[0] ?? ''
  }
  return { inside, door, send, enter }
}

/** Path and query of an address. */
export function pathOf(address: string): string {
  const { pathname, search } = new URL(address)
  return pathname + search
}
