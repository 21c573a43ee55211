import type { Day } from '../../trade/calendar.ts'
import { type DemoClock, workingDaysAfter } from '../clock.ts'

/** The steps of a job's story, in the order of the path. */
export const steps = [
  'enquiry',
  'draft',
  'sent',
  'accepted',
  'samples',
  'booked',
  'shot',
  'picked',
  'shown',
  'answered',
  'delivered',
  'returned',
  'billed',
  'paid',
] as const
export type Step = (typeof steps)[number]

/** Working days from the step before to this one, in a job where nothing goes wrong. */
const usualGaps: Readonly<Record<Step, number>> = {
  enquiry: 0,
  draft: 1,
  sent: 0,
  accepted: 3,
  samples: 4,
  booked: 1,
  // Booked blocks begin the day after; a second and third day are for orders that fill more than one.
  shot: 3,
  picked: 1,
  shown: 0,
  answered: 3,
  delivered: 1,
  returned: 2,
  billed: 1,
  paid: 8,
}

/** What happens instead of, or after, the last step. */
export type Twist =
  /** The quote is declined and the job written down as lost. */
  | { readonly kind: 'lost'; readonly reason: string; readonly priceMinor: number }
  | { readonly kind: 'cancelled'; readonly reason: string }
  | { readonly kind: 'hold'; readonly reason: string; readonly forDays: number }
  /** Accepted without the order number this client's papers need. */
  | { readonly kind: 'no order number' }
  /** Some samples come, one is missing, one arrives broken. */
  | { readonly kind: 'samples partly in' }
  /** The bench is booked on a day to come, that many working days from today. */
  | { readonly kind: 'bench to come'; readonly inDays: number }
  /** Only some spins are turned, and a take is running as the demo is made. */
  | { readonly kind: 'running' }
  /** The client wants one spin again; with `again` once more after that, beyond the round that is included. */
  | {
      readonly kind: 'change wanted'
      readonly words: string
      readonly again?: string
      readonly cause: 'ours' | "client's wish"
    }
  /** The first spin does not please on its rig, by our fault, and is turned again on another. */
  | { readonly kind: 'turned again'; readonly words: string }
  /** The yes, and so the delivery, comes for a part of the spins only. */
  | { readonly kind: 'in part' }
  /** A first quote was declined as too dear; a second version with a discount follows. */
  | { readonly kind: 'second version'; readonly discountPpm: number }
  /** The quote is sold by half and whole bench days. */
  | { readonly kind: 'by days' }
  /** The order is changed while it is worked on: one extra is agreed, one waits for its answer. */
  | { readonly kind: 'extras' }
  /** The invoice is paid for that share. */
  | { readonly kind: 'paid in part'; readonly sharePpm: number }
  /** What is left open is given up. */
  | { readonly kind: 'written off'; readonly reason: string }
  | { readonly kind: 'paid too much'; readonly byMinor: number }
  /** A first reminder was sent. */
  | { readonly kind: 'reminded' }
  /** The quote shows a smoother way beside the one that was asked for. */
  | { readonly kind: 'two ways' }

/** One job of the demo. */
export interface JobPlan {
  readonly client: string
  readonly title: string
  /** Codes of the products to be spun, one spin each. */
  readonly codes: readonly string[]
  readonly enquiredDay: Day
  readonly dueDay: Day | null
  /** A promise in working days after the last sample, where no due day is agreed. */
  readonly promiseWorkingDays: number | null
  /** The last step that happens. */
  readonly until: Step
  readonly twists: readonly Twist[]
  readonly gaps: Readonly<Partial<Record<Step, number>>>
  readonly deposit: boolean
  readonly isRush: boolean
  readonly priority: 'low' | 'normal' | 'high'
  /** Takes are pressed frame by frame and not counted afterwards. */
  readonly pressed: boolean
  /** Told in full when the demo is made. */
  readonly told: boolean
  readonly note: string | null
}

/** A job as the cast lists it: where it stands today, and since when. */
export interface CurrentJob extends Partial<Omit<JobPlan, 'enquiredDay' | 'dueDay'>> {
  readonly client: string
  readonly title: string
  readonly codes: readonly string[]
  readonly until: Step
  /** Working days since its last step. */
  readonly since: number
  /** Calendar days from today to the due day; below 0 it is late. */
  readonly dueIn?: number
}

const plain = {
  dueDay: null,
  promiseWorkingDays: null,
  twists: [],
  gaps: {},
  deposit: false,
  isRush: false,
  priority: 'normal',
  pressed: false,
  told: false,
  note: null,
} as const

/** The plan of a job that stands at its step today: its enquiry lies as far back as the path to there is long. */
export function planOfCurrent(job: CurrentJob, clock: DemoClock): JobPlan {
  const { since, dueIn, ...rest } = job
  return {
    ...plain,
    ...rest,
    enquiredDay: clock.workingDay(-(workingDaysTo(job.until, job.gaps ?? {}) + since)),
    dueDay: dueIn === undefined ? null : clock.day(dueIn),
  }
}

/** The plan of a job that has gone the whole path. */
export function planOfPast(
  job: Pick<JobPlan, 'client' | 'title' | 'codes' | 'enquiredDay'> & Partial<JobPlan>,
): JobPlan {
  return { ...plain, until: 'paid', dueDay: workingDaysAfter(job.enquiredDay, 20), ...job }
}

export function gapBefore(plan: Pick<JobPlan, 'gaps'>, step: Step): number {
  return plan.gaps[step] ?? usualGaps[step]
}

function workingDaysTo(step: Step, gaps: JobPlan['gaps']): number {
  return steps.slice(0, steps.indexOf(step) + 1).reduce((sum, each) => sum + gapBefore({ gaps }, each), 0)
}
