import { Route, Routes, useSearchParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink } from '../parts/button.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { Planner } from './planner.tsx'

/** The planner: what a turn is, looks like, takes and costs; alone, or for a job. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<PlannerPage />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}

function PlannerPage() {
  const [params] = useSearchParams()
  const job = params.get('job')
  const isJob = job !== null && /^[1-9]\d{0,14}$/u.test(job)
  const jobId = isJob ? Number(job) : null
  const start = useAsk(['planner', 'start', jobId], () => api.planner.start.query({ jobId }))
  if (job !== null && !isJob) return <NoSuchJob sentence={`“${job.slice(0, 20)}” is no job to plan for.`} />
  if (start.refusal) return <NoSuchJob sentence={start.refusal.sentence} />
  return (
    <Asked of={start}>
      {/* Figures of one job never stand under the name of another. */}
      {(answer) =>
        (answer.job?.jobId ?? null) === jobId ? <Planner key={jobId ?? 'alone'} start={answer} /> : null
      }
    </Asked>
  )
}

function NoSuchJob({ sentence }: { readonly sentence: string }) {
  return (
    <Page title="Planner">
      <Empty sentence={sentence} act={<ButtonLink to="/planner">Plan without a job</ButtonLink>} />
    </Page>
  )
}
