import { Route, Routes, useParams } from 'react-router'
import { CheckPage } from '../check/checkPage.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { BeforeTake } from './beforeTake.tsx'
import { Turning } from './turning.tsx'

/** A take at the bench, and what comes before it. */
export function Screen() {
  return (
    <Routes>
      <Route path="of/:shootId" element={<SpinOfAddress />} />
      <Route path=":takeId" element={<TakeOfAddress />} />
      <Route path=":takeId/check" element={<CheckOfAddress />} />
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

function CheckOfAddress() {
  const takeId = Number(useParams().takeId)
  return Number.isSafeInteger(takeId) && takeId > 0 ? (
    <CheckPage key={takeId} takeId={takeId} />
  ) : (
    <NoSuchPage />
  )
}

function SpinOfAddress() {
  const shootId = Number(useParams().shootId)
  return Number.isSafeInteger(shootId) && shootId > 0 ? (
    <BeforeTake key={shootId} shootId={shootId} />
  ) : (
    <NoSuchPage />
  )
}
