import { isLate, type SpinStation } from '../../main/trade/standing.ts'
import { countText, dayText, dueText, durationText } from '../parts/format.ts'

/** What these words need to know of a job. */
export interface WordedJob {
  readonly number: string
  readonly title: string
  readonly clientName: string
  readonly station: string
  readonly waitsFor: string
  readonly dueDay: string | null
  readonly priority: 'low' | 'normal' | 'high'
  readonly holdUntil: string | null
  readonly spins: number
  readonly spread: Readonly<Record<SpinStation, number>>
  readonly benchMsLeft: number
}

/** Names of the three priorities, as a person gives them. */
export const priorityWords = { high: 'ahead of others', normal: 'as it comes', low: 'last' } as const

/** How many spins have every row kept: what the job's small ring shows as done. */
export function spinsTurned({ spread }: Pick<WordedJob, 'spread'>): number {
  return spread.pick + spread.yes + spread.delivery + spread.delivered
}

/** Bench time left, or '' where the bench is done with the job. */
export function benchLeftText({ benchMsLeft }: Pick<WordedJob, 'benchMsLeft'>): string {
  return benchMsLeft > 0 ? durationText(benchMsLeft / 60_000) : ''
}

/** What is waited for, short enough to stand beside a ring. */
const shortWaits: Readonly<Record<string, string>> = {
  'the quote to be sent': 'quote to send',
  'the client’s answer to the quote': 'their answer',
  'the client’s order number': 'order number',
  'the products to be spun': 'products',
}

/**
 * The next act in a few words, where the station is known already: how many of the spins stand there, else what
 * is waited for.
 */
export function nextActText(job: WordedJob): string {
  const { station, spins, spread } = job
  const here = station in spread ? spread[station as SpinStation] : 0
  if (here === 0) return shortWaits[job.waitsFor] ?? job.waitsFor
  return here === spins ? countText(spins, 'spin') : `${here} of ${countText(spins, 'spin')}`
}

/** The due day as a list shows it: how late where it is late, else the day. */
export function dueWords(job: Pick<WordedJob, 'station' | 'dueDay'>, today: string): string {
  if (job.dueDay === null) return ''
  return isLate(job, today) ? dueText(job.dueDay, today) : dayText(job.dueDay, today)
}

/** A job in a sentence, for a screen reader and for the pointer that rests on it. */
export function jobSentence(job: WordedJob, today: string): string {
  const left = benchLeftText(job)
  return [
    `${job.clientName}, ${job.title}, ${job.number}`,
    job.waitsFor && `waits for ${job.waitsFor}`,
    job.dueDay === null
      ? 'no due day'
      : isLate(job, today)
        ? dueText(job.dueDay, today)
        : `due ${dayText(job.dueDay, today)}`,
    left && `${left} at the bench left`,
    job.spins > 0 && `${spinsTurned(job)} of ${countText(job.spins, 'spin')} turned`,
    job.priority !== 'normal' && `priority ${priorityWords[job.priority]}`,
    job.holdUntil && `on hold until ${dayText(job.holdUntil, today)}`,
  ]
    .filter(Boolean)
    .join(', ')
}
