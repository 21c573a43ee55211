import { formatPercent } from '../../main/trade/money.ts'
import { api, useAsk } from '../shell/api.ts'
import { categoryWords } from '../studio/taxWords.ts'
import type { Tax } from './draftValue.ts'

export interface TaxChoice extends Tax {
  readonly value: string
  readonly label: string
}

/** Names a tax among the choices: category, rate and the reason, since two exemptions may differ by it alone. */
export function taxValue({ category, ratePpm, exemptionReason }: Tax): string {
  return JSON.stringify([category, ratePpm, exemptionReason])
}

/** The studio's rates to choose from, and those that stand on the document already. */
export function useTaxChoices(used: readonly Tax[]): readonly TaxChoice[] {
  const rates = useAsk(['taxRates', 'list'], () => api.taxRates.list.query())
  const choices = new Map<string, TaxChoice>()
  for (const { name, ...tax } of rates.data ?? []) {
    const value = taxValue(tax)
    const { category, ratePpm, exemptionReason } = tax
    choices.set(value, { category, ratePpm, exemptionReason, value, label: name })
  }
  for (const tax of used) {
    const value = taxValue(tax)
    const label = tax.category === 'S' ? formatPercent(tax.ratePpm) : categoryWords[tax.category]
    if (!choices.has(value)) choices.set(value, { ...tax, value, label })
  }
  return [...choices.values()]
}
