import type { TaxCategory } from '../../main/trade/bill.ts'

/** The tax categories of EN 16931-1 in a person's words. */
export const categoryWords: Readonly<Record<TaxCategory, string>> = {
  S: 'Bears tax',
  Z: 'Zero rate',
  E: 'Exempt',
  AE: 'Reverse charge: the client owes the tax',
  G: 'Export',
  O: 'Outside the scope of tax',
  K: 'Supply within the European Union',
}
