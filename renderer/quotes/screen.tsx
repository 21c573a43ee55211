import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { QuoteList } from './quoteList.tsx'

/** Quotes over all jobs; one quote is a page of its job. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<QuoteList />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
