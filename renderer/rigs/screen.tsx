import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { ComparePage } from './comparePage.tsx'
import { EquipmentPage } from './equipmentPage.tsx'
import { PlattersPage } from './plattersPage.tsx'
import { NewRig, ReviseRig } from './rigForm.tsx'
import { RigPage } from './rigPage.tsx'
import { RigWall } from './rigWall.tsx'

/** Rigs: the wall of plans, one rig, the form that draws while one types; platters and equipment beside them. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<RigWall />} />
      <Route path="new" element={<NewRig />} />
      <Route path="platters" element={<PlattersPage />} />
      <Route path="equipment" element={<EquipmentPage />} />
      <Route path="compare" element={<ComparePage />} />
      <Route path=":rigId" element={<RigPage />} />
      <Route path=":rigId/revise" element={<ReviseRig />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
