import { type LengthUnit, um10FromText, um10PerMm } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'

/**
 * A length as a person types it, with or without its unit: `80`, `80,5 mm`, `12 cm`, `5 in`, `5"`.
 * Refuses what is no length and what is finer than the last place.
 * @param places  how many places of a millimetre are kept: 3 for micrometres, 4 for tenths of them
 * @returns       a whole number of the last place
 */
export function readLength(text: string, places: number, what: string): number {
  const [, figures = '', written = 'mm'] = /^(.*?)\s*(mm|cm|in|")?$/iu.exec(text.trim()) ?? []
  const unit = written === '"' ? 'in' : (written.toLowerCase() as LengthUnit)
  const um10 = um10FromText(figures, unit, what)
  const perUnit = um10PerMm / 10 ** places
  if (um10 % perUnit !== 0) {
    throw new Refusal(
      'too-many-places',
      `${what}, ${text.trim()}, has more than ${places} places of a millimetre. Round it first.`,
    )
  }
  return um10 / perUnit
}
