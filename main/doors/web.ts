import type { AnyTRPCRouter, TRPCError } from '@trpc/server'
import { fetchRequestHandler } from '@trpc/server/adapters/fetch'
import { Hono, type MiddlewareHandler } from 'hono'
import { ZodError } from 'zod'
import type { StudioHouse } from '../api/house.ts'
import type { Asked } from '../api/kit.ts'
import type { PictureSize } from '../trade/check/checkStatus.ts'
import { Refusal } from '../trade/refusal.ts'
import type { FramePicture } from '../work/checkSession.ts'
import { answerCalendar, isCalendarAddress } from './calendarFeed.ts'
import { changeEvents } from './events.ts'
import { frameResponse } from './framePicture.ts'
import { securityHeaders } from './headers.ts'
import type { BugLog } from './log.ts'
import { type Paper, paperResponse } from './paper.ts'
import { rendererFile } from './rendererFiles.ts'

export interface WebOptions {
  readonly house: StudioHouse
  readonly router: AnyTRPCRouter
  /** The folder of the built page. */
  readonly rendererFolder: string
  /** Who may come in; runs before everything else. */
  readonly guard: MiddlewareHandler
  readonly log: BugLog
  /** A paper or attachment by its number in the open studio. */
  readonly openPaper: (id: number) => Promise<Paper | undefined>
  /** A kept file by its SHA-256 in lower-case hex. */
  readonly openFile: (sha256: string) => Promise<Paper | undefined>
  /** The picture of a take's frame, both by their numbers; undefined where it cannot be had now. */
  readonly openFrame: (takeId: number, frame: number, size: PictureSize) => Promise<FramePicture | undefined>
  /** The calendar's text for whoever knows the secret of its address. */
  readonly openCalendar: (secret: string) => string | undefined
  /** Aborted when the door closes: ends the streams that would hold the server open. */
  readonly closing: AbortSignal
}

const broke = 'Something broke. Nothing was saved.'

/**
 * The one web application behind both doors: calls under `/api`, changes under `/events`, papers and files, frames'
 * pictures, the calendar, and the built page for every other address.
 */
export function webApplication(options: WebOptions): Hono {
  const { house, log } = options
  const app = new Hono()
  app.use(async (c, next) => {
    await next()
    for (const [name, value] of Object.entries(securityHeaders)) c.res.headers.set(name, value)
  })
  app.use(options.guard)
  app.all('/api/*', (c) => answerCall(options, c.req.raw))
  app.get('/events', () => changeEvents(house, options.closing))
  app.get('/papers/:id{[1-9][0-9]{0,14}}', async (c) =>
    found(await options.openPaper(Number(c.req.param('id')))),
  )
  app.get('/files/:sha256{[0-9a-f]{64}}', async (c) => found(await options.openFile(c.req.param('sha256'))))
  app.get('/frames/:take{[1-9][0-9]{0,14}}/:frame{[1-9][0-9]{0,5}}/:size{large}?', async (c) => {
    const [take, frame] = [Number(c.req.param('take')), Number(c.req.param('frame'))]
    const picture = await options.openFrame(take, frame, c.req.param('size') ? 'large' : 'small')
    return frameResponse(picture, c.req.header('if-none-match'))
  })
  app.get('/calendar/:file', (c) => answerCalendar(c.req, options.openCalendar))
  for (const path of ['/papers/*', '/files/*', '/frames/*']) app.all(path, () => found(undefined))
  // Asked for beside a paper in a tab of its own, which can name no icon.
  app.get('/favicon.ico', (c) => c.body(null, 204))
  app.get('*', async (c) => {
    const file = await rendererFile(options.rendererFolder, new URL(c.req.url).pathname)
    if (!file) return c.text('There is nothing at this address.', 404)
    return c.body(file.bytes, 200, { 'content-type': file.mediaType, 'cache-control': file.cacheControl })
  })
  app.onError((error, c) => {
    if (error instanceof Refusal) return c.text(error.message, 404)
    // The log may be read by others, so it never holds the calendar's secret.
    const path = isCalendarAddress(c.req.path) ? '/calendar/…' : c.req.path
    log.bug(`${c.req.method} ${path}`, error)
    return c.text(broke, 500)
  })
  return app
}

/** Answers a call. A refusal is an answer like any other and travels with status 200; a bug is logged. */
function answerCall({ house, router, log }: WebOptions, request: Request): Promise<Response> {
  return fetchRequestHandler({
    endpoint: '/api',
    req: request,
    router,
    // Questions come as POST: some carry a whole file, which no address can hold.
    allowMethodOverride: true,
    createContext: (): Asked => ({ house, who: undefined }),
    responseMeta: ({ errors }) => (errors.length > 0 && errors.every(isRefusal) ? { status: 200 } : {}),
    onError: ({ error, path, type }) => {
      if (!isRefusal(error)) log.bug(`${type} ${path ?? '(no path)'}`, error)
    },
  })
}

function isRefusal(error: TRPCError): boolean {
  return error.cause instanceof Refusal || (error.code === 'BAD_REQUEST' && error.cause instanceof ZodError)
}

function found(paper: Paper | undefined): Response {
  if (paper) return paperResponse(paper)
  return new Response('This paper is not in the studio.', {
    status: 404,
    headers: { 'content-type': 'text/plain' },
  })
}
