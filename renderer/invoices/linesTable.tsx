import { formatMilli, formatPercent } from '../../main/trade/money.ts'
import { moneyText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import { type InvoiceLine, quantityText } from './invoiceWords.ts'

/** The lines of a document as they stand on its paper. */
export function LinesTable(props: { readonly lines: readonly InvoiceLine[]; readonly currency: string }) {
  const { currency } = props
  const columns: readonly Column<InvoiceLine>[] = [
    {
      key: 'text',
      head: 'What',
      cell: (line) => (
        <>
          {line.text}
          {line.allowanceMinor === 0 ? null : (
            <div>{`${line.allowanceReason}: ${moneyText(-line.allowanceMinor, currency)}`}</div>
          )}
          {line.chargeMinor === 0 ? null : (
            <div>{`${line.chargeReason}: ${moneyText(line.chargeMinor, currency)}`}</div>
          )}
        </>
      ),
    },
    {
      key: 'quantity',
      head: 'Quantity',
      figure: true,
      cell: ({ quantityMilli, unit }) => quantityText(quantityMilli, unit),
    },
    {
      key: 'price',
      head: 'Price',
      figure: true,
      cell: ({ priceMinor, baseMilli }) =>
        moneyText(priceMinor, currency) + (baseMilli === 1000 ? '' : ` per ${formatMilli(baseMilli)}`),
    },
    {
      key: 'tax',
      head: 'Tax',
      figure: true,
      cell: ({ category, ratePpm }) => (category === 'S' ? formatPercent(ratePpm) : category),
    },
    {
      key: 'net',
      head: 'Before tax',
      figure: true,
      cell: ({ netMinor }) => moneyText(netMinor, currency),
    },
  ]
  return (
    <Table
      caption="Lines"
      columns={columns}
      rows={props.lines}
      keyOf={({ id }) => id}
      empty={<p>No lines.</p>}
    />
  )
}
