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
 * The sums of a document one below the other, as its paper shows them; `openMinor` of an issued one adds what
 * came in since and what is left.
 */
export function Totals(props: {
  readonly sums: Sums
  readonly isCredit: boolean
  readonly today: string
  readonly openMinor?: number
}) {
  const { sums, today } = props
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
        {props.openMinor === undefined || props.openMinor === sums.payableMinor ? (
          <Fact label={props.isCredit ? 'Credited' : 'To pay'}>
            <strong>{money(sums.payableMinor)}</strong>
          </Fact>
        ) : (
          <>
            <Fact label="To pay">{money(sums.payableMinor)}</Fact>
            <Fact label="Paid and credited">{money(props.openMinor - sums.payableMinor)}</Fact>
            <Fact label="Open">
              <strong>{money(props.openMinor)}</strong>
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
