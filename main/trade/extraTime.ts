import type { Cost } from './spinCost.ts'

/** The part of all jobs whose extra time, averaged over a stretch from `fromMs` to `toMs`, lies below it. */
export type BelowOnAverage = (fromMs: number, toMs: number) => number

const bins = 256

/**
 * What restarts and reshoots of several spins add up to at one step: the convolution of the spins' own extra
 * times on a table of 256 evenly spaced times. Each is put on the table so that its mean stays exact; what lies
 * over eight deviations past the mean is counted at the table's end.
 */
export function extraTime(
  costs: readonly Cost[],
  stepMs: number,
  meanMs: number,
  deviationMs: number,
): BelowOnAverage {
  const most = costs.reduce((sum, cost) => sum + mostExtraMs(cost, stepMs), 0)
  const binMs = Math.min(most, meanMs + 8 * deviationMs) / (bins - 1)
  let parts = new Float64Array(bins)
  parts[0] = 1
  if (!(binMs > 0)) return below(parts, 1)
  let spare = new Float64Array(bins)
  for (const cost of costs) {
    for (const add of [addRestart, addReshoot]) {
      add(spare, parts, cost, stepMs / binMs, cost.againMs / binMs)
      ;[parts, spare] = [spare, parts]
    }
  }
  return below(parts, binMs)
}

function mostExtraMs(cost: Cost, stepMs: number): number {
  const restart = cost.restart > 0 ? Math.max(...cost.rowFrames) * stepMs : 0
  return restart + (cost.reshoot > 0 ? cost.againMs + cost.frames * stepMs : 0)
}

/** With a restart anywhere in its rows, each frame as likely as any other. */
function addRestart(out: Float64Array, parts: Float64Array, cost: Cost, stepBins: number): void {
  for (let i = 0; i < bins; i += 1) out[i] = (parts[i] as number) * (1 - cost.restart)
  if (cost.restart === 0) return
  const shot = cost.rowFrames.reduce((a, b) => a + b, 0)
  for (const frames of cost.rowFrames) {
    addSmeared(out, parts, frames * stepBins, (cost.restart * frames) / shot)
  }
}

/** With a reshoot; what would lie between two bins is shared by them, and past the end it is at the end. */
function addReshoot(
  out: Float64Array,
  parts: Float64Array,
  cost: Cost,
  stepBins: number,
  againBins: number,
): void {
  for (let i = 0; i < bins; i += 1) out[i] = (parts[i] as number) * (1 - cost.reshoot)
  if (cost.reshoot === 0) return
  const by = againBins + cost.frames * stepBins
  const whole = Math.floor(by)
  const rest = by - whole
  for (let i = 0; i < bins; i += 1) {
    const part = (parts[i] as number) * cost.reshoot
    const low = Math.min(i + whole, bins - 1)
    const high = Math.min(low + 1, bins - 1)
    out[low] = (out[low] as number) + part * (1 - rest)
    out[high] = (out[high] as number) + part * rest
  }
}

/** How much of a tent of width 2 round 0, with a height of 1, lies below x. */
function tentBelow(x: number): number {
  if (x <= -1) return 0
  if (x >= 1) return 1
  return x < 0 ? (x + 1) ** 2 / 2 : 1 - (1 - x) ** 2 / 2
}

/**
 * Adds `share` of the parts, each smeared evenly over the `width` bins after it and read off again between
 * neighbouring bins: all bins in reach get an equal part, those at either end what falls to them.
 */
function addSmeared(out: Float64Array, parts: Float64Array, width: number, share: number): void {
  const reach = Math.max(1, Math.floor(width))
  const here = tentBelow(width) - 0.5
  const atReach = tentBelow(width - reach)
  const past = tentBelow(width - reach - 1)
  let inner = 0
  let missing = share
  for (let i = 0; i < bins; i += 1) {
    // Of the bins before, those nearer than the reach are wholly smeared over this one.
    if (reach > 1) inner += (parts[i - 1] ?? 0) - (parts[i - reach] ?? 0)
    const ends = atReach * (parts[i - reach] ?? 0) + past * (parts[i - reach - 1] ?? 0)
    const part = (share / width) * (here * (parts[i] as number) + inner + ends)
    out[i] = (out[i] as number) + part
    missing -= part
  }
  out[bins - 1] = (out[bins - 1] as number) + missing
}

/** Reads the table: its parts cumulated, and that once more, so that any stretch is read at once. */
function below(parts: Float64Array, binMs: number): BelowOnAverage {
  const cumulated = new Float64Array(bins)
  const area = new Float64Array(bins)
  for (let i = 0; i < bins; i += 1) {
    cumulated[i] = (cumulated[i - 1] ?? 0) + (parts[i] as number)
    area[i] = i === 0 ? 0 : (area[i - 1] as number) + (cumulated[i - 1] as number) * binMs
  }
  const areaTo = (ms: number) => {
    if (ms < 0) return 0
    const i = Math.min(Math.floor(ms / binMs), bins - 1)
    return (area[i] as number) + (cumulated[i] as number) * (ms - i * binMs)
  }
  return (fromMs, toMs) => {
    if (toMs > fromMs) return (areaTo(toMs) - areaTo(fromMs)) / (toMs - fromMs)
    return toMs < 0 ? 0 : (cumulated[Math.min(Math.floor(toMs / binMs), bins - 1)] as number)
  }
}
