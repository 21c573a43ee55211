import type { Cost } from './spinCost.ts'

/** The part of all jobs whose extra time, averaged over a stretch from `fromMs` to `toMs`, lies below it. */
export type BelowOnAverage = (fromMs: number, toMs: number) => number

const bins = 256
/** Parts as small as this are left out past the last larger one: they are nothing, and numbers near 0 are slow. */
const least = 1e-14

/** A table of evenly spaced times with the parts of all jobs at them; nothing lies past its `last` bin. */
interface Parts {
  readonly at: Float64Array
  last: number
}

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
  let parts: Parts = { at: new Float64Array(bins), last: 0 }
  parts.at[0] = 1
  if (!(binMs > 0)) return below(parts.at, 1)
  let spare: Parts = { at: new Float64Array(bins), last: 0 }
  const paused: Parts = { at: new Float64Array(bins), last: 0 }
  for (const cost of costs) {
    addRestart(keptOf(spare, parts, 1 - cost.restart), parts, paused, cost, stepMs, binMs)
    ;[parts, spare] = [trimmed(spare), parts]
    addReshoot(keptOf(spare, parts, 1 - cost.reshoot), parts, cost, stepMs, binMs)
    ;[parts, spare] = [trimmed(spare), parts]
  }
  return below(parts.at, binMs)
}

function mostExtraMs(cost: Cost, stepMs: number): number {
  const restart = cost.restart > 0 ? cost.pauseMs + Math.max(...cost.rowFrames) * stepMs : 0
  return restart + (cost.reshoot > 0 ? cost.againMs + offMs(cost) + cost.frames * stepMs : 0)
}

/** A reshoot's handling is as often a deviation over its mean as under it. */
function offMs({ handling }: Cost): number {
  return Math.sqrt(handling.variance)
}

/** Those that nothing happens to. */
function keptOf(out: Parts, parts: Parts, share: number): Parts {
  out.at.fill(0)
  for (let i = 0; i <= parts.last; i += 1) out.at[i] = (parts.at[i] as number) * share
  out.last = parts.last
  return out
}

function trimmed(parts: Parts): Parts {
  while (parts.last > 0 && (parts.at[parts.last] as number) < least) {
    parts.at[parts.last] = 0
    parts.last -= 1
  }
  return parts
}

/** With a restart anywhere in its rows, each frame as likely as any other, after the pause before it. */
function addRestart(
  out: Parts,
  parts: Parts,
  paused: Parts,
  cost: Cost,
  stepMs: number,
  binMs: number,
): void {
  if (cost.restart === 0) return
  addMoved(keptOf(paused, parts, 0), parts, cost.pauseMs / binMs, 1)
  const shot = cost.rowFrames.reduce((a, b) => a + b, 0)
  for (const frames of cost.rowFrames) {
    addSmeared(out, paused, (frames * stepMs) / binMs, (cost.restart * frames) / shot)
  }
}

function addReshoot(out: Parts, parts: Parts, cost: Cost, stepMs: number, binMs: number): void {
  if (cost.reshoot === 0) return
  const againMs = cost.againMs + cost.frames * stepMs
  const off = offMs(cost)
  const offs = off === 0 ? [0] : [-off, off]
  for (const ms of offs) addMoved(out, parts, (againMs + ms) / binMs, cost.reshoot / offs.length)
}

/**
 * Adds `share` of the parts, moved on by so many bins; what would lie between two bins is shared by them, and what
 * would lie past the end is at the end.
 */
function addMoved(out: Parts, parts: Parts, by: number, share: number): void {
  const whole = Math.floor(by)
  const rest = by - whole
  for (let i = 0; i <= parts.last; i += 1) {
    const part = (parts.at[i] as number) * share
    const low = Math.min(i + whole, bins - 1)
    const high = Math.min(low + 1, bins - 1)
    out.at[low] = (out.at[low] as number) + part * (1 - rest)
    out.at[high] = (out.at[high] as number) + part * rest
  }
  out.last = Math.max(out.last, Math.min(parts.last + whole + 1, bins - 1))
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
function addSmeared(out: Parts, { at, last }: Parts, width: number, share: number): void {
  const reach = Math.max(1, Math.floor(width))
  const here = tentBelow(width) - 0.5
  const atReach = tentBelow(width - reach)
  const past = tentBelow(width - reach - 1)
  out.last = Math.max(out.last, Math.min(last + reach + 1, bins - 1))
  let inner = 0
  let missing = 0
  for (let i = 0; i <= last; i += 1) missing += share * (at[i] as number)
  for (let i = 0; i <= out.last; i += 1) {
    // Of the bins before, those nearer than the reach are wholly smeared over this one.
    const far = i < reach ? 0 : (at[i - reach] as number)
    if (reach > 1 && i > 0) inner += (at[i - 1] as number) - far
    const ends = atReach * far + (i <= reach ? 0 : past * (at[i - reach - 1] as number))
    const part = (share / width) * (here * (at[i] as number) + inner + ends)
    out.at[i] = (out.at[i] as number) + part
    missing -= part
  }
  out.at[bins - 1] = (out.at[bins - 1] as number) + missing
  if (missing > least) out.last = bins - 1
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
