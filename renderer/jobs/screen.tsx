import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { NewJob } from './jobForm.tsx'
import { JobFrame } from './jobFrame.tsx'
import { JobList } from './jobList.tsx'

/** Jobs: the list, the form for a new one, and each job with a page per station. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<JobList />} />
      <Route path="new" element={<NewJob />} />
      <Route path=":jobId/*" element={<JobFrame />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
