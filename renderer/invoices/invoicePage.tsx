import { useParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { api, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { DraftInvoice } from './draftInvoice.tsx'
import { IssuedInvoice } from './issuedInvoice.tsx'

/** One invoice, deposit invoice or credit note: a draft is written here, an issued one is paid or credited. */
export function InvoicePage() {
  const { invoiceId = '' } = useParams()
  const id = Number(invoiceId)
  const isNumber = Number.isSafeInteger(id) && id > 0
  const one = useAsk(['invoices', 'one', id], () => api.invoices.one.query({ invoiceId: id }), {
    when: isNumber,
  })
  if (!isNumber) return <NoSuchPage />
  return (
    <Asked of={one} isPage>
      {(data) =>
        data.invoice.state === 'draft' ? (
          <DraftInvoice key={data.invoice.id} data={data} />
        ) : (
          <IssuedInvoice key={data.invoice.id} data={data} />
        )
      }
    </Asked>
  )
}
