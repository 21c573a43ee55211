import { keepFile } from '../../db/attachments.ts'
import { theInvoice } from '../../db/billing.ts'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import {
  adjustmentsOf,
  depositsDeductedBy,
  findInvoice,
  type Invoice,
  invoiceUbl,
  keepInvoiceUbl,
  linesOf,
  taxesOf,
} from '../../db/invoices.ts'
import type { Db } from '../../db/open.ts'
import { Refusal } from '../trade/refusal.ts'
import type { UblSource } from './ubl/document.ts'
import { ublText } from './ubl/write.ts'

/**
 * The attachment that holds an issued document as an electronic invoice (UBL 2.1 after EN 16931-1), written once and
 * kept beside its paper. Refuses a draft, and what the standard cannot carry.
 */
export function invoiceUblOf(
  writing: Pick<Writing, 'db' | 'now'> & { readonly folder: string },
  invoiceId: Id<'invoice'>,
): Id<'attachment'> {
  const { db, folder } = writing
  const kept = invoiceUbl(db, invoiceId)
  if (kept !== undefined) return kept
  const source = ublSource(db, theInvoice(db, invoiceId))
  const bytes = new TextEncoder().encode(ublText(source))
  const attachmentId = keepFile(writing, folder, bytes, `${source.number}.xml`, 'application/xml')
  keepInvoiceUbl(db, invoiceId, attachmentId)
  return attachmentId
}

/** Everything of an issued document, read from its frozen rows. */
function ublSource(db: Db, invoice: Invoice): UblSource {
  const { number, issueDay, dueDay, seller, buyer } = invoice
  if (number === null || issueDay === null || dueDay === null || seller === null || buyer === null) {
    throw new Refusal(
      'not-issued',
      'A draft is no invoice yet, so there is no electronic one. Issue it first.',
    )
  }
  return {
    ...invoice,
    number,
    issueDay,
    dueDay,
    seller,
    buyer,
    lines: linesOf(db, invoice.id),
    adjustments: adjustmentsOf(db, invoice.id),
    taxes: taxesOf(db, invoice.id),
    preceding: precedingOf(db, invoice),
  }
}

function precedingOf(db: Db, { id, correctsId }: Invoice): UblSource['preceding'] {
  const corrected = correctsId === null ? undefined : findInvoice(db, correctsId)
  return [...depositsDeductedBy(db, id), ...(corrected ? [corrected] : [])].flatMap(({ number, issueDay }) =>
    number === null || issueDay === null ? [] : [{ number, issueDay }],
  )
}
