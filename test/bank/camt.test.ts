import { describe, expect, it } from 'vitest'
import { readCamt } from '../../main/trade/bankCamt.ts'
import { account, camt, details, entry, free, structured, transaction } from './camtFiles.ts'

describe('a camt.053 statement', () => {
  it('tells who paid how much on which day, with reference and text', () => {
    const file = camt(
      entry({
        amount: '1234.5',
        bankReference: 'B-77',
        details: details(
          transaction({
            name: 'Halvorsen &amp; Sons',
            iban: 'AT611904300234573201',
            remittance: structured('RF18539007547034') + free('Invoice I-2026-0001'),
            refs: '<EndToEndId>E2E-9</EndToEndId>',
          }),
        ),
      }),
    )
    expect(readCamt(file)).toEqual({
      format: 'camt.053',
      unread: [],
      pending: 0,
      movements: [
        {
          account,
          bankReference: 'B-77',
          day: '2026-03-04',
          amountMinor: 123_450,
          currency: 'EUR',
          isReversal: false,
          payer: 'Halvorsen & Sons',
          payerIban: 'AT611904300234573201',
          reference: 'RF18539007547034',
          text: 'Invoice I-2026-0001 E2E-9',
        },
      ],
    })
  })

  it('is read in version 08 as well, and under any prefix', () => {
    const file = camt(
      `<Ntry><Amt Ccy="EUR">10.00</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts><Cd>BOOK</Cd></Sts>
       <BookgDt><DtTm>2026-03-04T10:00:00+01:00</DtTm></BookgDt><NtryDtls><TxDtls><Amt Ccy="EUR">10.00</Amt>
       <RltdPties><Dbtr><Pty><Nm>Ida Falk</Nm></Pty></Dbtr></RltdPties></TxDtls></NtryDtls></Ntry>`,
      '08',
    )
    const prefixed = file.replaceAll(/<(\/?)(?=[A-Z])/gu, '<$1c:').replace('xmlns=', 'xmlns:c=')
    for (const each of [file, prefixed]) {
      expect(readCamt(each).movements).toMatchObject([
        { day: '2026-03-04', amountMinor: 1000, payer: 'Ida Falk' },
      ])
    }
  })

  it('tells each payment of a batch where their amounts add up, else the batch as one', () => {
    const parts = (second: string) =>
      camt(
        entry({
          amount: '30.00',
          bankReference: 'BATCH',
          details: details(
            transaction({ remittance: free('first'), amount: '10.00' }),
            transaction({ remittance: free('second'), amount: second }),
          ),
        }),
      )
    const told = readCamt(parts('20.00')).movements
    expect(told.map(({ amountMinor, text, bankReference }) => [amountMinor, text, bankReference])).toEqual([
      [1000, 'first', 'BATCH 1'],
      [2000, 'second', 'BATCH 2'],
    ])
    expect(readCamt(parts('19.99')).movements.map(({ amountMinor }) => amountMinor)).toEqual([3000])
  })

  it('tells money that went out, what the bank undid, and leaves out what is only announced', () => {
    const read = readCamt(
      camt(
        entry({ amount: '5.00', direction: 'DBIT' }) +
          entry({ amount: '7.00', direction: 'DBIT', more: '<RvslInd>true</RvslInd>' }) +
          entry({ amount: '9.00', status: '<Sts>PDNG</Sts>' }),
      ),
    )
    expect(read.movements.map(({ amountMinor, isReversal }) => [amountMinor, isReversal])).toEqual([
      [-500, false],
      [-700, true],
    ])
    expect(read.pending).toBe(1)
  })

  it.each([
    ['another kind of file', '<html><body>Balance</body></html>', 'no-statement'],
    ['one cut short', camt(entry({ amount: '1.00' })).slice(0, 300), 'no-statement'],
    ['an amount that is no amount', camt(entry({ amount: '1,00' })), 'no-statement'],
    [
      'a day the calendar lacks',
      camt(entry({ amount: '1.00' }).replace('2026-03-04', '2026-02-3x').replace('2026-03-05', '')),
      'no-statement',
    ],
    ['a file that declares entities', `<!DOCTYPE d [<!ENTITY a "b">]>${camt('')}`, 'statement-unsafe'],
    ['elements a hundred thousand deep', '<a>'.repeat(100_000), 'no-statement'],
  ])('refuses %s in words', (_what, file, code) => {
    expect(() => readCamt(file)).toThrow(expect.objectContaining({ code }))
  })

  it('leaves an entity of its own making as it stands', () => {
    const file = camt(
      entry({ amount: '1.00', details: details(transaction({ remittance: free('&xxe; &#65;&lt;b&gt;') })) }),
    )
    expect(readCamt(file).movements[0]?.text).toBe('&xxe; A<b>')
  })
})
