import { performance } from 'node:perf_hooks'
import { median, quantile } from '../../main/trade/quantile.ts'

/** Times of one thing, in ms. */
export interface Times {
  readonly medianMs: number
  readonly p95Ms: number
}

export function timesOf(samplesMs: readonly number[]): Times {
  return { medianMs: median(samplesMs), p95Ms: quantile(samplesMs, 0.95) }
}

/** How long the work took, in ms. */
export async function timed(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}
