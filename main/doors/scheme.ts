import { join } from 'node:path'
import { type CustomScheme, protocol } from 'electron'
import { securityHeaders } from './headers.ts'
import { rendererFile } from './rendererFiles.ts'
import type { StudioLink } from './studioLink.ts'

/** The desktop page's own origin. */
export const pageOrigin = 'studio://turnsheet'

export const schemePrivileges: CustomScheme = {
  scheme: 'studio',
  privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true },
}

/** True for an address of our own page. (`URL.origin` says 'null' for any scheme of one's own.) */
export function isOwnAddress(address: string): boolean {
  if (!URL.canParse(address)) return false
  const url = new URL(address)
  return url.protocol === 'studio:' && url.host === 'turnsheet'
}

/**
 * Serves the page's own addresses: built files from the program's folder, papers, kept files and frames'
 * pictures from the studio process. Calls do not come this way; the bridge is ten times faster.
 */
export function answerScheme(studio: StudioLink): void {
  const rendererFolder = join(import.meta.dirname, '../renderer')
  protocol.handle('studio', async (request) => {
    const { host, pathname } = new URL(request.url)
    if (host !== 'turnsheet' || request.method !== 'GET')
      return plain(404, 'There is nothing at this address.')
    if (/^\/(papers|files|frames)\//.test(pathname)) {
      const file = await studio.ask('file', { path: pathname })
      return new Response(file.bytes, { status: file.status, headers: file.headers })
    }
    const file = await rendererFile(rendererFolder, pathname)
    if (!file) return plain(404, 'There is nothing at this address.')
    return new Response(file.bytes, { headers: { ...securityHeaders, 'content-type': file.mediaType } })
  })
}

function plain(status: number, text: string): Response {
  return new Response(text, {
    status,
    headers: { ...securityHeaders, 'content-type': 'text/plain; charset=utf-8' },
  })
}
