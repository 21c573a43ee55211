import { formatPercent } from '../../main/trade/money.ts'
import { dayText, moneyText } from '../parts/format.ts'
import { Fact, Sheet } from '../parts/page.tsx'
import { categoryWords } from '../studio/taxWords.ts'
import css from './invoices.module.css'
import type { InvoicePageData } from './invoiceWords.ts'

/** The sums of a document; money in minor units. */
export interface Sums {
  readonly currency: string
  readonly linesMinor: number
  readonly allowanceMinor: number
  readonly chargeMinor: number
  readonly netMinor: number
  readonly totalMinor: number
  readonly roundingMinor: number
  readonly payableMinor: number
  readonly taxes: readonly Pick<
    InvoicePageData['taxes'][number],
    'category' | 'ratePpm' | 'name' | 'baseMinor' | 'taxMinor'
  >[]
  readonly deposits: InvoicePageData['deposits']
}

/**
 * The sums of a document one below the other, as its paper shows them; `settled` of an issued one adds how much
 * of it was settled since, by which ways (`paid and written off`), and what is left.
 */
export function Totals(props: {
  readonly sums: Sums
  readonly isCredit: boolean
  readonly today: string
  readonly settled?: { readonly openMinor: number; readonly how: string }
}) {
  const { sums, today, settled } = props
  const money = (minor: number) => moneyText(minor, sums.currency)
  return (
    <div className={css.totals}>
      <Sheet figures>
        {sums.allowanceMinor > 0 || sums.chargeMinor > 0 ? (
          <Fact label="Lines">{money(sums.linesMinor)}</Fact>
        ) : null}
        {sums.allowanceMinor > 0 ? <Fact label="Allowances">{money(-sums.allowanceMinor)}</Fact> : null}
        {sums.chargeMinor > 0 ? <Fact label="Charges">{money(sums.chargeMinor)}</Fact> : null}
        <Fact label="Before tax">{money(sums.netMinor)}</Fact>
        {sums.taxes.map((tax) => (
          <Fact
            key={`${tax.category} ${tax.ratePpm} ${tax.name}`}
            label={
              tax.category === 'S'
                ? `${tax.name || 'Tax'}, ${formatPercent(tax.ratePpm)} of ${money(tax.baseMinor)}`
                : categoryWords[tax.category]
            }
          >
            {money(tax.taxMinor)}
          </Fact>
        ))}
        <Fact label="Total">{money(sums.totalMinor)}</Fact>
        {sums.deposits.map((deposit) => (
          <Fact
            key={deposit.depositId}
            label={`Less deposit ${deposit.number} of ${dayText(deposit.issueDay, today)}`}
          >
            {money(-deposit.amountMinor)}
          </Fact>
        ))}
        {sums.roundingMinor === 0 ? null : <Fact label="Rounding">{money(sums.roundingMinor)}</Fact>}
        {settled === undefined || settled.openMinor === sums.payableMinor ? (
          <Fact label={props.isCredit ? 'Credited' : 'To pay'}>
            <strong>{money(sums.payableMinor)}</strong>
          </Fact>
        ) : (
          <>
            <Fact label="To pay">{money(sums.payableMinor)}</Fact>
            <Fact label={settled.how.replace(/^./u, (first) => first.toUpperCase())}>
              {money(settled.openMinor - sums.payableMinor)}
            </Fact>
            <Fact label="Open">
              <strong>{money(settled.openMinor)}</strong>
            </Fact>
          </>
        )}
      </Sheet>
    </div>
  )
}

/** The sums of a document as it is kept. */
export function sumsOf({ invoice, taxes, deposits }: InvoicePageData): Sums {
  return { ...invoice, taxes, deposits }
}
