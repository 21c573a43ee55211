import path from 'node:path'
import { type Db, openStore } from '../../db/open.ts'
import { ownerOf } from '../../db/studio.ts'
import { caller } from '../../main/api/caller.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { appRouter } from '../../main/api/router.ts'
import { loopbackGuard } from '../../main/doors/guard.ts'
import { bugLog } from '../../main/doors/log.ts'
import { webApplication } from '../../main/doors/web.ts'
import { benchNow } from './generate.ts'

/** A call of the API by its path: 'jobs.one' with its input. */
export interface Call {
  readonly path: string
  readonly input?: unknown
}

/** A written studio open for measuring: its connection, its API, its web application. */
export interface MeasuredHouse {
  readonly db: Db
  /** Through the caller, as the demo and the tests call. */
  call(call: Call): Promise<unknown>
  /** Through the web application's own fetch, the guard and JSON both ways; refuses any answer but 200. */
  fetch(call: Call): Promise<unknown>
  /** Moves the clock on. */
  pass(ms: number): void
  close(): void
}

const host = '127.0.0.1:7360'

/** Opens a written studio without its lock, so that several connections can stand beside each other. */
export async function openMeasured(
  folder: string,
  prepare: (db: Db) => void = () => {},
): Promise<MeasuredHouse> {
  const db = openStore(path.join(folder, 'studio.db'))
  prepare(db)
  const owner = ownerOf(db)
  if (!owner) throw new Error('The written studio has no owner.')
  let now = benchNow
  const house = new StudioHouse({ studioFolder: folder, demoFolder: folder, now: () => now })
  house.enter({ db, folder, owner, now: () => now, close: () => db.close() })
  const api = caller(house)
  const guard = loopbackGuard(() => 7360)
  const app = webApplication({
    house,
    router: appRouter,
    rendererFolder: folder,
    guard: guard.middleware,
    log: bugLog(() => undefined),
    openPaper: async () => undefined,
    openFile: async () => undefined,
    openFrame: async () => undefined,
    openCalendar: () => undefined,
    closing: new AbortController().signal,
  })
  const entered = await app.fetch(new Request(`http://${host}/?key=${guard.newKey()}`, { headers: { host } }))
  const cookie = entered.headers.get('set-cookie')?.split(';')[0] ?? ''
  return {
    db,
    call: ({ path: callPath, input }) => procedureOf(api, callPath)(input),
    async fetch({ path: callPath, input }) {
      const answer = await app.fetch(
        new Request(`http://${host}/api/${callPath}`, {
          method: 'POST',
          headers: { host, origin: `http://${host}`, cookie, 'content-type': 'application/json' },
          body: JSON.stringify(input ?? null),
        }),
      )
      const text = await answer.text()
      if (answer.status !== 200 || text.startsWith('{"error"'))
        throw new Error(`${callPath}: ${text.slice(0, 300)}`)
      return JSON.parse(text) as unknown
    },
    pass: (ms) => {
      now = new Date(now.getTime() + ms)
    },
    close: () => house.leave()?.close(),
  }
}

function procedureOf(api: ReturnType<typeof caller>, callPath: string): (input: unknown) => Promise<unknown> {
  const [subject = '', name = ''] = callPath.split('.')
  const calls = (api as unknown as Record<string, Record<string, (input: unknown) => Promise<unknown>>>)[
    subject
  ]
  const procedure = calls?.[name]
  if (!procedure) throw new Error(`The API has no call ${callPath}.`)
  return procedure
}
