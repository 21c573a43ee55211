/** The words of invoices, one record per language of the client. */
export interface InvoiceWords {
  readonly title: Readonly<Record<'invoice' | 'deposit' | 'credit note', string>>
  readonly draft: string
  readonly day: string
  readonly dueDay: string
  readonly orderNumber: string
  readonly reference: string
  readonly costCentre: string
  readonly corrects: string
  readonly service: string
  readonly yourTaxNumber: string
  readonly columns: readonly [what: string, quantity: string, price: string, tax: string, amount: string]
  readonly perBase: (base: string) => string
  readonly net: string
  readonly tax: (name: string, base: string) => string
  readonly total: string
  readonly deposit: (number: string, day: string, tax: string) => string
  readonly rounding: string
  readonly due: string
  readonly credited: string
  /** How a credit note is settled, as its terms of payment. */
  readonly creditTerms: string
  readonly pay: (day: string, reference: string) => string
  readonly categories: Readonly<Record<'Z' | 'E' | 'AE' | 'G' | 'O' | 'K', string>>
}

export const invoiceWords: Readonly<Record<'en' | 'de', InvoiceWords>> = {
  en: {
    title: { invoice: 'Invoice', deposit: 'Deposit invoice', 'credit note': 'Credit note' },
    draft: 'Draft',
    day: 'Date',
    dueDay: 'Due',
    orderNumber: 'Your order',
    reference: 'Your reference',
    costCentre: 'Cost centre',
    corrects: 'Corrects',
    service: 'Service',
    yourTaxNumber: 'Your tax number',
    columns: ['What', 'Quantity', 'Price', 'Tax', 'Amount'],
    perBase: (base) => `per ${base}`,
    net: 'Total before tax',
    tax: (name, base) => `Tax ${name} on ${base}`,
    total: 'Total',
    deposit: (number, day, tax) => `Less deposit ${number} of ${day}, of it ${tax} tax`,
    rounding: 'Rounding',
    due: 'Amount due',
    credited: 'Amount credited',
    creditTerms: 'It is set against the invoice, or paid back where that is paid.',
    pay: (day, reference) => `Please pay by ${day}, with the reference ${reference}.`,
    categories: {
      Z: 'zero rate',
      E: 'exempt',
      AE: 'reverse charge',
      G: 'export',
      O: 'outside the scope of tax',
      K: 'supply within the European Union',
    },
  },
  de: {
    title: {
      invoice: 'Rechnung',
      deposit: 'Anzahlungsrechnung',
      'credit note': 'Gutschrift (Rechnungskorrektur)',
    },
    draft: 'Entwurf',
    day: 'Datum',
    dueDay: 'Fällig',
    orderNumber: 'Ihre Bestellung',
    reference: 'Ihr Zeichen',
    costCentre: 'Kostenstelle',
    corrects: 'Korrigiert',
    service: 'Leistung',
    yourTaxNumber: 'Ihre USt-IdNr.',
    columns: ['Leistung', 'Menge', 'Preis', 'Steuer', 'Betrag'],
    perBase: (base) => `je ${base}`,
    net: 'Summe ohne Steuer',
    tax: (name, base) => `Steuer ${name} auf ${base}`,
    total: 'Gesamt',
    deposit: (number, day, tax) => `Abzüglich Anzahlung ${number} vom ${day}, darin Steuer ${tax}`,
    rounding: 'Rundung',
    due: 'Zahlbetrag',
    credited: 'Gutgeschrieben',
    creditTerms: 'Wird mit der Rechnung verrechnet oder, wo diese bezahlt ist, erstattet.',
    pay: (day, reference) => `Bitte zahlen Sie bis ${day} mit der Referenz ${reference}.`,
    categories: {
      Z: 'Nullsatz',
      E: 'steuerbefreit',
      AE: 'Steuerschuldnerschaft des Leistungsempfängers',
      G: 'Ausfuhr',
      O: 'nicht steuerbar',
      K: 'innergemeinschaftliche Lieferung',
    },
  },
}
