import { formatDecimal } from '../../main/trade/decimal.ts'
import { withUnit } from '../parts/format.ts'

/** Settings as a photographer says them: `f/11 · 1/125 s · ISO 100 · 5,500 K`. */
export function settingsText(settings: {
  readonly apertureCenti: number | null
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly note: string | null
}): string {
  const { apertureCenti, shutterNum, shutterDen, iso, whiteBalanceK } = settings
  const parts = [
    apertureCenti === null ? null : `f/${formatDecimal(apertureCenti, 2)}`,
    shutterNum === null || shutterDen === null
      ? null
      : shutterDen === 1
        ? withUnit(shutterNum, 's')
        : `${shutterNum}/${shutterDen} s`,
    iso === null ? null : `ISO ${iso}`,
    whiteBalanceK === null ? null : withUnit(whiteBalanceK, 'K', 0),
  ].filter(Boolean)
  if (parts.length === 0) return settings.note ?? 'nothing written down'
  return parts.join(' · ')
}
