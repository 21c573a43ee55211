import { formatMoney, shareMinor } from '../../trade/money.ts'
import { clockTime, workingDaysAfter } from '../clock.ts'
import type { Story } from '../play.ts'
import { payCosts } from './costs.ts'
import type { JobInHand } from './stage.ts'

/** The invoice for what was delivered. */
export async function* bill(job: JobInHand): Story {
  const { stage, jobId, plan } = job
  if (job.client.billsMonthly) {
    yield* billMonth(job)
    return
  }
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

/** On the first working day after the month of its end the job is billed with the client's others, by whichever comes first. */
async function* billMonth(job: JobInHand): Story {
  const { stage, jobId, client } = job
  const { invoices } = stage.api
  const month = job.day.slice(0, 7)
  let day = job.day
  while (day.startsWith(month)) day = workingDaysAfter(day, 1)
  job.goOnFrom(day)
  yield clockTime(day, '10:25')
  await payCosts(job)
  if ((await invoices.months({ month })).some(({ clientId }) => clientId === client.clientId)) {
    const { invoiceIds } = await invoices.draftMonth({ clientId: client.clientId, month })
    for (const invoiceId of invoiceIds) await invoices.issue({ invoiceId })
  }
  const billed = (await invoices.ofJob({ jobId })).invoices.findLast(({ kind }) => kind === 'invoice')
  if (!billed) throw new Error(`${job.number} stands on no invoice of ${month}.`)
  job.invoiceId = billed.id
}

export async function* bePaid(job: JobInHand): Story {
  const { stage, plan, invoiceId } = job
  yield job.next('paid', '08:30')
  const { openMinor, invoice } = await stage.api.invoices.one({ invoiceId })
  // An invoice of a month is paid once for all its jobs.
  if (openMinor === 0) return
  await pay(job, openMinor)
  if (plan.told)
    stage.telling.say(`Paid: ${formatMoney(openMinor, invoice.currency, 'en-GB')} on ${job.day}.`)
}

async function pay({ stage, invoiceId, day }: JobInHand, amountMinor: number): Promise<void> {
  const { invoice } = await stage.api.invoices.one({ invoiceId })
  const reference = invoice.paymentReference ?? invoice.number
  await stage.api.invoices.pay({ invoiceId, day, amountMinor, way: 'transfer', reference })
}

/** What became of an invoice that was not simply paid. */
export async function* settle(job: JobInHand): Story {
  const { stage, invoiceId } = job
  const part = job.twist('paid in part')
  const tooMuch = job.twist('paid too much')
  if (part || tooMuch) {
    yield job.next('paid', '08:30')
    const { openMinor } = await stage.api.invoices.one({ invoiceId })
    await pay(job, part ? shareMinor(openMinor, part.sharePpm) : openMinor + (tooMuch?.byMinor ?? 0))
  }
  const off = job.twist('written off')
  if (off) {
    yield clockTime(workingDaysAfter(job.day, 2), '11:15')
    const { openMinor } = await stage.api.invoices.one({ invoiceId })
    await stage.api.accounts.writeOff({ invoiceId, amountMinor: openMinor, reason: off.reason })
  }
  if (job.twist('reminded')) yield* remind(job)
}

/** The first reminder is sent as the program proposes it. */
async function* remind({ stage, client, invoiceId, number }: JobInHand): Story {
  const { reminders, invoices } = stage.api
  const { dueDay } = (await invoices.one({ invoiceId })).invoice
  if (dueDay === null) throw new Error(`The invoice of ${number} is not issued.`)
  yield clockTime(workingDaysAfter(dueDay, 8), '09:10')
  const { proposals } = await reminders.today()
  const mine = proposals.find(({ clientId }) => clientId === client.clientId)
  if (!mine) throw new Error(`Nothing is proposed to remind ${client.name} of.`)
  await reminders.markSent({
    ...{ clientId: mine.clientId, currency: mine.currency, lumpSumMinor: mine.lumpSumMinor },
    invoices: mine.invoices.map((each) => ({
      invoiceId: each.invoiceId,
      interestMinor: each.interestMinor,
    })),
  })
}
