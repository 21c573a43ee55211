import type { Story } from '../play.ts'
import type { JobInHand } from './stage.ts'

/** The newest kept take of every row is picked. */
export async function* pick(job: JobInHand): Story {
  yield job.next('picked', '09:35')
  await job.stage.api.picks.newest({ shootIds: job.spins.map(({ shootId }) => shootId) })
}

export async function* show(job: JobInHand): Story {
  const { stage, client, jobId } = job
  yield job.next('shown', '15:15')
  await stage.api.answers.show({ jobId, contactId: client.contactId, items: await itemsOf(job) })
}

/** The client's yes: to everything, to a part, or with a change wanted. */
export async function* answer(job: JobInHand): Story {
  const { stage, client, plan } = job
  yield job.next('answered', '11:05')
  const items = await itemsOf(job)
  const contactId = client.contactId
  const change = job.twist('change wanted')
  const half = Math.ceil(job.spins.length / 2)
  const answered = new Set(
    job.spins.slice(change ? 1 : 0, job.twist('in part') ? half : undefined).map(({ shootId }) => shootId),
  )
  const yes = items.filter(({ shootId }) => answered.has(shootId))
  if (yes.length > 0) await stage.api.answers.answer({ verdict: 'yes', items: yes, contactId, words: null })
  if (change) {
    await stage.api.answers.answer({
      verdict: 'change',
      items: items.filter(({ shootId }) => !answered.has(shootId)),
      contactId,
      needs: 'reshoot',
      cause: change.cause,
      words: change.words,
    })
  }
  if (plan.told)
    stage.telling.say(`Approved: ${yes.length} deliverables, by ${client.contactName} on ${job.day}.`)
}

async function itemsOf(job: JobInHand): Promise<{ shootId: number; deliverableId: number }[]> {
  const { items } = await job.stage.api.answers.ofJob({ jobId: job.jobId })
  return items.map(({ shootId, deliverableId }) => ({ shootId, deliverableId }))
}

/** Everything that has its yes is handed over. */
export async function* deliver(job: JobInHand): Story {
  const { stage, client, jobId, plan } = job
  yield job.next('delivered', '14:20')
  const { deliveryId } = await stage.api.deliveries.prepare({
    jobId,
    way: 'download, link for 30 days',
    contactId: client.contactId,
    note: null,
  })
  const { number } = await stage.api.deliveries.send({
    deliveryId,
    overruleReason: client.filesAfterPayment ? 'The client needs them now and pays within the week.' : null,
  })
  if (!plan.told) return
  const { delivery } = await stage.api.deliveries.one({ deliveryId })
  stage.telling.say(`Delivered: ${number}, ${delivery.files} files in ${delivery.items} deliverables.`)
  for (const paper of [delivery.notePaperId, delivery.listId]) if (paper) stage.telling.paper(paper)
}
