import type { Day } from '../../trade/calendar.ts'
import type { Chance } from '../chance.ts'
import { clockTime, type DemoClock, workingDaysAfter } from '../clock.ts'
import type { BenchDiary, HalfDay } from '../diary.ts'
import type { SettingsBook } from '../settingsBook.ts'
import type { Api, DemoCast, DemoClient, DemoProduct } from '../setUp.ts'
import type { Telling } from '../telling.ts'
import { gapBefore, type JobPlan, type Step, type Twist } from './plan.ts'

/** What every story of the demo plays on. */
export interface Stage {
  /** The API as the owner uses it at the desk. */
  readonly api: Api
  /** The API as the person at that bench uses it. */
  readonly apiAt: (benchId: number) => Api
  readonly personAt: (benchId: number) => number
  readonly clock: DemoClock
  readonly cast: DemoCast
  readonly diary: BenchDiary
  readonly settings: SettingsBook
  readonly telling: Telling
}

export interface SpinInHand {
  readonly shootId: number
  readonly product: DemoProduct
}

/** A block that was booked: which spins are turned when, and where. */
export interface BookedBlock {
  readonly half: HalfDay
  readonly setChangeMinutes: number
  readonly spins: readonly SpinInHand[]
}

/** A job while its story is played. */
export class JobInHand {
  readonly stage: Stage
  readonly plan: JobPlan
  readonly client: DemoClient
  readonly chance: Chance
  jobId = 0
  number = ''
  quoteId = 0
  invoiceId = 0
  spins: readonly SpinInHand[] = []
  blocks: readonly BookedBlock[] = []
  #day: Day

  constructor(stage: Stage, plan: JobPlan, chance: Chance) {
    const client = stage.cast.clients.get(plan.client)
    if (!client) throw new Error(`The cast has no client ${plan.client}.`)
    this.stage = stage
    this.plan = plan
    this.client = client
    this.chance = chance
    this.#day = plan.enquiredDay
  }

  /** The day of the step that was played last. */
  get day(): Day {
    return this.#day
  }

  /** The instant of a step: its gap of working days after the last one, at a time of the day. */
  next(step: Step, time: string): Date {
    this.#day = workingDaysAfter(this.#day, gapBefore(this.plan, step))
    return clockTime(this.#day, time)
  }

  /** Goes on from a day that lies later than planned. */
  goOnFrom(day: Day): void {
    if (day > this.#day) this.#day = day
  }

  twist<K extends Twist['kind']>(kind: K): Extract<Twist, { kind: K }> | undefined {
    return this.plan.twists.find((twist): twist is Extract<Twist, { kind: K }> => twist.kind === kind)
  }
}
