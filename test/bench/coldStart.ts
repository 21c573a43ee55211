import { spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { performance } from 'node:perf_hooks'
import { createInterface } from 'node:readline'
import { median } from '../../main/trade/quantile.ts'

const project = path.join(import.meta.dirname, '../..')
const port = 7460

/**
 * Starts the built browser door on the studio three times and asks for the board as a browser would. Gives
 * the median time to that answer, in ms, and the resident memory of the last run, in MB, where the system
 * tells it.
 */
export async function coldStart(
  folder: string,
): Promise<{ boardMs: number; residentMegabytes: number | null }> {
  const runs: number[] = []
  let residentMegabytes: number | null = null
  for (let run = 0; run < 3; run += 1) {
    const start = performance.now()
    const host = spawn(
      process.execPath,
      [path.join(project, 'dist/main/host.js'), '--studio', folder, '--port', String(port)],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    )
    try {
      const board = await firstBoard(await addressOf(host.stdout))
      if (!board.includes('"jobs"')) throw new Error(`The board did not answer: ${board.slice(0, 200)}`)
      runs.push(performance.now() - start)
      residentMegabytes = residentOf(host.pid)
    } finally {
      const ended = new Promise((resolve) => host.once('exit', resolve))
      host.kill('SIGTERM')
      await ended
    }
  }
  return { boardMs: median(runs), residentMegabytes }
}

/** The address that a browser door prints as it opens. */
export async function addressOf(output: NodeJS.ReadableStream): Promise<URL> {
  for await (const line of createInterface(output)) {
    const address = /http:\S+/u.exec(line)?.[0]
    if (address) return new URL(address)
  }
  throw new Error('The browser door did not open.')
}

async function firstBoard(address: URL): Promise<string> {
  const entered = await fetch(address, { redirect: 'manual' })
  const cookie = entered.headers.get('set-cookie')?.split(';')[0] ?? ''
  const answer = await fetch(new URL('/api/board.jobs', address), {
    method: 'POST',
    headers: { cookie, origin: address.origin, 'content-type': 'application/json' },
    body: '{}',
  })
  return answer.text()
}

/** Resident memory in MB, from Linux's own record of the process. */
function residentOf(pid: number | undefined): number | null {
  const status = `/proc/${pid}/status`
  if (!fs.existsSync(status)) return null
  const kilobytes = /VmRSS:\s+(\d+) kB/u.exec(fs.readFileSync(status, 'utf8'))?.[1]
  return kilobytes === undefined ? null : Number(kilobytes) / 1024
}
