import { clockTime, workingDaysAfter } from '../clock.ts'
import { frameOne } from '../frameOne.ts'
import type { Story } from '../play.ts'
import { changeOrder } from './extras.ts'
import type { JobInHand, SpinInHand } from './stage.ts'

/** The newest kept take of every row is picked. */
export async function* pick(job: JobInHand): Story {
  yield job.next('picked', '09:35')
  await job.stage.api.picks.newest({ shootIds: job.spins.map(({ shootId }) => shootId) })
  await keepPictures(job)
  yield* changeOrder(job)
}

/** Most picked takes get their frame 1 as a picture; the others show their product's outline. */
async function keepPictures({ stage, jobId, spins }: JobInHand): Promise<void> {
  for (const { shootId, takes } of await stage.api.takes.ofJob({ jobId })) {
    const take = takes.find(({ verdict }) => verdict === 'keep')
    const product = spins.find((spin) => spin.shootId === shootId)?.product
    if (!take || !product || take.id % 4 === 0) continue
    const { product: whole } = await stage.api.products.one({ productId: product.productId })
    const picture = await frameOne(whole)
    await stage.api.takePictures.keep({
      takeId: take.id,
      name: `${product.code}_001.jpg`,
      base64: picture.toString('base64'),
    })
  }
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
  const want = (words: string, cause: 'ours' | "client's wish") =>
    stage.api.answers.answer({
      ...{ verdict: 'change', needs: 'reshoot', contactId, cause, words },
      items: items.filter(({ shootId }) => !answered.has(shootId)),
    })
  if (change) await want(change.words, change.cause)
  const [first] = job.spins
  if (change?.again && first) {
    yield* retake(job, first)
    yield job.next('answered', '11:40')
    await want(change.again, change.cause)
  }
  yield* turnAgain(job)
  if (plan.told)
    stage.telling.say(`Approved: ${yes.length} deliverables, by ${client.contactName} on ${job.day}.`)
}

/** One spin did not please on its rig: it is turned again on another one, and that is approved. */
async function* turnAgain(job: JobInHand): Story {
  const again = job.twist('turned again')
  const [spin] = job.spins
  if (!again || !spin) return
  const { stage } = job
  const items = (await itemsOf(job)).filter(({ shootId }) => shootId === spin.shootId)
  const contactId = job.client.contactId
  await stage.api.answers.answer({
    verdict: 'change',
    items,
    contactId,
    needs: 'reshoot',
    cause: 'ours',
    words: again.words,
  })
  yield* retake(job, spin)
  yield job.next('answered', '11:20')
  await stage.api.answers.answer({ verdict: 'yes', items, contactId, words: 'Yes, like this.' })
}

/** The next day the spin is turned on another rig, picked and pictured. */
async function* retake(job: JobInHand, spin: SpinInHand): Story {
  const { stage } = job
  const benchId = job.blocks[0]?.half.benchId
  if (benchId === undefined) throw new Error(`${job.number} was at no bench.`)
  const day = workingDaysAfter(job.day, 1)
  const other = spin.product.sizeClass === 'medium' ? 'large' : 'medium'
  const rigRevisionId = stage.cast.rigs.get(other)?.rigRevisionId
  if (rigRevisionId === undefined) throw new Error(`The cast has no rig ${other}.`)
  yield clockTime(day, '16:30')
  await stage.api.rigs.plan({ shootIds: [spin.shootId], rigRevisionId })
  const { rows } = await stage.api.takes.plan({ shootId: spin.shootId })
  for (const [index, { row, framesPerTurn, overlapFrames }] of rows.entries()) {
    const startedAt = clockTime(day, `${13 + index}:10`)
    const framesShot = framesPerTurn + overlapFrames
    const { takeId } = await stage.apiAt(benchId).takes.count({
      ...{ shootId: spin.shootId, row, rigRevisionId, framesShot },
      startedAt: startedAt.toISOString(),
      endedAt: new Date(startedAt.getTime() + framesShot * 5_900).toISOString(),
    })
    await stage.api.takes.judge({ takeId, verdict: 'keep' })
  }
  await stage.api.picks.newest({ shootIds: [spin.shootId] })
  await keepPictures(job)
  job.goOnFrom(day)
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
