import { formatMoney } from '../../trade/money.ts'
import type { Story } from '../play.ts'
import { payCosts } from './costs.ts'
import type { JobInHand } from './stage.ts'

/** The invoice for what was delivered. */
export async function* bill(job: JobInHand): Story {
  const { stage, jobId, plan } = job
  yield job.next('billed', '10:25')
  await payCosts(job)
  const { invoiceId } = await stage.api.invoices.draft({ jobId })
  const { number, paperId } = await stage.api.invoices.issue({ invoiceId })
  job.invoiceId = invoiceId
  if (!plan.told) return
  const { invoice } = await stage.api.invoices.one({ invoiceId })
  const money = (minor: number) => formatMoney(minor, invoice.currency, 'en-GB')
  stage.telling.say(
    `Billed: invoice ${number}, ${money(invoice.totalMinor)} with tax, ${money(invoice.payableMinor)} to pay by ${invoice.dueDay}.`,
  )
  stage.telling.paper(paperId)
}

export async function* bePaid(job: JobInHand): Story {
  const { stage, plan, invoiceId } = job
  yield job.next('paid', '08:30')
  const { openMinor, invoice } = await stage.api.invoices.one({ invoiceId })
  await stage.api.invoices.pay({
    invoiceId,
    day: job.day,
    amountMinor: openMinor,
    way: 'transfer',
    reference: invoice.paymentReference ?? invoice.number,
  })
  if (plan.told)
    stage.telling.say(`Paid: ${formatMoney(openMinor, invoice.currency, 'en-GB')} on ${job.day}.`)
}
