import { type ComponentType, lazy } from 'react'
import { JobBrief } from './jobBrief.tsx'
import { JobHistory } from './jobHistory.tsx'
import { JobSpins } from './jobSpins.tsx'

interface StationPage {
  readonly path: string
  readonly label: string
  readonly Station: ComponentType<StationProps>
}

interface StationProps {
  readonly jobId: number
}

/** The pages of a job, in the order of the path; each is loaded when it is first gone to. */
export const stationPages: readonly StationPage[] = [
  { path: 'brief', label: 'Brief', Station: JobBrief },
  { path: 'spins', label: 'Spins', Station: JobSpins },
  {
    path: 'quote',
    label: 'Quote',
    Station: lazy(async () => ({ default: (await import('../quotes/jobQuote.tsx')).JobQuote })),
  },
  {
    path: 'samples',
    label: 'Samples',
    Station: lazy(async () => ({ default: (await import('../samples/jobSamples.tsx')).JobSamples })),
  },
  {
    path: 'bench',
    label: 'Bench',
    Station: lazy(async () => ({ default: (await import('../bench/jobBench.tsx')).JobBench })),
  },
  {
    path: 'takes',
    label: 'Takes',
    Station: lazy(async () => ({ default: (await import('../takes/jobTakes.tsx')).JobTakes })),
  },
  {
    path: 'yes',
    label: 'Yes',
    Station: lazy(async () => ({ default: (await import('../answers/jobAnswers.tsx')).JobAnswers })),
  },
  {
    path: 'delivery',
    label: 'Delivery',
    Station: lazy(async () => ({ default: (await import('../deliveries/jobDelivery.tsx')).JobDelivery })),
  },
  {
    path: 'extras',
    label: 'Extras',
    Station: lazy(async () => ({ default: (await import('../extras/jobExtras.tsx')).JobExtras })),
  },
  {
    path: 'invoice',
    label: 'Invoice',
    Station: lazy(async () => ({ default: (await import('../invoices/jobInvoice.tsx')).JobInvoice })),
  },
  {
    path: 'costs',
    label: 'Costs',
    Station: lazy(async () => ({ default: (await import('../costs/jobCosts.tsx')).JobCostsPage })),
  },
  { path: 'history', label: 'History', Station: JobHistory },
]

const pages: Readonly<Record<string, string>> = {
  enquiry: 'quote',
  quote: 'quote',
  order: 'quote',
  'samples in': 'samples',
  bench: 'bench',
  takes: 'takes',
  pick: 'yes',
  yes: 'yes',
  delivery: 'delivery',
  'samples back': 'samples',
  invoice: 'invoice',
  paid: 'invoice',
}

/** The page on which a job is worked at that stands at this station. */
export function pageOfStation(station: string): string {
  return pages[station] ?? 'history'
}
