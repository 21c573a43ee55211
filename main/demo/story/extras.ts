import { addDays } from '../../trade/calendar.ts'
import { clockTime } from '../clock.ts'
import type { Story } from '../play.ts'
import type { JobInHand } from './stage.ts'

/** The order is changed while the set stands: one extra is agreed, one is proposed. */
export async function* changeOrder(job: JobInHand): Story {
  if (!job.twist('extras')) return
  const { jobId, stage, client, plan } = job
  const { extras } = stage.api
  yield clockTime(job.day, '12:10')
  const { taxRateId } = await extras.ofJob({ jobId })
  const line = (text: string, quantity: number, priceMinor: number) => ({
    ...{ text, quantityMilli: quantity * 1000, unit: 'C62' as const },
    ...{ priceMinor, baseMilli: 1000, taxRateId },
  })
  const { extraId } = await extras.propose({
    jobId,
    extra: {
      title: 'Soles from below',
      why: 'Asked for on the telephone while the set still stood.',
      newDueDay: null,
      lines: [line('Still of a sole from below', 2, 28_00)],
    },
  })
  const { contactId } = client
  await extras.decide({ extraId, state: 'agreed', day: job.day, contactId, how: 'by e-mail' })
  await extras.propose({
    jobId,
    extra: {
      title: 'One more colour',
      why: 'The sample in moss is on its way.',
      newDueDay: plan.dueDay && addDays(plan.dueDay, 7),
      lines: [line('Spin, as the others', 1, 74_00), line('Set change', 1, 25_00)],
    },
  })
}
