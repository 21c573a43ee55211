import type { Finish, SizeClass } from './product.ts'
import { wilson, wilsonOfWeights } from './wilson.ts'

/**
 * What clients answered to spins of one kind of product on a rig. `sizeStep` counts half octaves of the longest
 * side from 1 mm (two steps are twice the size); -1 where no side is known.
 */
export interface AnsweredKind {
  readonly finish: Finish
  readonly sizeStep: number
  readonly answered: number
  readonly approved: number
  /** Of the last yes, in UTC. */
  readonly lastYesAt: string | null
}

/** A rig that could be chosen: its newest revision's platter, and what was answered on it. */
export interface RigCandidate {
  readonly rigId: number
  readonly sizeClass: SizeClass
  /** The maker's load limit of its platter in g; null where it is not known. */
  readonly loadLimitG: number | null
  readonly lastUsedAt: string | null
  readonly kinds: readonly AnsweredKind[]
}

/** What is to be spun. */
export interface WantedProduct {
  readonly finish: Finish
  readonly sizeStep: number
  readonly sizeClass: SizeClass
  /** All that stands on the platter, in g; null where it is not weighed. */
  readonly loadG: number | null
}

/** How like the evidence is that speaks for a rig: by size and finish, by one of them, or by neither. */
export type Likeness = 'both' | 'size' | 'finish' | 'neither'

/**
 * How much one answer counts, by how like its product is: our own weights. Another finish asks for other light and
 * counts a quarter; another size asks for another platter and distance, and counts a sixteenth.
 */
const weights: Readonly<Record<Likeness, number>> = { both: 1, size: 1 / 4, finish: 1 / 16, neither: 1 / 64 }

/** Why a rig stands where it does: the answers to the products most like this one, or that there is none. */
export interface RankReason {
  readonly likeness: Likeness
  readonly answered: number
  readonly approved: number
  readonly lastYesAt: string | null
}

export interface RankedRig<R extends RigCandidate> {
  readonly rig: R
  /** The lower end of Wilson's 95 % interval of its approvals, weighted by likeness; 0 without an answer. */
  readonly score: number
  readonly reason: RankReason | null
}

export interface Ranking<R extends RigCandidate> {
  readonly offered: readonly RankedRig<R>[]
  /** Rigs whose platter's maker does not allow this load: never offered. */
  readonly tooWeak: readonly R[]
}

/**
 * Rigs by what clients said yes to on products like this one, best first.
 *
 * The rule: every answered spin counts by its likeness (same size and finish 1, the size alone a quarter, the finish
 * alone a sixteenth, neither a sixty-fourth; the size is the same where the longest sides are within one half octave step, about 0.6
 * to 1.6 times); the rig's score is the lower end of Wilson's interval of these sums, so that 1 of 1 does not
 * beat 19 of 20. Equal scores: rigs meant for its size class first, then the last used, then the older rig.
 * A rig whose platter's load limit is exceeded is never offered; an unknown mass or limit keeps none away.
 */
export function rankRigs<R extends RigCandidate>(wanted: WantedProduct, rigs: readonly R[]): Ranking<R> {
  const carries = (rig: R) =>
    wanted.loadG === null || rig.loadLimitG === null || wanted.loadG <= rig.loadLimitG
  const offered = rigs
    .filter(carries)
    .map((rig) => ({ rig, score: scoreOf(wanted, rig.kinds), reason: reasonOf(wanted, rig.kinds) }))
  return {
    offered: offered.sort((a, b) => compare(wanted, a, b)),
    tooWeak: rigs.filter((rig) => !carries(rig)).sort((a, b) => a.rigId - b.rigId),
  }
}

/** How like two products are. A size that is not known is like none. */
export function likenessOf(
  wanted: Pick<WantedProduct, 'finish' | 'sizeStep'>,
  kind: Pick<AnsweredKind, 'finish' | 'sizeStep'>,
): Likeness {
  const isSized = wanted.sizeStep >= 0 && kind.sizeStep >= 0
  const isOfSize = isSized && Math.abs(wanted.sizeStep - kind.sizeStep) <= 1
  if (wanted.finish === kind.finish) return isOfSize ? 'both' : 'finish'
  return isOfSize ? 'size' : 'neither'
}

