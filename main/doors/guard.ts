import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import type { MiddlewareHandler } from 'hono'
import { getCookie, setCookie } from 'hono/cookie'
import { isCalendarAddress } from './calendarFeed.ts'
import { foreignPage, signedOutPage } from './guardPages.ts'

export interface Guard {
  readonly middleware: MiddlewareHandler
  /** A fresh key for the address `/?key=…`: 256 random bits, good for one browser, once. */
  newKey(): string
}

const loopbackNames = ['127.0.0.1', 'localhost', '[::1]']

/**
 * The guard of the browser door on this machine.
 *
 * A page elsewhere can make a browser send requests here, by a plain link or by a name of its own that it
 * points at 127.0.0.1 (DNS rebinding). So the `Host` must be a loopback name with our port, an `Origin` must
 * be that very host, and whatever writes must carry one. Beyond that every request needs the cookie of a
 * session, and a session is opened only by a key from a printed address. Sessions live in memory as
 * hashes: closing the door ends them all. The calendar's address alone is read without a session: calendar programs keep no
 * cookies, and the secret in it is as long as a session's.
 * @param port  gives the port the door listens on, known once it listens
 */
export function loopbackGuard(port: () => number): Guard {
  const keys = new HashedSet()
  const sessions = new HashedSet()

  const middleware: MiddlewareHandler = async (c, next) => {
    const host = c.req.header('host')?.toLowerCase() ?? ''
    const origin = c.req.header('origin')
    const reads = c.req.method === 'GET' || c.req.method === 'HEAD'
    const ours = loopbackNames.some((name) => host === `${name}:${port()}`)
    const originOurs = origin === undefined ? reads : origin === `http://${host}`
    if (!ours || !originOurs || isCrossSite(c.req.header('sec-fetch-site'), c.req.header('sec-fetch-mode'))) {
      return c.html(foreignPage, 403)
    }
    if (reads && isCalendarAddress(c.req.path)) return next()
    // Cookies do not tell ports apart; the name does, so that two studios on one machine keep theirs.
    const cookie = `turnsheet-${port()}`
    const session = getCookie(c, cookie)
    const known = session !== undefined && sessions.has(session)
    const key = c.req.path === '/' && c.req.method === 'GET' ? c.req.query('key') : undefined
    if (key !== undefined && (known || keys.take(key))) {
      if (!known) {
        const opened = secret()
        sessions.add(opened)
        setCookie(c, cookie, opened, { httpOnly: true, sameSite: 'Strict', path: '/' })
      }
      return c.redirect('/', 303)
    }
    if (!known) return c.html(signedOutPage, 401)
    await next()
  }

  return {
    middleware,
    newKey: () => {
      const key = secret()
      keys.add(key)
      return key
    },
  }
}

/** A request that another page caused. Following a link from there is allowed: it only opens a page. */
function isCrossSite(site: string | undefined, mode: string | undefined): boolean {
  return (site === 'cross-site' || site === 'same-site') && mode !== 'navigate'
}

function secret(): string {
  return randomBytes(32).toString('base64url')
}

/** Secrets kept as SHA-256 and compared in constant time, all of them each time. */
class HashedSet {
  #hashes: Buffer[] = []

  add(value: string): void {
    this.#hashes.push(hash(value))
  }

  has(value: string): boolean {
    const wanted = hash(value)
    let found = false
    for (const kept of this.#hashes) found = timingSafeEqual(kept, wanted) || found
    return found
  }

  /** True where the value was there; it is not afterwards. */
  take(value: string): boolean {
    const there = this.has(value)
    const wanted = hash(value)
    this.#hashes = this.#hashes.filter((kept) => !timingSafeEqual(kept, wanted))
    return there
  }
}

function hash(value: string): Buffer {
  return createHash('sha256').update(value).digest()
}
