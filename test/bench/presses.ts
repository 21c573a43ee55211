import { spawn } from 'node:child_process'
import path from 'node:path'
import { addressOf } from './coldStart.ts'
import { type Times, timed, timesOf } from './measure.ts'

const project = path.join(import.meta.dirname, '../..')
const port = 7480
const warmUps = 20
const presses = 300

/** A frame is durable and confirmed within this, at the 95th percentile. */
export const pressBudgetMs = 20

/** Presses frames of a running take over HTTP, one after the other, each kept before it is answered. Times in ms. */
export async function measurePresses(folder: string, takeId: number): Promise<Times> {
  const host = spawn(
    process.execPath,
    [path.join(project, 'dist/main/host.js'), '--studio', folder, '--port', String(port)],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  )
  try {
    const address = await addressOf(host.stdout)
    const entered = await fetch(address, { redirect: 'manual' })
    const headers = {
      cookie: entered.headers.get('set-cookie')?.split(';')[0] ?? '',
      origin: address.origin,
      'content-type': 'application/json',
    }
    const press = async (time: number) => {
      const acts = [{ key: `over-http-${time}`, agoMs: 2, act: { kind: 'frame' } }]
      const answer = await fetch(new URL('/api/takes.act', address), {
        method: 'POST',
        headers,
        body: JSON.stringify({ takeId, holder: { key: 'bench-tablet', place: 'the tablet' }, acts }),
      })
      const text = await answer.text()
      if (!text.includes('"refusal":null')) throw new Error(`A press was not kept: ${text.slice(0, 300)}`)
    }
    const samplesMs: number[] = []
    for (let time = -warmUps; time < presses; time += 1) {
      const ms = await timed(() => press(time))
      if (time >= 0) samplesMs.push(ms)
    }
    return timesOf(samplesMs)
  } finally {
    const ended = new Promise((resolve) => host.once('exit', resolve))
    host.kill('SIGTERM')
    await ended
  }
}
