import { benchAlone, compareCosts, type PlanCost, type PlanProblem, type Step } from './problem.ts'
import {
  costsAdded,
  costUnplaced,
  firstsFirst,
  noCost,
  type Standing,
  startOf,
  takeUp,
  waitsOf,
} from './schedule.ts'

/** Another order of a line, worked out from where it first differs; `commit` makes it the line's own. */
export interface LineTrial {
  readonly steps: readonly Step[]
  readonly cost: PlanCost
  readonly fromStep: number
  /** Before each step from there on, and after the last that was worked out. */
  readonly standings: readonly Standing[]
  readonly sums: readonly PlanCost[]
  readonly ends: ReadonlyMap<number, number>
  /** From this step of the old order on nothing changes but the sums. */
  readonly oldRest: number
}

/**
 * An order of work whose standing before each step is kept, so that another order is worked out only where it
 * differs: from its first other step on, until it stands as the old one did, or cannot end well any more.
 */
export class Line {
  readonly problem: PlanProblem
  readonly #waits: readonly (number | undefined)[]
  /** One bench, with nothing fixed that leaves a rig: who stands no sooner there ends no sooner. */
  readonly #isPlain: boolean
  #steps: readonly Step[] = []
  #standings: Standing[]
  #sums: PlanCost[] = [noCost]
  #ends = new Map<number, number>()

  constructor(problem: PlanProblem, steps: readonly Step[]) {
    this.problem = problem
    this.#waits = waitsOf(problem)
    this.#standings = [startOf(problem)]
    this.#isPlain =
      problem.benches.length === 1 &&
      problem.benches.every(({ windows }) =>
        windows.every(({ rigBefore, rigAfter }) => (rigBefore ?? rigAfter) === undefined),
      )
    const trial = this.tried(steps)
    if (trial) this.commit(trial)
  }

  get steps(): readonly Step[] {
    return this.#steps
  }

  get cost(): PlanCost {
    return this.#sums.at(-1) as PlanCost
  }

