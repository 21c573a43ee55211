import { Link } from 'react-router'
import type { InvoicePageData } from './invoiceWords.ts'

/** The jobs that an invoice over several of them bills, each the way to its own page. */
export function JobLinks({ jobs }: { readonly jobs: InvoicePageData['jobs'] }) {
  return (
    <>
      {jobs.map(({ id, number, title }, index) => (
        <span key={id}>
          {index === 0 ? '' : ', '}
          <Link to={`/jobs/${id}/invoice`} title={title}>
            {number}
          </Link>
        </span>
      ))}
    </>
  )
}