function scoreOf(wanted: WantedProduct, kinds: readonly AnsweredKind[]): number {
  // Summed per likeness in whole numbers first: the order of the kinds then changes no digit.
  const sums = (Object.keys(weights) as Likeness[]).map((likeness) => ({
    weight: weights[likeness],
    ...sumOf(kinds.filter((kind) => likenessOf(wanted, kind) === likeness)),
  }))
  const approved = sums.reduce((sum, each) => sum + each.weight * each.approved, 0)
  const answered = sums.reduce((sum, each) => sum + each.weight * each.answered, 0)
  return answered === 0 ? 0 : wilsonOfWeights(approved, answered).low
}

function reasonOf(wanted: WantedProduct, kinds: readonly AnsweredKind[]): RankReason | null {
  for (const likeness of Object.keys(weights) as Likeness[]) {
    const sum = sumOf(kinds.filter((kind) => likenessOf(wanted, kind) === likeness))
    if (sum.answered > 0) return { likeness, ...sum }
  }
  return null
}

/** What was answered to all of these kinds together. */
export function sumOf(kinds: readonly AnsweredKind[]): Omit<RankReason, 'likeness'> {
  return {
    answered: kinds.reduce((sum, { answered }) => sum + answered, 0),
    approved: kinds.reduce((sum, { approved }) => sum + approved, 0),
    lastYesAt: kinds.reduce<string | null>(
      (last, { lastYesAt }) => ((lastYesAt ?? '') > (last ?? '') ? lastYesAt : last),
      null,
    ),
  }
}

function compare<R extends RigCandidate>(
  { sizeClass }: WantedProduct,
  a: RankedRig<R>,
  b: RankedRig<R>,
): number {
  if (a.score !== b.score) return b.score - a.score
  const fits = (rig: R) => (rig.sizeClass === sizeClass ? 0 : 1)
  if (fits(a.rig) !== fits(b.rig)) return fits(a.rig) - fits(b.rig)
  const [usedA, usedB] = [a.rig.lastUsedAt ?? '', b.rig.lastUsedAt ?? '']
  if (usedA !== usedB) return usedA < usedB ? 1 : -1
  return a.rig.rigId - b.rig.rigId
}

/**
 * The reason in words: '7 of 8 clear pieces of this size approved, last on 3 May'.
 * @param dayText  writes the day of an instant as it is said
 */
export function reasonText(
  reason: RankReason | null,
  finish: Finish,
  dayText: (instant: string) => string,
): string {
  if (!reason) return 'No client has answered to a spin on it yet.'
  const { answered, approved, lastYesAt } = reason
  const whose = {
    both: `${finish} ${pieces(answered)} of this size`,
    finish: `${finish} ${pieces(answered)}, none of this size,`,
    size: `${pieces(answered)} of this size, none ${finish},`,
    neither: `${pieces(answered)} of other sizes and finishes`,
  }[reason.likeness]
  const last = lastYesAt === null ? '' : `, last on ${dayText(lastYesAt)}`
  return `${approved} of ${answered} ${whose} approved${last}`.replace(/,, /u, ', ')
}

function pieces(count: number): string {
  return count === 1 ? 'piece' : 'pieces'
}

/** The share in words: '9 of 11 answered spins; between 52 % and 95 %'. Nothing answered: says that. */
export function rateText(approved: number, answered: number): string {
  if (answered === 0) return 'no spin answered yet'
  const { low, high } = wilson(approved, answered)
  const percent = (share: number) => `${Math.round(share * 100)}\u00a0%`
  return `${approved} of ${answered} answered ${answered === 1 ? 'spin' : 'spins'}; between ${percent(low)} and ${percent(high)}`
}

/** The longest sides of a size step, in mm, rounded to two figures: step 14 is from 130 to 180 mm. */
export function stepRangeMm(sizeStep: number): { readonly fromMm: number; readonly toMm: number } {
  const edge = (step: number) => Number((2 ** (step / 2)).toPrecision(2))
  return { fromMm: edge(sizeStep), toMm: edge(sizeStep + 1) }
}