  /**
   * The line in another order.
   * @param others  what all other lines cost
   * @param atMost  what line and others may cost together; undefined is given back for what costs more
   */
  tried(order: readonly Step[], others: PlanCost = noCost, atMost?: PlanCost): LineTrial | undefined {
    const steps = firstsFirst(order, this.#waits)
    const { fromStep, same } = this.#sharedWith(steps)
    const shift = this.#steps.length - steps.length
    const standings: Standing[] = []
    const sums: PlanCost[] = []
    const ends = new Map<number, number>()
    let standing = this.#standings[fromStep] as Standing
    let sum = this.#sums[fromStep] as PlanCost
    const left = atMost && minus(atMost, others)
    const isAbove = (cost: PlanCost) => left !== undefined && compareCosts(cost, left) > 0
    for (let at = fromStep; at < steps.length; at += 1) {
      standings.push(standing)
      sums.push(sum)
      if (this.#isPlain && at >= steps.length - same && sum.unplaced === 0 && this.cost.unplaced === 0) {
        const was = this.#standings[at + shift] as Standing
        if (isNoSooner(standing, was)) {
          // What follows costs no less than it did after the old standing, and just as much after the same one.
          const cost = this.#restAfter(sum, at + shift)
          if (isAbove(cost)) return undefined
          if (isNoSooner(was, standing))
            return { steps, cost, fromStep, standings, sums, ends, oldRest: at + shift }
        }
      }
      const next = this.#taken(standing, steps[at] as Step, ends)
      sum = costsAdded(sum, next?.cost ?? costUnplaced)
      standing = next?.standing ?? standing
      if (left && isWorseAlready(sum, left)) return undefined
    }
    standings.push(standing)
    sums.push(sum)
    return isAbove(sum)
      ? undefined
      : { steps, cost: sum, fromStep, standings, sums, ends, oldRest: this.#steps.length }
  }

  commit({ steps, fromStep, standings, sums, ends, oldRest }: LineTrial): void {
    const delta = minus(sums.at(-1) as PlanCost, this.#sums[oldRest] as PlanCost)
    const rest = this.#sums.slice(oldRest + 1).map((sum) => costsAdded(sum, delta))
    this.#standings = [
      ...this.#standings.slice(0, fromStep),
      ...standings,
      ...this.#standings.slice(oldRest + 1),
    ]
    this.#sums = [...this.#sums.slice(0, fromStep), ...sums, ...rest]
    this.#steps = steps
    for (const [item, endMin] of ends) this.#ends.set(item, endMin)
  }

  /** How many steps at the start and at the end are those of the line. */
  #sharedWith(steps: readonly Step[]): { readonly fromStep: number; readonly same: number } {
    const old = this.#steps
    const most = Math.min(steps.length, old.length)
    let fromStep = 0
    while (fromStep < most && steps[fromStep] === old[fromStep]) fromStep += 1
    let same = 0
    while (same < most - fromStep && steps[steps.length - 1 - same] === old[old.length - 1 - same]) same += 1
    return { fromStep, same }
  }

  #taken(standing: Standing, step: Step, ends: Map<number, number>) {
    const first = this.#waits[step.item]
    const firstEnd =
      first === undefined ? Number.NEGATIVE_INFINITY : (ends.get(first) ?? this.#ends.get(first))
    const taken =
      firstEnd === undefined || firstEnd === Number.POSITIVE_INFINITY
        ? undefined
        : takeUp(this.problem, standing, step, firstEnd)
    if (this.#waits.length > 0) ends.set(step.item, taken?.place.endMin ?? Number.POSITIVE_INFINITY)
    return taken
  }

  #restAfter(sum: PlanCost, oldStep: number): PlanCost {
    return costsAdded(sum, minus(this.cost, this.#sums[oldStep] as PlanCost))
  }
}

function minus(a: PlanCost, b: PlanCost): PlanCost {
  return {
    unplaced: a.unplaced - b.unplaced,
    weightedLatenessMin: a.weightedLatenessMin - b.weightedLatenessMin,
    moved: a.moved - b.moved,
    changeoverMin: a.changeoverMin - b.changeoverMin,
    completionMin: a.completionMin - b.completionMin,
  }
}

/** True where the first goals are missed already: the later ones say nothing before the end. */
function isWorseAlready(sum: PlanCost, left: PlanCost): boolean {
  if (sum.unplaced !== left.unplaced) return sum.unplaced > left.unplaced
  return sum.weightedLatenessMin > left.weightedLatenessMin + 1e-6
}

/** True where one bench stands with the same rig and is free no sooner, its person neither sooner nor less tired. */
function isNoSooner({ benches, hands }: Standing, was: Standing): boolean {
  const [bench, hand, oldBench, oldHand] = [benches[0], hands[0], was.benches[0], was.hands[0]]
  if (!bench || !hand || !oldBench || !oldHand) return false
  return (
    bench.rig === oldBench.rig &&
    bench.freeMin >= oldBench.freeMin &&
    bench.window >= oldBench.window &&
    hand.freeMin >= oldHand.freeMin &&
    (hand.day > oldHand.day || (hand.day === oldHand.day && hand.turnedMin >= oldHand.turnedMin))
  )
}

/**
 * A problem as lines that can be worked out apart: a line a bench where everyone has their own and nothing ties the
 * benches together, else one line for all.
 */
export function linesOf(problem: PlanProblem, steps: readonly Step[]): readonly Line[] {
  if (isTied(problem)) return [new Line(problem, steps)]
  return problem.benches.map((_, at) => {
    const own = steps.filter((step) => step.bench === at).map((step) => ({ ...step, bench: 0 }))
    return new Line(benchAlone(problem, at), own)
  })
}

function isTied({ benches, hands, items }: PlanProblem): boolean {
  if (benches.length === 1) return true
  return (
    hands < benches.length ||
    items.some(({ after, needs }) => after !== undefined || (needs?.length ?? 0) > 0)
  )
}

/** The steps of lines, each on its bench of the whole problem. */
export function stepsOf(lines: readonly Line[]): readonly Step[] {
  if (lines.length === 1) return (lines[0] as Line).steps
  return lines.flatMap(({ steps }, bench) => steps.map((step) => ({ ...step, bench })))
}
