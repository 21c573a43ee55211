import { formatMoney } from '../../trade/money.ts'
import { clientFigures } from '../../trade/paperFigures.ts'
import type { QuoteBasis } from '../../trade/quote.ts'
import { otherWay, otherWayRows } from '../../trade/quoteWays.ts'
import { paperTexts } from '../../trade/texts/paperTexts.ts'
import { framesToShoot } from '../../trade/turn/framesToShoot.ts'
import { rowFrames } from '../../trade/turn/rows.ts'
import { rightLineText } from '../../trade/usageRights.ts'
import { clockTime } from '../clock.ts'
import type { Story } from '../play.ts'
import { planCosts } from './costs.ts'
import type { JobInHand } from './stage.ts'

/** The enquiry: the job with its spins, before anything is quoted. */
export async function* enquire(job: JobInHand): Story {
  const { plan, stage, client } = job
  yield job.next('enquiry', '10:05')
  const products = plan.codes.map((code) => {
    const product = client.products.find((one) => one.code === code)
    if (!product) throw new Error(`${client.name} has no product ${code}.`)
    return product
  })
  const { jobId, number } = await stage.api.jobs.add({
    clientId: client.clientId,
    job: {
      contactId: client.contactId,
      title: plan.title,
      orderNumber: null,
      buyerReference: null,
      costCentre: null,
      callBackDay: null,
      dueDay: plan.dueDay,
      promiseWorkingDays: plan.promiseWorkingDays,
      returnByDay: null,
      note: plan.note,
    },
    spins: products.map(({ productId }) => ({ productIds: [productId], name: null })),
  })
  job.jobId = jobId
  job.number = number
  const spins = await stage.api.spins.list({ jobId })
  job.spins = spins.map(({ id }, index) => {
    const product = products[index]
    if (!product) throw new Error(`Spin ${index + 1} of ${number} shows nothing.`)
    return { shootId: id, product }
  })
  const [first] = job.spins
  if (first && job.spins.length > 3) {
    await stage.api.spins.markFirst({ shootIds: [first.shootId], isFirst: true })
  }
  if (plan.priority !== 'normal') await stage.api.jobs.setPriority({ jobId, priority: plan.priority })
  if (plan.told) stage.telling.say(`${number} for ${client.name}: ${plan.title}, ${job.spins.length} spins.`)
}

/** A draft of the quote, worked out by the studio's own figures. */
export async function* draftQuote(job: JobInHand): Story {
  yield job.next('draft', '11:20')
  await planCosts(job)
  await saveDraft(job, 0)
}

async function saveDraft(job: JobInHand, discountPpm: number): Promise<void> {
  const { jobId, stage, plan } = job
  const { start, basis } = await stage.api.quotes.basis({ jobId })
  const words = { ...start.words, dueDay: plan.dueDay }
  const input = {
    ...plainly(start.input),
    ...(job.twist('by days') ? { soldBy: 'days' as const } : {}),
    isRush: plan.isRush,
    discountPpm,
    fees: await chargedRights(job, basis, start.input.taxRateId),
    depositPpm: plan.deposit ? start.input.depositPpm : 0,
  }
  const { quoteId } = await stage.api.quotes.save({ jobId, input, words })
  job.quoteId = quoteId
  const smoother = job.twist('two ways') && otherWayRows('smoother', input.rows, 0)
  if (!smoother) return
  const turned = otherWay(basis, { ...input, byHand: null, fees: [] }, 'smoother', smoother)
  await stage.api.quotes.save({
    jobId,
    way: 'smoother',
    input: { ...turned, rows: [...turned.rows] } as Draft['input'],
    words,
  })
}

/** Rights that are asked for have their price on the quote. */
async function chargedRights(
  { jobId, stage }: JobInHand,
  basis: Pick<QuoteBasis, 'language' | 'country'>,
  taxRateId: number,
) {
  const words = paperTexts[basis.language].rights
  return (await stage.api.usageRights.ofJob({ jobId })).map((right) => ({
    ...{ kind: 'right' as const, text: rightLineText(right, words, clientFigures(basis).day) },
    ...{ quantityMilli: 1000, unit: 'LS' as const, priceMinor: 60_00, baseMilli: 1000 },
    ...{ taxRateId, shootIds: [], why: null },
  }))
}

type Draft = Parameters<JobInHand['stage']['api']['quotes']['save']>[0]

/** A first quote starts with worked-out lines and no fees. */
function plainly({ byHand: _, fees: __, rows, ...input }: StartInput) {
  return { ...input, rows: [...rows], byHand: null, fees: [] }
}
type StartInput = Awaited<ReturnType<JobInHand['stage']['api']['quotes']['basis']>>['start']['input']

export async function* sendQuote(job: JobInHand): Story {
  const { stage, plan } = job
  yield job.next('sent', '14:40')
  const sent = await stage.api.quotes.send({ quoteId: job.quoteId })
  const second = job.twist('second version')
  if (second) {
    yield clockTime(job.day, '16:50')
    await stage.api.quotes.decline({
      quoteId: job.quoteId,
      reason: 'Over the client’s budget for this range.',
    })
    await saveDraft(job, second.discountPpm)
    await stage.api.quotes.send({ quoteId: job.quoteId })
  }
  if (!plan.told) return
  const [quoted] = await stage.api.quotes.ofJob({ jobId: job.jobId })
  if (!quoted || !sent.paper) throw new Error(`${job.number} has no quote.`)
  const { quote } = quoted
  const hours = (ms: number) => `${(ms / 3_600_000).toFixed(1)} h`
  stage.telling.say(
    `Quoted: ${sent.name}, ${formatMoney(quote.totalMinor, quote.currency, 'en-GB')} with tax; ${framesToShoot(rowFrames(quote.rows))} frames a spin, bench ${hours(quote.benchMedianMs)} at the median and ${hours(quote.benchP80Ms)} at 80 %, desk ${hours(quote.deskMs)}.`,
  )
  stage.telling.paper(sent.paper.sha256)
}

/** The client's decision: yes, or no and the job is lost. */
export async function* decideQuote(job: JobInHand): Story {
  const { stage, plan, client, quoteId } = job
  yield job.next('accepted', '09:50')
  const lost = job.twist('lost')
  if (lost) {
    await stage.api.quotes.decline({
      quoteId,
      reason: lost.reason,
      priceMinor: lost.priceMinor,
      isLost: true,
    })
    return
  }
  const orderNumber =
    client.orderNumberNeeded && !job.twist('no order number') ? `PO-${4100 + job.chance.whole(1, 899)}` : null
  await stage.api.quotes.accept({ quoteId, orderNumber, day: job.day, by: client.contactName })
  if (plan.told) stage.telling.say(`Accepted by ${client.contactName} on ${job.day}.`)
  if (!plan.deposit) return
  const { invoiceId } = await stage.api.invoices.draftDeposit({ jobId: job.jobId, depositPpm: 300_000 })
  const { number } = await stage.api.invoices.issue({ invoiceId })
  yield clockTime(job.day, '15:30')
  const { openMinor } = await stage.api.invoices.one({ invoiceId })
  await stage.api.invoices.pay({
    invoiceId,
    day: job.day,
    amountMinor: openMinor,
    way: 'transfer',
    reference: number,
  })
}
