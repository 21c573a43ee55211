/**
 * Statements written by hand after the element names of ISO 20022, camt.053.001 (names of version 02 seen in public
 * readers of the message; the party inside `Dbtr/Pty`, `Sts/Cd` and the transaction's own `Amt` of version 08 from
 * memory). Names and amounts are invented, the account number is the registry's example for Germany (ISO 13616).
 */
export const account = 'DE89370400440532013000'

export function camt(entries: string, version = '02'): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.${version}"><BkToCstmrStmt>
<GrpHdr><MsgId>M1</MsgId><CreDtTm>2026-03-05T06:00:00</CreDtTm></GrpHdr>
<Stmt><Id>S1</Id><Acct><Id><IBAN>${account}</IBAN></Id><Ccy>EUR</Ccy></Acct>${entries}</Stmt>
</BkToCstmrStmt></Document>`
}

interface EntryOf {
  readonly amount: string
  readonly details?: string
  readonly direction?: 'CRDT' | 'DBIT'
  readonly status?: string
  readonly bankReference?: string
  readonly more?: string
}

export function entry({
  amount,
  details = '',
  direction = 'CRDT',
  status = '<Sts>BOOK</Sts>',
  bankReference = '',
  more = '',
}: EntryOf): string {
  const reference = bankReference === '' ? '' : `<AcctSvcrRef>${bankReference}</AcctSvcrRef>`
  return `<Ntry><Amt Ccy="EUR">${amount}</Amt><CdtDbtInd>${direction}</CdtDbtInd>${more}${status}
<BookgDt><Dt>2026-03-04</Dt></BookgDt><ValDt><Dt>2026-03-05</Dt></ValDt>${reference}${details}</Ntry>`
}

/** A transaction as version 02 tells it. */
export function transaction(of: {
  name?: string
  iban?: string
  remittance: string
  amount?: string
  refs?: string
}) {
  const amount =
    of.amount === undefined ? '' : `<AmtDtls><TxAmt><Amt Ccy="EUR">${of.amount}</Amt></TxAmt></AmtDtls>`
  const payer = of.name === undefined ? '' : `<Dbtr><Nm>${of.name}</Nm></Dbtr>`
  const iban = of.iban === undefined ? '' : `<DbtrAcct><Id><IBAN>${of.iban}</IBAN></Id></DbtrAcct>`
  return `<TxDtls><Refs>${of.refs ?? '<EndToEndId>NOTPROVIDED</EndToEndId>'}</Refs>${amount}
<RltdPties>${payer}${iban}</RltdPties><RmtInf>${of.remittance}</RmtInf></TxDtls>`
}

export const details = (...transactions: string[]) => `<NtryDtls>${transactions.join('')}</NtryDtls>`
export const free = (text: string) => `<Ustrd>${text}</Ustrd>`
export const structured = (reference: string) =>
  `<Strd><CdtrRefInf><Tp><CdOrPrtry><Cd>SCOR</Cd></CdOrPrtry></Tp><Ref>${reference}</Ref></CdtrRefInf></Strd>`
