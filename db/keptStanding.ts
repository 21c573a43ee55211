import type { JobStanding, SpinStation, Station } from '../main/trade/standing.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Where a job stands, as its last change left it. */
export interface KeptStanding extends Pick<JobStanding, 'isOpen' | 'waitsFor' | 'station'> {
  readonly dueDay: string | null
  readonly spins: number
  readonly spread: Readonly<Record<SpinStation, number>>
  /** Mean bench time of the spins not yet kept, in ms. */
  readonly benchMsLeft: number
  /** Before tax, in minor units of the job's currency. */
  readonly valueMinor: number
}

/** The columns of a standing, for every list that shows one; the table is `st`. */
export const standingColumns = `st.station, st.is_open AS isOpen, st.waits_for AS waitsFor, st.due_day AS dueDay,
  st.spins, st.at_samples_in AS atSamplesIn, st.at_bench AS atBench, st.at_takes AS atTakes, st.at_pick AS atPick,
  st.at_yes AS atYes, st.at_delivery AS atDelivery, st.delivered, st.bench_ms_left AS benchMsLeft,
  st.value_minor AS valueMinor`

/** What `standingColumns` reads. */
export interface StandingRecord {
  readonly station: Station | 'lost' | 'cancelled'
  readonly isOpen: 0 | 1
  readonly waitsFor: string
  readonly dueDay: string | null
  readonly spins: number
  readonly atSamplesIn: number
  readonly atBench: number
  readonly atTakes: number
  readonly atPick: number
  readonly atYes: number
  readonly atDelivery: number
  readonly delivered: number
  readonly benchMsLeft: number
  readonly valueMinor: number
}

export function toStanding(record: StandingRecord): KeptStanding {
  return {
    station: record.station,
    isOpen: record.isOpen === 1,
    waitsFor: record.waitsFor,
    dueDay: record.dueDay,
    spins: record.spins,
    spread: {
      'samples in': record.atSamplesIn,
      bench: record.atBench,
      takes: record.atTakes,
      pick: record.atPick,
      yes: record.atYes,
      delivery: record.atDelivery,
      delivered: record.delivered,
    },
    benchMsLeft: record.benchMsLeft,
    valueMinor: record.valueMinor,
  }
}

export function keptStanding(db: Db, jobId: Id<'job'>): KeptStanding {
  const record = prepared<[number], StandingRecord>(
    db,
    `SELECT ${standingColumns} FROM job_standing st WHERE st.job_id = ?`,
  ).get(jobId)
  if (!record) throw new Error(`Job ${jobId} has no standing.`)
  return toStanding(record)
}
