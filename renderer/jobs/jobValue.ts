import type { Answers, Asks } from '../../main/api/types.ts'

export type SentJob = Asks['jobs']['add']['job']
export type KeptJob = Answers['jobs']['one']['job']

/** How the due day is given. */
export type DueBy = 'day' | 'promise' | 'open'

/** A job while it is being written: texts and days may be empty. */
export interface JobValue {
  readonly clientId: string
  readonly contactId: string
  readonly title: string
  readonly dueBy: DueBy
  readonly dueDay: string
  readonly promiseWorkingDays: number | null
  readonly enquiredDay: string
  readonly callBackDay: string
  readonly returnByDay: string
  readonly orderNumber: string
  readonly buyerReference: string
  readonly costCentre: string
  readonly roundsIncluded: number | null
  readonly note: string
}

/** Where a new job starts. */
export function freshJob(clientId: string, today: string): JobValue {
  return {
    clientId,
    contactId: '',
    title: '',
    dueBy: 'day',
    dueDay: '',
    promiseWorkingDays: null,
    enquiredDay: today,
    callBackDay: '',
    returnByDay: '',
    orderNumber: '',
    buyerReference: '',
    costCentre: '',
    roundsIncluded: null,
    note: '',
  }
}

/** A kept job as its form writes on it. */
export function jobValueOf(job: KeptJob): JobValue {
  return {
    clientId: String(job.clientId),
    contactId: job.contactId === null ? '' : String(job.contactId),
    title: job.title,
    dueBy: job.promiseWorkingDays !== null ? 'promise' : job.dueDay !== null ? 'day' : 'open',
    dueDay: job.dueDay ?? '',
    promiseWorkingDays: job.promiseWorkingDays,
    enquiredDay: job.enquiredDay,
    callBackDay: job.callBackDay ?? '',
    returnByDay: job.returnByDay ?? '',
    orderNumber: job.orderNumber ?? '',
    buyerReference: job.buyerReference ?? '',
    costCentre: job.costCentre ?? '',
    roundsIncluded: job.roundsIncluded,
    note: job.note ?? '',
  }
}

/** The form's job as it is sent; only the chosen way to be due goes out. */
export function sentJob(value: JobValue): SentJob {
  return {
    contactId: value.contactId === '' ? null : Number(value.contactId),
    title: value.title,
    dueDay: value.dueBy === 'day' ? value.dueDay || null : null,
    promiseWorkingDays: value.dueBy === 'promise' ? value.promiseWorkingDays : null,
    enquiredDay: value.enquiredDay || null,
    callBackDay: value.callBackDay || null,
    returnByDay: value.returnByDay || null,
    orderNumber: value.orderNumber,
    buyerReference: value.buyerReference,
    costCentre: value.costCentre,
    roundsIncluded: value.roundsIncluded,
    note: value.note,
  }
}
