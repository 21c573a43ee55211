import path from 'node:path'
import { performance } from 'node:perf_hooks'
import { backTestOf } from '../../db/backTest.ts'
import { learnedPace } from '../../db/learnedPace.ts'
import { openStore } from '../../db/open.ts'
import { quantile } from '../../main/trade/quantile.ts'
import { timed } from './measure.ts'

/** The back-test over the first 100,000 takes of a studio, and what estimates learn from; times in ms. */
export interface BackTestTimes {
  readonly takes: number
  readonly wholeMs: number
  /** One lot of takes: how long others wait at most before they are answered. */
  readonly lotP95Ms: number
  /** Learning from the newest takes, after one of them has changed. */
  readonly learningMs: number
}

const wanted = 100_000

export async function measureBackTest(folder: string): Promise<BackTestTimes> {
  const db = openStore(path.join(folder, 'studio.db'), { readonly: true })
  try {
    const learningMs = await timed(() => learnedPace(db))
    const lots = backTestOf(db)
    const lotsMs: number[] = []
    let takes = 0
    while (takes < wanted) {
      const start = performance.now()
      const lot = lots.next()
      lotsMs.push(performance.now() - start)
      if (lot.done) break
      takes = lot.value
    }
    return {
      takes,
      wholeMs: lotsMs.reduce((sum, ms) => sum + ms, 0),
      lotP95Ms: quantile(lotsMs, 0.95),
      learningMs,
    }
  } finally {
    db.close()
  }
}
