import { Route, Routes } from 'react-router'
import { TakesFoundPage } from '../check/takesFoundPage.tsx'
import { OutPage } from '../outages/outPage.tsx'
import { FreedPage } from '../samples/freedPage.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { BenchPlan } from './benchPlan.tsx'
import { CalendarPage } from './calendarPage.tsx'
import { DaySheetPage } from './daySheetPage.tsx'
import { PlanPage } from './planPage.tsx'

/** The bench plan: a week or a day of every bench, the search for a plan, and the sheet of one bench's day. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<BenchPlan />} />
      <Route path="plan" element={<PlanPage />} />
      <Route path="freed" element={<FreedPage />} />
      <Route path="out" element={<OutPage />} />
      <Route path="calendar" element={<CalendarPage />} />
      <Route path="cards" element={<TakesFoundPage />} />
      <Route path=":benchId/:day" element={<DaySheetPage />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
