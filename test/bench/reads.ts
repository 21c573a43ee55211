import path from 'node:path'
import { openStore } from '../../db/open.ts'
import type { ReadCase } from './cases.ts'
import { type Call, type MeasuredHouse, openMeasured } from './house.ts'
import { timed, timesOf } from './measure.ts'
import { Bare, type Recorded, recordStatements } from './record.ts'
import type { Result } from './report.ts'

const warmUps = 5
const times = 60
const screenBudgetMs = 10

/** Measures what screens read: the API, the web application and the bare statements by turns, over other rows each time. */
export async function measureReads(folder: string, cases: readonly ReadCase[]): Promise<readonly Result[]> {
  let take: () => readonly Recorded[] = () => []
  const recording = await openMeasured(folder, (db) => {
    take = recordStatements(db)
  })
  const house = await openMeasured(folder)
  const bareDb = openStore(path.join(folder, 'studio.db'), { readonly: true })
  const bare = new Bare(bareDb)
  const results: Result[] = []
  try {
    for (const one of cases) results.push(await measureOne(one, recording, take, house, bare))
  } finally {
    bareDb.close()
    house.close()
    recording.close()
  }
  return results
}

async function measureOne(
  { name, calls, budgetMs = screenBudgetMs }: ReadCase,
  recording: MeasuredHouse,
  take: () => readonly Recorded[],
  house: MeasuredHouse,
  bare: Bare,
): Promise<Result> {
  const samples = { api: [] as number[], web: [] as number[], bare: [] as number[], rows: [] as number[] }
  for (let time = -warmUps; time < times; time += 1) {
    const asked = calls(time + warmUps)
    take()
    await each(asked, (call) => recording.call(call))
    const recorded = take()
    bare.prepare(recorded)
    let rows = 0
    const bareMs = await timed(() => {
      rows = bare.run(recorded)
    })
    const apiMs = await timed(() => each(asked, (call) => house.call(call)))
    const webMs = await timed(() => each(asked, (call) => house.fetch(call)))
    if (time < 0) continue
    samples.bare.push(bareMs)
    samples.api.push(apiMs)
    samples.web.push(webMs)
    samples.rows.push(rows)
  }
  return {
    name,
    rows: Math.round(samples.rows.reduce((sum, rows) => sum + rows, 0) / samples.rows.length),
    api: timesOf(samples.api),
    web: timesOf(samples.web),
    bare: timesOf(samples.bare),
    budgetMs,
  }
}

async function each(calls: readonly Call[], ask: (call: Call) => Promise<unknown>): Promise<void> {
  for (const call of calls) await ask(call)
}
