import { addDays } from '../../trade/calendar.ts'
import type { JobInHand } from './stage.ts'

/** What an order with a deposit costs beside hours; invented. */
const van = {
  kind: 'carrier',
  text: 'Van there and back for the samples',
  supplier: 'Osterhagen Vans',
  plannedMinor: 6000,
  isPassedOn: true,
} as const
const stands = {
  kind: 'hire',
  text: 'Two tall stands',
  supplier: 'Brennweiler Hire',
  plannedMinor: 4500,
  isPassedOn: false,
} as const

/** Larger orders, those with a deposit, are quoted with rights of use and with costs that are planned. */
export async function planCosts({ stage, plan, jobId, day }: JobInHand): Promise<void> {
  if (!plan.deposit) return
  await stage.api.usageRights.add({
    jobId,
    right: {
      media: 'Own web shop and its newsletters',
      territory: 'Europe',
      fromDay: null,
      toDay: addDays(day, 120),
      passesOnPayment: true,
    },
  })
  for (const cost of [van, stands]) await stage.api.jobCosts.add({ jobId, cost: { ...cost, day } })
}

/** The receipts come in before the invoice is drafted: the van was dearer than planned. */
export async function payCosts({ stage, plan, jobId }: JobInHand): Promise<void> {
  if (!plan.deposit) return
  const { costs } = await stage.api.jobCosts.ofJob({ jobId })
  for (const { id, day, kind } of costs) {
    const [planned, actualMinor] = kind === 'carrier' ? [van, 6840] : [stands, 4500]
    const cost = { ...planned, day, actualMinor, taxMinor: Math.round(actualMinor * 0.19) }
    await stage.api.jobCosts.change({ costId: id, cost })
  }
}
