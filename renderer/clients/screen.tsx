import { Route, Routes } from 'react-router'
import { RightsEnding } from '../rights/rightsEnding.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { ChangeClient, NewClient } from './clientForm.tsx'
import { ClientList } from './clientList.tsx'
import { ClientPage } from './clientPage.tsx'

/** Clients: the list, one client, the form for a new or changed one, and rights that end. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<ClientList />} />
      <Route path="new" element={<NewClient />} />
      <Route path="rights" element={<RightsEnding />} />
      <Route path=":clientId" element={<ClientPage />} />
      <Route path=":clientId/change" element={<ChangeClient />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
