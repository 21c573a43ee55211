import { createHash } from 'node:crypto'
import type { HonoRequest } from 'hono'

/** A calendar's address: the secret is 43 characters of base64url, 256 bits. */
const address = /^\/calendar\/([\w-]{43})\.ics$/u

/** Whether a path has the form of a calendar's address; whether its secret is right is asked of the studio. */
export function isCalendarAddress(path: string): boolean {
  return address.test(path)
}

/**
 * Answers a calendar program: the calendar, or 304 where it has this one already (RFC 9110, 13.1.2). A wrong secret and a
 * calendar that is switched off look alike. No cookie is read or set.
 */
export function answerCalendar(
  request: HonoRequest,
  openCalendar: (secret: string) => string | undefined,
): Response {
  const secret = address.exec(request.path)?.[1]
  const text = secret === undefined ? undefined : openCalendar(secret)
  if (text === undefined) {
    return new Response('There is no calendar at this address.', {
      status: 404,
      headers: { 'content-type': 'text/plain', 'cache-control': 'no-store' },
    })
  }
  const etag = `"${createHash('sha256').update(text).digest('base64url')}"`
  const headers = { etag, 'cache-control': 'private, no-cache' }
  if (isKnown(request.header('if-none-match'), etag)) return new Response(null, { status: 304, headers })
  return new Response(text, { headers: { ...headers, 'content-type': 'text/calendar; charset=utf-8' } })
}

/** Whether one of the tags that are named is this one; a weak tag counts too (RFC 9110, 8.8.3.2). */
function isKnown(named: string | undefined, etag: string): boolean {
  if (named === undefined) return false
  return named.trim() === '*' || named.split(',').some((tag) => tag.trim().replace(/^W\//u, '') === etag)
}
