import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { guessMapping, likelyOrders, parseBankCsv, readBankCsv } from '../../main/trade/bankCsv.ts'
import { identitiesOf } from '../../main/trade/bankLine.ts'
import { Refusal } from '../../main/trade/refusal.ts'

function movementsIn(text: string, of: { dayOrder?: 'DMY' | 'MDY'; currency?: string } = {}) {
  const csv = parseBankCsv(text)
  const mapping = guessMapping(csv, 'Main account', of.currency ?? 'EUR')
  return readBankCsv(csv, of.dayOrder ? { ...mapping, dayOrder: of.dayOrder } : mapping)
}

const amountsIn = (text: string) => movementsIn(text).movements.map(({ amountMinor }) => amountMinor)

describe('a bank’s CSV file', () => {
  it('is read with lines before its header, semicolons, decimal commas and quotes', () => {
    const read = movementsIn(
      [
        'Umsatzanzeige;Datei erstellt am: 05.03.2026 07:12',
        'IBAN;DE89370400440532013000',
        '',
        'Buchungstag;Valuta;Auftraggeber/Empfänger;Verwendungszweck;IBAN;Betrag;Währung',
        '04.03.2026;05.03.2026;Halvorsen Leuchten GmbH;"RE I-2026-0001; danke";AT61 1904 3002 3457 3201;1.234,50;EUR',
        '05.03.2026;05.03.2026;Stadtwerke;Abschlag;DE02120300000000202051;-80,00;EUR',
      ].join('\r\n'),
    )
    expect(read.unread).toEqual([])
    expect(read.movements).toMatchObject([
      {
        day: '2026-03-04',
        amountMinor: 123_450,
        payer: 'Halvorsen Leuchten GmbH',
        payerIban: 'AT611904300234573201',
        text: 'RE I-2026-0001; danke',
      },
      { day: '2026-03-05', amountMinor: -8000 },
    ])
  })

  it('is read with columns of their own for what came in and what went out', () => {
    const read = movementsIn(
      'Date,Description,Paid out,Paid in,Balance\n03/14/2026,RENT,900.00,,100.00\n03/15/2026,ACME I-2026-0007,,"1,250.00",1350.00\n',
      { currency: 'USD' },
    )
    expect(read.movements.map(({ day, amountMinor }) => [day, amountMinor])).toEqual([
      ['2026-03-14', -90_000],
      ['2026-03-15', 125_000],
    ])
  })

  it.each([
    ['a minus behind', '12.50-', -1250],
    ['a true minus', '−12.50', -1250],
    ['brackets', '(12.50)', -1250],
    ['letters of debit', '12.50 DR', -1250],
    ['letters of credit', '12.50 CR', 1250],
    ['a currency before it', 'EUR 12.50', 1250],
    ['groups', '1 234.50', 123_450],
  ])('reads an amount with %s', (_how, cell, minor) => {
    expect(amountsIn(`Date,Text,Amount\n2026-03-04,x,"${cell}"\n`)).toEqual([minor])
  })

  it('says in which orders its days can be read, so that a person decides', () => {
    const days = (...cells: string[]) =>
      likelyOrders(parseBankCsv(`Date,Text,Amount\n${cells.map((day) => `${day},x,1.00`).join('\n')}`), 0)
    expect(days('04/03/2026', '05/03/2026')).toEqual(['DMY', 'MDY'])
    expect(days('04/03/2026', '13/03/2026')).toEqual(['DMY'])
    expect(days('03/14/26')).toEqual(['MDY'])
    expect(days('2026-03-04')).toEqual(['YMD'])
  })

  it('tells each line it cannot read, and reads the others', () => {
    const read = movementsIn(
      'Date,Text,Amount\n2026-03-04,a,1.00\nmorgen,b,2.00\n2026-03-05,c,zwei\n2026-03-06,d,4.00\n',
    )
    expect(read.movements.map(({ text }) => text)).toEqual(['a', 'd'])
    expect(read.unread.map(({ line }) => line)).toEqual([3, 4])
  })

  it.each([
    ['a workbook', 'PK\u0003\u0004abc'],
    ['a PDF', '%PDF-1.7'],
    ['a picture', '\u0000\u0001'],
    ['a letter', 'Dear Madam,\nplease find nothing here.\n'],
    ['a header alone', 'Date,Text,Amount\n'],
  ])('refuses %s in words', (_what, text) => {
    expect(() => parseBankCsv(text)).toThrow(expect.objectContaining({ code: 'not-a-statement' }))
  })

  it('is read or refused in words, whatever stands in it', () => {
    const cell = fc.oneof(
      fc.string(),
      fc.constantFrom(
        '"',
        '""',
        '=1+1',
        '2026-03-04',
        '1.00',
        ';',
        '\t',
        '-',
        '(',
        '\ufeff',
        '1e9',
        '99999999999999999999',
      ),
    )
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 12 }), (rows) => {
        const text = `Date;Text;Amount\n${rows.map((row) => row.join(';')).join('\n')}`
        try {
          for (const { amountMinor, day } of movementsIn(text).movements) {
            expect(Number.isSafeInteger(amountMinor) && amountMinor !== 0).toBe(true)
            expect(day).toMatch(/^\d{4}-\d\d-\d\d$/)
          }
        } catch (error) {
          if (!(error instanceof Refusal)) throw error
        }
      }),
    )
  })

  it('knows a movement again in another file, and two equal ones of a day as two', () => {
    const line = '2026-03-04,parking,-2.00'
    const first = identitiesOf(movementsIn(`Date,Text,Amount\n${line}\n${line}\n`).movements)
    const later = identitiesOf(
      movementsIn(`Date,Text,Amount\n${line}\n${line}\n2026-03-05,x,1.00\n`).movements,
    )
    expect(new Set(first).size).toBe(2)
    expect(later.slice(0, 2)).toEqual(first)
    expect(new Set(later).size).toBe(3)
  })
})
