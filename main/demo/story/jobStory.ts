import type { Chance } from '../chance.ts'
import { clockTime } from '../clock.ts'
import type { Story } from '../play.ts'
import { answer, deliver, pick, show } from './approving.ts'
import { bePaid, bill, settle } from './billing.ts'
import { bookBench } from './booking.ts'
import type { JobPlan, Step } from './plan.ts'
import { decideQuote, draftQuote, enquire, sendQuote } from './quoting.ts'
import { receiveSamples, returnSamples } from './samples.ts'
import { runningForMs, shoot, startRunningTake } from './shooting.ts'
import { JobInHand, type Stage } from './stage.ts'

const parts: readonly (readonly [Step, (job: JobInHand) => Story])[] = [
  ['enquiry', enquire],
  ['draft', draftQuote],
  ['sent', sendQuote],
  ['accepted', decideQuote],
  ['samples', receiveSamples],
  ['booked', bookBench],
  ['shot', shoot],
  ['picked', pick],
  ['shown', show],
  ['answered', answer],
  ['delivered', deliver],
  ['returned', returnSamples],
  ['billed', bill],
  ['paid', bePaid],
]

/** One job from its enquiry along the path, as far as its plan goes, with its twists. */
export async function* jobStory(stage: Stage, plan: JobPlan, chance: Chance): Story {
  const job = new JobInHand(stage, plan, chance)
  for (const [step, part] of parts) {
    yield* part(job)
    if (step === plan.until) break
  }
  yield* ending(job)
}

async function* ending(job: JobInHand): Story {
  const { api, clock } = job.stage
  const hold = job.twist('hold')
  const cancelled = job.twist('cancelled')
  if (hold || cancelled) yield clockTime(job.day, '17:50')
  if (hold) await api.jobs.hold({ jobId: job.jobId, reason: hold.reason, until: clock.day(hold.forDays) })
  if (cancelled) await api.jobs.cancel({ jobId: job.jobId, reason: cancelled.reason })
  yield* settle(job)
  if (!job.twist('running')) return
  yield new Date(clock.madeAt.getTime() - runningForMs)
  await startRunningTake(job)
}
