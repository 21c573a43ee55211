import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { ChangeClient, NewClient } from './clientForm.tsx'
import { ClientList } from './clientList.tsx'
import { ClientPage } from './clientPage.tsx'

/** Clients: the list, one client, and the form for a new or changed one. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<ClientList />} />
      <Route path="new" element={<NewClient />} />
      <Route path=":clientId" element={<ClientPage />} />
      <Route path=":clientId/change" element={<ChangeClient />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
