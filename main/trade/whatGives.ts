import { costMinor, type HourRates } from './cost.ts'
import type { QuoteBasis, QuoteSpin } from './quote.ts'
import { type QuotedTurn, quoteTime } from './quoteTime.ts'
import { Refusal } from './refusal.ts'
import { givenRows, hadOf, loweredRows, rowOptions } from './turn/givenRows.ts'

/** What can give for a lower price, from what the client misses least to what he misses most. */
export const levers = ['overlap', 'frames', 'finishing', 'rows'] as const
export type Lever = (typeof levers)[number]

/**
 * One thing that gives, in every row at once: the most frames of overlap or frames a turn, the number of rows, or the
 * finish class (null for no finishing).
 */
export interface Change {
  readonly lever: Lever
  readonly from: number | null
  readonly to: number | null
  /** The rows whose frames or overlap it lowers, from 1; none where it is no matter of single rows. */
  readonly inRows: readonly number[]
  /** What it takes off the floor, beside the changes before it. */
  readonly savingMinor: number
}

export interface Answer {
  readonly changes: readonly Change[]
  /** The floor once all of them are made. */
  readonly floorMinor: number
}

export interface WhatGives {
  readonly wishedMinor: number
  /** The floor as things stand: the cost at the 80 % time. */
  readonly floorMinor: number
  /** Every way to reach the price with as few changes as can be; one without changes where it is reached already. */
  readonly answers: readonly Answer[]
  /** The floor with everything given that can be; a price under it cannot be reached. */
  readonly lowestMinor: number
}

/** How far one lever is lowered. */
type Gift = Pick<Change, 'lever' | 'to'>

/** Rows and the finish class that every dearer one gives way to; `undefined` leaves that as it is. */
interface Setting extends QuotedTurn {
  readonly finishing: number | null | undefined
}

/** Fewer frames than these make no loop worth showing. Common practice, no published source. */
const fewestLoopFrames = 72

/**
 * What must give so that a price covers the 80 % cost: the fewest of overlap, frames, finishing and rows, each
 * lowered no further than is needed. Overlap and frames give by a bound for all rows, which those under it do not
 * feel; of the rows the last ones go. Frames that are lowered become a whole number of the brief's largest frame set,
 * so that its gaps stay even, or what another row has, and at least 72 where there is a loop. Spins with a brief of
 * their own keep their rows.
 * @param wishedMinor  the price of all spins together, before tax, in minor units
 * Refuses a price that is not over 0, and a studio whose rates are in another currency or unknown.
 */
export function whatGives(basis: QuoteBasis, turn: QuotedTurn, wishedMinor: number): WhatGives {
  if (!Number.isSafeInteger(wishedMinor) || wishedMinor <= 0) {
    throw new Refusal(
      'no-price',
      'The wished price is more than 0. Enter what the client would pay for a spin.',
      {
        field: 'wished',
      },
    )
  }
  const { rates } = basis
  if (!rates) {
    throw new Refusal(
      'no-rates',
      'The studio’s hourly rates are in another currency than this job, so its cost is not known.',
    )
  }
  const options = optionsOf(basis, turn)
  const floorOf = floors(basis, rates)
  const start: Setting = { rows: turn.rows, people: turn.people, finishing: undefined }
  const floorWith = (gifts: readonly Gift[]) => floorOf(gifts.reduce(given, start))
  const reaches = (gifts: readonly Gift[]) => floorWith(gifts) <= wishedMinor
  const deepest = (of: readonly Lever[]) =>
    of.map((lever): Gift => ({ lever, to: options[lever].at(-1) ?? null }))
  const useful = levers.filter((lever) => options[lever].length > 0)
  const reaching = fewestSets(useful).find((sets) => sets.some((set) => reaches(deepest(set))))
  const sets = (reaching ?? []).filter((set) => reaches(deepest(set)))
  return {
    wishedMinor,
    floorMinor: floorOf(start),
    answers: sets.map((set) => {
      const gifts = eased(deepest(set), options, reaches)
      return { changes: changesOf(gifts, start, basis, floorOf), floorMinor: floorWith(gifts) }
    }),
    lowestMinor: floorWith(deepest(useful)),
  }
}

type Options = Readonly<Record<Lever, readonly (number | null)[]>>

/** What each lever can be lowered to, the gentlest first. */
function optionsOf(basis: QuoteBasis, turn: QuotedTurn): Options {
  const following = basis.spins.filter(({ ownRows }) => ownRows === null)
  const wanted = following.flatMap(({ deliverables }) => deliverables.map(({ frames }) => frames ?? 0))
  const hasLoop = following.some(({ deliverables }) => deliverables.some(({ frames }) => frames === null))
  const set = Math.max(1, ...wanted)
  const step = set > 1 ? set : 12
  const fewest = Math.max(set, hasLoop ? fewestLoopFrames : 0, 2)
  const finishing = cheaperFinishes(basis)
  if (following.length === 0) return { overlap: [], frames: [], rows: [], finishing }
  return { ...rowOptions(turn.rows, { setFrames: step, fewest }), finishing }
}

