import { addDays, daysBetween } from '../../main/trade/calendar.ts'
import { type Station, stations } from '../../main/trade/standing.ts'

/** Widths along the tape, in px. */
export const pitchPx = 36
export const slotPx = 164
export const lanePx = 38
const labelledPx = 158
const gapPx = 4
const lanesBeforeFolding = 4
const namedAtOneCrossing = 3

/** What of a job decides where it hangs. */
export interface Hangable {
  readonly jobId: number
  readonly station: string
  readonly dueDay: string | null
  readonly priority: 'low' | 'normal' | 'high'
}

/** The stretch of tape that is seen: its first day, and how many days fit. */
export interface Stretch {
  readonly firstDay: string
  readonly days: number
}

/** One job at its crossing, with its words or, where there is no room for them, as the ring alone. */
export interface HungJob<Job> {
  readonly kind: 'job'
  readonly key: string
  readonly job: Job
  /** Of the ring's middle, from the tape's left edge. */
  readonly x: number
  readonly lane: number
  readonly isBare: boolean
}

/** A crowded crossing, folded to a count. */
export interface Folded<Job> {
  readonly kind: 'fold'
  readonly key: string
  readonly jobs: readonly Job[]
  readonly x: number
  readonly lane: number
}

export type Hung<Job> = HungJob<Job> | Folded<Job>

/** One station's line with everything that hangs on it. */
export interface StationLine<Job> {
  readonly station: Station
  readonly jobs: number
  readonly lanes: number
  readonly hung: readonly Hung<Job>[]
}

/** How many days of tape fit between the slots for what is earlier, later and undated. */
export function daysThatFit(widthPx: number): number {
  return Math.max(5, Math.floor((widthPx - 3 * slotPx) / pitchPx))
}

/**
 * Hangs jobs at the crossing of their station and their due day. What is due before the stretch hangs at its
 * left edge, what is due after it at its right, what has no due day beyond that. More than three jobs at one
 * crossing fold to a count; jobs that have no room for their words are drawn as rings alone.
 */
export function hang<Job extends Hangable>(
  jobs: readonly Job[],
  stretch: Stretch,
): readonly StationLine<Job>[] {
  return stations.map((station) => {
    const here = jobs.filter((job) => job.station === station)
    const hung = hangOnLine(crossings(here, stretch))
    return { station, jobs: here.length, lanes: 1 + Math.max(0, ...hung.map(({ lane }) => lane)), hung }
  })
}

/** Where on the tape a day lies: the middle of its stretch, in px from the left edge. */
export function placeOf(day: string | null, { firstDay, days }: Stretch): number {
  const end = slotPx + days * pitchPx
  if (day === null) return end + slotPx + pitchPx / 2
  const at = daysBetween(firstDay, day)
  if (at < 0) return pitchPx / 2
  return at < days ? slotPx + (at + 0.5) * pitchPx : end + pitchPx / 2
}

/** The days of the stretch in order. */
export function daysOf({ firstDay, days }: Stretch): readonly string[] {
  return Array.from({ length: days }, (_, index) => addDays(firstDay, index))
}

const rank = { high: 0, normal: 1, low: 2 } as const

function crossings<Job extends Hangable>(
  jobs: readonly Job[],
  stretch: Stretch,
): readonly { readonly x: number; readonly jobs: readonly Job[] }[] {
  const byPlace = new Map<number, Job[]>()
  for (const job of jobs) {
    const x = placeOf(job.dueDay, stretch)
    const others = byPlace.get(x)
    if (others) others.push(job)
    else byPlace.set(x, [job])
  }
  return [...byPlace]
    .map(([x, at]) => ({ x, jobs: at.toSorted((a, b) => rank[a.priority] - rank[b.priority]) }))
    .sort((a, b) => a.x - b.x)
}

/** Takes places along one line, lane by lane, so that nothing lies over anything else. */
function hangOnLine<Job extends Hangable>(
  crossings: readonly { readonly x: number; readonly jobs: readonly Job[] }[],
): readonly Hung<Job>[] {
  const ends: number[] = []
  const take = (x: number, widthPx: number, most: number): number | undefined => {
    const start = x - pitchPx / 2
    let lane = ends.findIndex((end) => end <= start)
    if (lane < 0) lane = ends.length
    if (lane >= most) return undefined
    ends[lane] = start + widthPx
    return lane
  }
  return crossings.flatMap(({ x, jobs }): Hung<Job>[] => {
    if (jobs.length > namedAtOneCrossing) return [fold(x, jobs, take)]
    return jobs.map((job) => {
      const key = `job ${job.jobId}`
      const named = take(x, labelledPx + gapPx, lanesBeforeFolding)
      if (named !== undefined) return { kind: 'job', key, job, x, lane: named, isBare: false }
      return { kind: 'job', key, job, x, lane: take(x, pitchPx, Infinity) ?? 0, isBare: true }
    })
  })
}

function fold<Job>(
  x: number,
  jobs: readonly Job[],
  take: (x: number, widthPx: number, most: number) => number | undefined,
): Folded<Job> {
  return { kind: 'fold', key: `fold ${x}`, jobs, x, lane: take(x, pitchPx, Infinity) ?? 0 }
}
