import { once } from 'node:events'
import { createServer } from 'node:net'
import { expect, it } from 'vitest'
import { aStudioToTurn, turnALongTake } from '../path/longTake.ts'
import { describeBrowser, openBrowser, startHost } from './kit.ts'

describeBrowser('a long take on a tablet', () => {
  it('ends with exactly the pressed frames and their times, over a killed studio and a cut network', async () => {
    const folder = await aStudioToTurn()
    const port = await freePort()
    const open = await openBrowser(folder, [], {
      port,
      context: { viewport: { width: 1024, height: 768 }, hasTouch: true },
    })
    const { context, page } = open
    let { host } = open
    try {
      await turnALongTake(
        {
          page: () => page,
          async kill(goOn) {
            const dead = once(host.process, 'exit')
            host.process.kill('SIGKILL')
            await dead
            await goOn()
            host = await startHost(folder, port)
            await page.goto(host.address)
          },
          cut: () => context.setOffline(true),
          mend: () => context.setOffline(false),
          async close() {
            expect(await host.close()).toBe(0)
          },
        },
        folder,
      )
      // What failed while there was no studio is the browser's own complaint, and no other.
      expect(open.complaints.filter((line) => !/ERR_|Failed to load resource/.test(line))).toEqual([])
    } finally {
      await host.close()
      await open.close()
    }
  })
})

/** A port that nobody listens at: the browser keeps what it keeps by the whole address. */
async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1')
  await once(server, 'listening')
  const address = server.address()
  server.close()
  if (address === null || typeof address === 'string') throw new Error('The system gave no port.')
  return address.port
}