/** Finish classes cheaper than the dearest in use, the dearest of them first; no finishing last. */
function cheaperFinishes(basis: QuoteBasis): readonly (number | null)[] {
  const cost = (id: number | null) => finishCost(basis, id)
  const dearest = Math.max(0, ...basis.spins.map(({ finishClassId }) => cost(finishClassId)))
  const cheaper = basis.finishClasses
    .filter(({ id }) => cost(id) < dearest)
    .toSorted((a, b) => cost(b.id) - cost(a.id))
    .map(({ id }) => id)
  const hasFree = cheaper.some((id) => cost(id) === 0)
  return dearest > 0 && !hasFree ? [...cheaper, null] : cheaper
}

/** What finishing one frame costs, in millionths of a minor unit: to compare classes, never to be shown. */
function finishCost({ finishClasses, rates }: QuoteBasis, id: number | null): number {
  const found = finishClasses.find((finish) => finish.id === id)
  if (!found) return 0
  if (!found.inHouse) return found.frameMinorPer100 * 10_000
  return Math.round((found.frameMs * (rates?.deskHourMinor ?? 0) * 1e6) / 3_600_000)
}

function given(setting: Setting, { lever, to }: Gift): Setting {
  if (lever === 'finishing') return { ...setting, finishing: to }
  if (to === null) return setting
  return { ...setting, rows: givenRows(setting.rows, lever, to) }
}

/** The cost at the 80 % time for a setting; each is worked out once. */
function floors(basis: QuoteBasis, rates: HourRates): (setting: Setting) => number {
  const known = new Map<string, number>()
  return (setting) => {
    const turns = setting.rows.map((row) => `${row.framesPerTurn}+${row.overlapFrames}`)
    const key = `${turns.join(' ')} ${setting.finishing}`
    const before = known.get(key)
    if (before !== undefined) return before
    const { finishing } = setting
    const spins =
      finishing === undefined ? basis.spins : basis.spins.map((spin) => finished(basis, spin, finishing))
    const time = quoteTime({ ...basis, spins }, setting)
    const floor = costMinor(
      time.bench.p80Ms,
      time.desk.totalMs,
      rates,
      time.boughtMinor + basis.plannedCostMinor,
      time.secondMs,
    )
    known.set(key, floor)
    return floor
  }
}

function finished(basis: QuoteBasis, spin: QuoteSpin, finishClassId: number | null): QuoteSpin {
  return finishCost(basis, spin.finishClassId) > finishCost(basis, finishClassId)
    ? { ...spin, finishClassId }
    : spin
}

/** Every set of levers, grouped by how many there are, none first. */
function fewestSets(useful: readonly Lever[]): readonly (readonly (readonly Lever[])[])[] {
  // The bits of each number say which levers are in the set.
  const all = Array.from({ length: 2 ** useful.length }, (_, bits) =>
    useful.filter((_lever, index) => (bits >> index) % 2 === 1),
  )
  return Array.from({ length: useful.length + 1 }, (_, size) => all.filter((set) => set.length === size))
}

/** Takes back what is not needed, what the client misses most first: each lever as gentle as the others let it be. */
function eased(
  deepest: readonly Gift[],
  options: Options,
  reaches: (gifts: readonly Gift[]) => boolean,
): readonly Gift[] {
  return deepest.reduceRight<readonly Gift[]>((gifts, { lever }, index) => {
    const tried = options[lever].map((to) => gifts.with(index, { lever, to }))
    return tried.find(reaches) ?? gifts
  }, deepest)
}

function changesOf(
  gifts: readonly Gift[],
  start: Setting,
  basis: QuoteBasis,
  floorOf: (setting: Setting) => number,
): readonly Change[] {
  let so = start
  return gifts.map((gift) => {
    const { lever, to } = gift
    const next = given(so, gift)
    const savingMinor = floorOf(so) - floorOf(next)
    so = next
    if (lever === 'finishing') return { lever, from: dearestFinish(basis), to, inRows: [], savingMinor }
    const inRows = to === null ? [] : loweredRows(start.rows, lever, to)
    return { lever, from: hadOf(start.rows, lever), to, inRows, savingMinor }
  })
}

function dearestFinish(basis: QuoteBasis): number | null {
  const ids = basis.spins.map(({ finishClassId }) => finishClassId)
  return ids.toSorted((a, b) => finishCost(basis, b) - finishCost(basis, a))[0] ?? null
}
