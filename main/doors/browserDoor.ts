import type { AddressInfo } from 'node:net'
import { createAdaptorServer, type ServerType } from '@hono/node-server'
import { Refusal } from '../trade/refusal.ts'
import { loopbackGuard } from './guard.ts'
import { type WebOptions, webApplication } from './web.ts'

/** What every door needs of the inside. */
export type Inside = Omit<WebOptions, 'guard' | 'closing'>

export interface BrowserDoor {
  readonly port: number
  /** An address with a fresh key: lets in one browser, once. */
  newAddress(): string
  /** Ends the streams, then the server. */
  close(): Promise<void>
}

// Loopback alone. Plain HTTP over a network would show everything to it, and is no secure context besides.
const hostname = '127.0.0.1'
const portsTried = 20

/**
 * Opens the browser door on this machine.
 * @param firstPort  tried first; the next free one of the twenty from there is taken
 */
export async function openBrowserDoor(inside: Inside, firstPort: number): Promise<BrowserDoor> {
  let port = firstPort
  const guard = loopbackGuard(() => port)
  const closing = new AbortController()
  const app = webApplication({ ...inside, guard: guard.middleware, closing: closing.signal })
  const server = createAdaptorServer({ fetch: app.fetch, hostname })

  const listen = (at: number) =>
    new Promise<boolean>((resolve, reject) => {
      const failed = (error: NodeJS.ErrnoException) =>
        error.code === 'EADDRINUSE' || error.code === 'EACCES' ? resolve(false) : reject(error)
      server.once('error', failed)
      server.listen(at, hostname, () => {
        server.off('error', failed)
        resolve(true)
      })
    })
  while (!(await listen(port))) {
    port += 1
    if (port >= firstPort + portsTried || port > 65_535) {
      throw new Refusal(
        'no-free-port',
        `None of the ports ${firstPort} to ${port - 1} is free on this computer. Name another with --port.`,
      )
    }
  }
  port = (server.address() as AddressInfo).port
  inside.house.doorAt(`http://${hostname}:${port}`)

  return {
    port,
    newAddress: () => `http://${hostname}:${port}/?key=${guard.newKey()}`,
    close: () => {
      inside.house.doorAt(undefined)
      closing.abort()
      return ended(server)
    },
  }
}

/** Ends a server: connections as they fall idle, and whatever is still at work after two seconds. */
function ended(server: ServerType): Promise<void> {
  return new Promise((resolve) => {
    let waitedMs = 0
    const sweep = setInterval(() => {
      waitedMs += 50
      if (!('closeAllConnections' in server)) return
      if (waitedMs < 2000) server.closeIdleConnections()
      else server.closeAllConnections()
    }, 50)
    server.close(() => {
      clearInterval(sweep)
      resolve()
    })
  })
}
