import { Route, Routes } from 'react-router'
import { QuarterPage } from '../costs/quarterPage.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { AccountantPage } from './accountantPage.tsx'
import { AccountPage } from './accountPage.tsx'
import { BankPage } from './bankPage.tsx'
import { InvoiceList } from './invoiceList.tsx'
import { InvoicePage } from './invoicePage.tsx'
import { MonthsPage } from './monthsPage.tsx'
import { ReminderPage } from './reminderPage.tsx'
import { TakeStatement } from './takeStatement.tsx'

/** Invoices, deposits and credit notes: the list, and a page each, and a quarter’s purchases beside its sales. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<InvoiceList />} />
      <Route path="months" element={<MonthsPage />} />
      <Route path="quarter" element={<QuarterPage />} />
      <Route path="accountant" element={<AccountantPage />} />
      <Route path="accounts/:clientId" element={<AccountPage />} />
      <Route path="bank" element={<BankPage />} />
      <Route path="bank/take" element={<TakeStatement />} />
      <Route path="reminders" element={<ReminderPage />} />
      <Route path=":invoiceId" element={<InvoicePage />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
