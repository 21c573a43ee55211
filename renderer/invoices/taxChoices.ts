import { formatPercent } from '../../main/trade/money.ts'
import { api, useAsk } from '../shell/api.ts'
import { categoryWords } from '../studio/taxWords.ts'
import type { Tax } from './draftValue.ts'

export interface TaxChoice extends Tax {
  readonly value: string
  readonly label: string
}

/** Names a tax among the choices: category, rates and the reason, since two exemptions may differ by it alone. */
export function taxValue({ category, ratePpm, namedRates, exemptionReason }: Tax): string {
  return JSON.stringify([category, ratePpm, namedRates, exemptionReason])
}

/** The studio's rates to choose from, and those that stand on the document already. */
export function useTaxChoices(used: readonly Tax[]): readonly TaxChoice[] {
  const rates = useAsk(['taxRates', 'list'], () => api.taxRates.list.query())
  const choices = new Map<string, TaxChoice>()
  for (const { name, ...tax } of rates.data ?? []) {
    const value = taxValue(tax)
    const { category, ratePpm, namedRates, exemptionReason } = tax
    choices.set(value, { category, ratePpm, namedRates, exemptionReason, value, label: name })
  }
  for (const tax of used) {
    const value = taxValue(tax)
    const label = tax.category === 'S' ? rateText(tax) : categoryWords[tax.category]
    if (!choices.has(value)) choices.set(value, { ...tax, value, label })
  }
  return [...choices.values()]
}

/** A rate as a figure, or a sales tax by its parts: '4 % State + 2.5 % County'. */
function rateText({ ratePpm, namedRates }: Tax): string {
  if (namedRates.length === 0) return formatPercent(ratePpm)
  return namedRates.map((one) => `${formatPercent(one.ratePpm)} ${one.name}`).join(' + ')
}
