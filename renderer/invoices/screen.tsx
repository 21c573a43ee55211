import { Route, Routes } from 'react-router'
import { QuarterPage } from '../costs/quarterPage.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { InvoiceList } from './invoiceList.tsx'
import { InvoicePage } from './invoicePage.tsx'
import { MonthsPage } from './monthsPage.tsx'

/** Invoices, deposits and credit notes: the list, and a page each, and a quarter’s purchases beside its sales. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<InvoiceList />} />
      <Route path="months" element={<MonthsPage />} />
      <Route path="quarter" element={<QuarterPage />} />
      <Route path=":invoiceId" element={<InvoicePage />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
