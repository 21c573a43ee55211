/** The stations of the one path, in its order. A spin stands at six of them; a job at any. */
export const stations = [
  'enquiry',
  'quote',
  'order',
  'samples in',
  'bench',
  'takes',
  'pick',
  'yes',
  'delivery',
  'samples back',
  'invoice',
  'paid',
] as const
export type Station = (typeof stations)[number]

/** Where a job that left the path ended. */
export type Ending = 'lost' | 'cancelled'

/** Where one spin stands: at the station whose act it needs next, or delivered. */
export type SpinStation = 'samples in' | 'bench' | 'takes' | 'pick' | 'yes' | 'delivery' | 'delivered'

/** What is true of one spin. Counts are of (row × deliverable) or of deliverables, as named. */
export interface SpinFacts {
  readonly samplesHere: boolean
  /** A reason was given to go on without the sample. */
  readonly sampleOverruled: boolean
  readonly isBooked: boolean
  readonly hasTake: boolean
  readonly rows: number
  readonly rowsKept: number
  readonly picksWanted: number
  readonly picks: number
  readonly deliverables: number
  readonly yeses: number
  readonly delivered: number
}

/** What is true of a job. Money in minor units of its currency. */
export interface JobFacts {
  readonly lost: boolean
  readonly cancelled: boolean
  readonly quote: 'none' | 'draft' | 'sent' | 'accepted' | 'declined'
  readonly orderNumberMissing: boolean
  readonly samplesToReturn: number
  /** Something is billed, and nothing that was delivered since is left to bill. */
  readonly billed: boolean
  readonly openMinor: number
  readonly spins: readonly SpinFacts[]
}

export interface JobStanding {
  readonly station: Station | Ending
  readonly isOpen: boolean
  /** What the job waits for, as a phrase that follows 'waits for'. Empty when nothing is left. */
  readonly waitsFor: string
  /** How many spins stand at each station. */
  readonly spread: Readonly<Record<SpinStation, number>>
}

/** Where nothing is owed to the client by the due day: every file is delivered, or the job has ended. */
export const stationsNeverLate = ['samples back', 'invoice', 'paid', 'lost', 'cancelled'] as const

/** Late: the due day is past and the client still waits for files. Days are `YYYY-MM-DD`. */
export function isLate(
  { station, dueDay }: { readonly station: string; readonly dueDay: string | null },
  today: string,
): boolean {
  return dueDay !== null && dueDay < today && !stationsNeverLate.some((never) => never === station)
}

/** Where a spin stands, worked out from its facts alone. */
export function spinStation(spin: SpinFacts): SpinStation {
  if (spin.deliverables > 0 && spin.delivered >= spin.deliverables) return 'delivered'
  const allKept = spin.rowsKept >= spin.rows
  const allPicked = allKept && spin.picksWanted > 0 && spin.picks >= spin.picksWanted
  if (allPicked) return spin.yeses >= spin.deliverables ? 'delivery' : 'yes'
  if (allKept) return 'pick'
  if (spin.hasTake) return 'takes'
  if (!spin.samplesHere && !spin.sampleOverruled) return 'samples in'
  return spin.isBooked ? 'takes' : 'bench'
}

/**
 * Where a job stands and what it waits for: the first station of the path at which something is undone.
 * Never set by hand, so that the board cannot be wrong.
 */
export function jobStanding(job: JobFacts): JobStanding {
  const spread = spreadOf(job.spins)
  if (job.cancelled) return { station: 'cancelled', isOpen: false, waitsFor: '', spread }
  if (job.lost) return { station: 'lost', isOpen: false, waitsFor: '', spread }
  const [station, waitsFor] = nextAct(job, spread)
  return { station, isOpen: waitsFor !== '', waitsFor, spread }
}

function spreadOf(spins: readonly SpinFacts[]): Record<SpinStation, number> {
  const spread = { 'samples in': 0, bench: 0, takes: 0, pick: 0, yes: 0, delivery: 0, delivered: 0 }
  for (const spin of spins) spread[spinStation(spin)] += 1
  return spread
}

function nextAct(job: JobFacts, spread: Record<SpinStation, number>): readonly [Station, string] {
  if (job.quote !== 'accepted') {
    if (job.quote === 'sent') return ['quote', 'the client’s answer to the quote']
    return ['enquiry', job.quote === 'draft' ? 'the quote to be sent' : 'a quote']
  }
  if (job.orderNumberMissing) return ['order', 'the client’s order number']
  if (job.spins.length === 0) return ['order', 'the products to be spun']
  const acts: readonly (readonly [Exclude<SpinStation, 'delivered'>, string])[] = [
    ['samples in', 'samples for'],
    ['bench', 'bench time for'],
    ['takes', 'takes of'],
    ['pick', 'picks for'],
    ['yes', 'the client’s yes on'],
    ['delivery', 'delivery of'],
  ]
  for (const [station, words] of acts) {
    const count = spread[station]
    if (count > 0) return [station, `${words} ${count} ${count === 1 ? 'spin' : 'spins'}`]
  }
  if (job.samplesToReturn > 0) {
    return [
      'samples back',
      `${job.samplesToReturn} ${job.samplesToReturn === 1 ? 'sample' : 'samples'} to go back`,
    ]
  }
  if (!job.billed) return ['invoice', 'an invoice']
  return job.openMinor > 0 ? ['paid', 'payment'] : ['paid', '']
}
