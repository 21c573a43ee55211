import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { CallPage } from './callPage.tsx'

/** A call answered while the caller waits. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<CallPage />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
