import { Route, Routes, useParams } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { Turning } from './turning.tsx'

/** A take at the bench. */
export function Screen() {
  return (
    <Routes>
      <Route path=":takeId" element={<TakeOfAddress />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}

function TakeOfAddress() {
  const takeId = Number(useParams().takeId)
  return Number.isSafeInteger(takeId) && takeId > 0 ? (
    <Turning key={takeId} takeId={takeId} />
  ) : (
    <NoSuchPage />
  )
}
