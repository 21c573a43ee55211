import type { Asks } from '../../main/api/types.ts'
import { aJob } from '../jobs/aJob.ts'
import type { TestStudio } from '../studio.ts'

export type Draft = Asks['quotes']['save']

/** A list with a price for each case the tests use; invented. */
export const priceList: Asks['prices']['add'] = {
  name: 'Standard 2026',
  currency: 'EUR',
  validFrom: '2026-01-01',
  validTo: null,
  isStandard: true,
  prices: (['small', 'medium', 'large'] as const).flatMap((sizeClass, size) => [
    {
      sizeClass,
      finishClassId: null,
      kind: 'loop' as const,
      rows: 1,
      firstMinor: 12_345 + 4_000 * size,
      followingMinor: 8_955 + 3_000 * size,
    },
    {
      sizeClass,
      finishClassId: null,
      kind: 'frame set' as const,
      rows: 1,
      firstMinor: 4_505 + 1_000 * size,
      followingMinor: 3_005,
    },
  ]),
  breaks: [{ fromSpins: 3, discountPpm: 33_333 }],
}

/** A job of some products of one client, and the draft of a quote that nothing has been changed in. */
export async function aQuotableJob(studio: TestStudio, products = 3) {
  const codes = Array.from({ length: products }, (_, index) => `HL-${index + 1}`)
  const job = await aJob(studio, { codes })
  return { ...job, draft: await startingDraft(studio, job.jobId) }
}

/** The draft as the page would begin it. */
export async function startingDraft(studio: TestStudio, jobId: number): Promise<Draft> {
  const { start } = await studio.api.quotes.basis({ jobId })
  return { jobId, way: 'as asked', input: start.input, words: start.words } as Draft
}

/** The newest quote of a job. */
export async function newest(studio: TestStudio, jobId: number) {
  const [quote] = await studio.api.quotes.ofJob({ jobId })
  if (!quote) throw new Error('The job has no quote.')
  return quote
}
