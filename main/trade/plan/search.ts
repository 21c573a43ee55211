import { type Line, type LineTrial, linesOf, stepsOf } from './line.ts'
import { compareCosts, type PlanCost, type PlanProblem, type Step, shortestMin } from './problem.ts'
import { costsAdded, noCost } from './schedule.ts'
import { type Found, found, meanChange } from './starts.ts'

/** Another order of one line, or of two. */
type Change = readonly { readonly line: number; readonly steps: readonly Step[] }[]

/** Of how many items the length, by weight, may be lost at first. */
const slackItems = 1.5

/**
 * Betters an order by local search with threshold accepting (after Dueck and Scheuer 1990): an item or a run of them
 * moved to another place or bench, two exchanged; most of it nearby. Seeded, so that the same input gives the same plan; its
 * budget is a number of trials, never seconds. `onTrial` hears of progress and ends the search by false. A calm search
 * passes nothing worse: it leaves the most where it is.
 */
export function search(
  problem: PlanProblem,
  from: Found,
  trials: number,
  seed: number,
  onTrial: (done: number, best: PlanCost) => boolean = () => true,
  isCalm = false,
): Found {
  const random = seeded(seed)
  const lines = linesOf(problem, from.steps)
  let at = total(lines)
  let best = at
  let bestSteps = from.steps
  const first = isCalm ? noSlack : slackAtFirst(problem)
  for (let trial = 0; trial < trials; trial += 1) {
    if (trial % 256 === 0 && !onTrial(trial, best)) break
    // Worse orders pass at first, ever less of them, and none in the last tenth.
    const share = Math.max(0, 1 - trial / (0.9 * trials))
    const slack = { lateMin: share * first.lateMin, changeMin: share * first.changeMin }
    const next = tried(lines, changed(problem, lines, random), at, ceiling(at, slack))
    if (!next || !passes(next.cost, at, slack)) continue
    for (const { line, trial: done } of next.trials) line.commit(done)
    at = next.cost
    if (compareCosts(at, best) < 0) {
      best = at
      bestSteps = stepsOf(lines)
    }
  }
  const better = found(problem, bestSteps)
  return compareCosts(better.schedule.cost, from.schedule.cost) < 0 ? better : from
}

/** By how much an order may be worse than the one before it and still pass. */
interface Slack {
  readonly lateMin: number
  readonly changeMin: number
}

const noSlack: Slack = { lateMin: 0, changeMin: 0 }

/** Slack at the start: some items' whole length late by weight, or some set changes. */
function slackAtFirst(problem: PlanProblem): Slack {
  const { items } = problem
  const late = items.reduce((sum, item) => sum + item.weight * shortestMin(item), 0)
  return {
    lateMin: (slackItems * late) / Math.max(1, items.length),
    changeMin: slackItems * meanChange(problem),
  }
}

/** No order that costs more than this passes: what is above it need not be worked out to its end. */
function ceiling(at: PlanCost, { lateMin, changeMin }: Slack): PlanCost {
  return lateMin > 0
    ? { ...at, weightedLatenessMin: at.weightedLatenessMin + lateMin, moved: Number.POSITIVE_INFINITY }
    : { ...at, changeoverMin: at.changeoverMin + changeMin }
}

/** Lateness within its slack passes whatever the later goals; with no more lateness, set changes within theirs. */
function passes(next: PlanCost, at: PlanCost, { lateMin, changeMin }: Slack): boolean {
  const later = next.weightedLatenessMin - at.weightedLatenessMin
  if (next.unplaced === at.unplaced && later > 1e-6) return later <= lateMin
  return compareCosts({ ...next, changeoverMin: next.changeoverMin - changeMin }, at) <= 0
}

function total(lines: readonly Line[]): PlanCost {
  return lines.reduce((sum, { cost }) => costsAdded(sum, cost), noCost)
}

/** The lines with a change, where they cost no more than `atMost` together. */
function tried(
  lines: readonly Line[],
  change: Change,
  at: PlanCost,
  atMost: PlanCost,
): { readonly cost: PlanCost; readonly trials: { line: Line; trial: LineTrial }[] } | undefined {
  if (change.length === 0) return undefined
  let others = at
  if (lines.length > 1) {
    others = noCost
    for (const [index, { cost }] of lines.entries()) {
      if (!change.some(({ line }) => line === index)) others = costsAdded(others, cost)
    }
  } else others = noCost
  const trials: { line: Line; trial: LineTrial }[] = []
  for (const { line: index, steps } of change) {
    const line = lines[index] as Line
    const trial = line.tried(steps, others, atMost)
    if (!trial) return undefined
    trials.push({ line, trial })
    others = costsAdded(others, trial.cost)
  }
  return { cost: others, trials }
}

