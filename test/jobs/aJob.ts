import { plainBrief } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import type { Asks } from '../../main/api/types.ts'
import { aClient, aProduct } from '../builders.ts'
import type { TestStudio } from '../studio.ts'

type NewBrief = Asks['jobs']['rewriteBrief']['brief']

/** A brief; name only what the test is about. */
export function aBrief(of: Partial<NewBrief> = {}): NewBrief {
  return { ...(plainBrief as NewBrief), ...of }
}

/** What `jobs.add` takes beside the client; name only what the test is about. */
export function jobDraft(of: Partial<Parameters<TestStudio['api']['jobs']['add']>[0]['job']> = {}) {
  return {
    contactId: null,
    title: 'Spring range',
    orderNumber: null,
    buyerReference: null,
    costCentre: null,
    callBackDay: null,
    dueDay: null,
    promiseWorkingDays: null,
    returnByDay: null,
    note: null,
    ...of,
  }
}

/** A client with products of these codes, and a job that spins each of them. */
export async function aJob(
  { api }: TestStudio,
  of: {
    codes?: readonly string[]
    job?: Parameters<typeof jobDraft>[0]
    client?: Parameters<typeof aClient>[0]
  } = {},
) {
  const { clientId } = await api.clients.add(aClient(of.client))
  const productIds: Id<'product'>[] = []
  for (const code of of.codes ?? ['KN-01', 'KN-02']) {
    const { productId } = await api.products.add({
      clientId,
      product: aProduct({ code, name: `Kettle ${code}`, valueMinor: 8900 }),
    })
    productIds.push(productId)
  }
  const { jobId, number } = await api.jobs.add({
    clientId,
    job: jobDraft(of.job),
    spins: productIds.map((productId) => ({ productIds: [productId], name: null })),
  })
  const shootIds = (await api.spins.list({ jobId })).map(({ id }) => id)
  const sampleIds = (await api.samples.list({ jobId })).map(({ id }) => id)
  return { clientId, productIds, jobId, number, shootIds, sampleIds }
}
