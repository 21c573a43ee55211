import { readFile } from 'node:fs/promises'
import { extname, resolve, sep } from 'node:path'

const mediaTypes: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.ttf': 'font/ttf',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
}

export interface RendererFile {
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly mediaType: string
  readonly cacheControl: string
}

/**
 * A file of the built page. An address without a file ending belongs to the page itself (`/jobs/12/quote`)
 * and gives `index.html`. Nothing outside the folder is ever read, however the path is written.
 * @param folder    the folder of the built page
 * @param pathname  the address's path as the URL carries it, percent-encoded
 * @returns         the file, or undefined where there is none
 */
export async function rendererFile(folder: string, pathname: string): Promise<RendererFile | undefined> {
  const path = decoded(pathname)
  if (path === undefined || /[\0\\]/.test(path) || path.split('/').includes('..')) return undefined
  const name = extname(path) === '' ? '/index.html' : path
  const root = resolve(folder)
  const file = resolve(root, `.${name}`)
  if (!file.startsWith(root + sep)) return undefined
  const mediaType = mediaTypes[extname(file)]
  if (!mediaType) return undefined
  try {
    return {
      bytes: new Uint8Array(await readFile(file)),
      mediaType,
      // Built files under assets/ carry a hash in their name; index.html names them and must be fresh.
      cacheControl: name.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
    }
  } catch (error) {
    if (isMissing(error)) return undefined
    throw error
  }
}

function decoded(pathname: string): string | undefined {
  try {
    return decodeURIComponent(pathname)
  } catch {
    return undefined
  }
}

function isMissing(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  return code === 'ENOENT' || code === 'EISDIR' || code === 'ENOTDIR'
}
