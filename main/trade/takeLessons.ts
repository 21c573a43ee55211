import { type MedianRange, medianRange } from './medianInterval.ts'
import type { FaultKind } from './takes.ts'
import { type Interval, wilson } from './wilson.ts'

/** An ended take as it teaches about hours, rigs and people. Local times are the studio's. */
export interface TaughtTake {
  readonly rigId: number
  readonly personId: number
  readonly startedMs: number
  readonly endedMs: number
  readonly localDay: string
  readonly localMinute: number
  readonly stepMs: number | null
  readonly faults: readonly FaultKind[]
  readonly verdict: 'keep' | 'reject' | null
}

/** What some takes have in common: their pace, and how many of them had faults or were rejected. */
export interface TakeTally {
  readonly takes: number
  /** The step in ms; null where no take of them was timed. */
  readonly step: MedianRange | null
  readonly faulty: Share
  readonly rejected: Share
  /** How many takes had a fault of each kind, the commonest first. */
  readonly kinds: readonly { readonly kind: FaultKind; readonly takes: number }[]
}

/** A share as it was seen, with Wilson's interval, so that three takes do not look like a law. */
export interface Share {
  readonly hits: number
  readonly of: number
  readonly range: Interval
}

export const dayParts = ['first hour', 'after lunch', 'other hours'] as const
export type DayPart = (typeof dayParts)[number]

export interface TakeLessons {
  readonly takes: number
  /** By the hour of the studio's clock in which takes began; only hours with takes. */
  readonly hours: readonly (TakeTally & { readonly hour: number })[]
  readonly dayParts: readonly (TakeTally & { readonly part: DayPart })[]
  readonly rigs: readonly (TakeTally & { readonly rigId: number })[]
  readonly people: readonly (TakeTally & { readonly personId: number })[]
}

/** What takes teach about hours, rigs and people. Rejected counts among takes that were judged. */
export function takeLessons(takes: readonly TaughtTake[]): TakeLessons {
  const parts = dayPartsOf(takes)
  const by = (keyOf: (take: TaughtTake) => number) => [...Map.groupBy(takes, keyOf)]
  return {
    takes: takes.length,
    hours: by(({ localMinute }) => Math.floor(localMinute / 60))
      .sort(([a], [b]) => a - b)
      .map(([hour, these]) => ({ hour, ...tally(these) })),
    dayParts: dayParts.map((part) => ({ part, ...tally(takes.filter((_, index) => parts[index] === part)) })),
    rigs: by(({ rigId }) => rigId).map(([rigId, these]) => ({ rigId, ...tally(these) })),
    people: by(({ personId }) => personId).map(([personId, these]) => ({ personId, ...tally(these) })),
  }
}

function tally(takes: readonly TaughtTake[]): TakeTally {
  const judged = takes.filter(({ verdict }) => verdict !== null)
  const kinds = new Map<FaultKind, number>()
  for (const { faults } of takes)
    for (const kind of new Set(faults)) kinds.set(kind, (kinds.get(kind) ?? 0) + 1)
  return {
    takes: takes.length,
    step: medianRange(takes.flatMap(({ stepMs }) => (stepMs === null ? [] : [stepMs]))),
    faulty: shareOf(takes.filter(({ faults }) => faults.length > 0).length, takes.length),
    rejected: shareOf(judged.filter(({ verdict }) => verdict === 'reject').length, judged.length),
    kinds: [...kinds]
      .map(([kind, count]) => ({ kind, takes: count }))
      .sort((a, b) => b.takes - a.takes || a.kind.localeCompare(b.kind)),
  }
}

function shareOf(hits: number, of: number): Share {
  return { hits, of, range: wilson(hits, of) }
}

const minuteMs = 60_000
const hourMs = 60 * minuteMs
/** A break about noon that is taken for lunch (common practice, no published source). */
const lunch = { leastMs: 30 * minuteMs, fromMinute: 11 * 60, toMinute: 14 * 60 + 30 }

/**
 * Where in its person's day each take began: in the first hour from the day's first take, in the hour after lunch,
 * or else. Lunch is the longest break of half an hour or more between two takes of that person that begins between
 * 11:00 and 14:30; a day without one has no hour after lunch.
 */
function dayPartsOf(takes: readonly TaughtTake[]): readonly DayPart[] {
  const parts = new Map<TaughtTake, DayPart>()
  for (const day of Map.groupBy(takes, ({ personId, localDay }) => `${personId} ${localDay}`).values()) {
    const inOrder = [...day].sort((a, b) => a.startedMs - b.startedMs)
    const firstMs = inOrder[0]?.startedMs ?? 0
    const backMs = backFromLunch(inOrder)
    for (const take of inOrder) {
      if (take.startedMs - firstMs < hourMs) parts.set(take, 'first hour')
      else if (backMs !== null && take.startedMs >= backMs && take.startedMs - backMs < hourMs) {
        parts.set(take, 'after lunch')
      }
    }
  }
  return takes.map((take) => parts.get(take) ?? 'other hours')
}

/** When the first take after lunch began; null for a day without lunch. */
function backFromLunch(day: readonly TaughtTake[]): number | null {
  let longest = 0
  let backMs: number | null = null
  day.forEach((take, index) => {
    const before = day[index - 1]
    if (!before) return
    const restMs = take.startedMs - before.endedMs
    const leftMinute = take.localMinute - restMs / minuteMs
    if (restMs < lunch.leastMs || restMs <= longest) return
    if (leftMinute < lunch.fromMinute || leftMinute > lunch.toMinute) return
    longest = restMs
    backMs = take.startedMs
  })
  return backMs
}