function changed(problem: PlanProblem, lines: readonly Line[], random: () => number): Change {
  const pick = (below: number) => Math.floor(random() * below)
  const from = pick(lines.length)
  const steps = (lines[from] as Line).steps
  if (steps.length === 0) return []
  const at = pick(steps.length)
  if (problem.keepsPlaces && random() < shareFreed) return freedOrKept(steps, from, at, random)
  const kind = random()
  if (kind < 0.25) return swapped(steps, from, at, near(at, steps.length, random))
  const length = kind < 0.65 ? 1 : kind < 0.85 ? 2 + pick(2) : runOfRig(problem, steps, at)
  const rest = steps.toSpliced(at, length)
  const run = steps.slice(at, at + length)
  if (lines.length === 1) {
    const moved = run.map((step) => elsewhere(problem, step, random))
    return [{ line: from, steps: rest.toSpliced(near(at, rest.length + 1, random), 0, ...moved) }]
  }
  const to = random() < 0.6 ? from : pick(lines.length)
  if (to === from) {
    return [{ line: from, steps: rest.toSpliced(near(at, rest.length + 1, random), 0, ...run) }]
  }
  if (!run.every(({ item }) => problem.items[item]?.partsMin[to])) return []
  return acrossTo(lines, { line: from, steps: rest }, run, to, at, kind, random)
}

/** A run moved to another line, about where it was in time; now and then in exchange for what lies there. */
function acrossTo(
  lines: readonly Line[],
  left: Change[number],
  run: readonly Step[],
  to: number,
  at: number,
  kind: number,
  random: () => number,
): Change {
  const there = (lines[to] as Line).steps
  const own = left.steps.length + run.length
  const place = near(Math.floor((at / own) * there.length), there.length + 1, random)
  const isExchange = kind < 0.45 && there.length > 0
  const given = isExchange ? there.slice(place, place + 1) : []
  const canGive = given.every(
    ({ item }) => (lines[left.line] as Line).problem.items[item]?.partsMin[0] !== null,
  )
  if (!canGive) return []
  return [
    { line: left.line, steps: left.steps.toSpliced(at, 0, ...given) },
    { line: to, steps: there.toSpliced(place, given.length, ...run) },
  ]
}

/** How often an item is let go from its place of today, or bound to it again. */
const shareFreed = 0.1

function freedOrKept(steps: readonly Step[], line: number, at: number, random: () => number): Change {
  const { isFree, ...step } = steps[at] as Step
  const other: Step = isFree ? step : { ...step, isFree: true }
  const to = random() < 0.5 ? at : near(at, steps.length, random)
  return [{ line, steps: steps.toSpliced(at, 1).toSpliced(to, 0, other) }]
}

function swapped(steps: readonly Step[], line: number, a: number, b: number): Change {
  if (a === b) return []
  const next = steps.slice()
  ;[next[a], next[b]] = [next[b] as Step, next[a] as Step]
  return [{ line, steps: next }]
}

/** How many items from here on are of one rig: moved together they take their set change along. */
function runOfRig({ items }: PlanProblem, steps: readonly Step[], at: number): number {
  const rig = items[(steps[at] as Step).item]?.rig
  let length = 1
  while (at + length < steps.length && items[(steps[at + length] as Step).item]?.rig === rig) length += 1
  return length
}

/** A place of so many, near a given one more often than far from it. */
function near(at: number, places: number, random: () => number): number {
  const far = random()
  const by = 1 + Math.floor(far * far * far * places)
  const place = random() < 0.5 ? at - by : at + by
  return Math.max(0, Math.min(places - 1, place))
}

/** The same item, now and then on another bench that can hold it. */
function elsewhere({ benches, items }: PlanProblem, step: Step, random: () => number): Step {
  if (benches.length === 1 || random() < 0.5) return step
  const able = benches.flatMap((_, bench) => (items[step.item]?.partsMin[bench] ? [bench] : []))
  return able.length === 0 ? step : { ...step, bench: able[Math.floor(random() * able.length)] as number }
}

/** Mulberry32: a small generator whose row of numbers is the same on every machine. */
function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296
  }
}
