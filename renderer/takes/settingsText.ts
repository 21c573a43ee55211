import { formatDecimal } from '../../main/trade/decimal.ts'
import { withUnit } from '../parts/format.ts'

/**
 * Settings as a photographer says them, so that those on one rig are told apart by frames and focus too:
 * `244 frames · f/11 · 1/125 s · ISO 100 · 5,500 K · focus 1,480 mm`, and the note.
 */
export function settingsText(settings: {
  readonly frames: string
  readonly focusUm: number | null
  readonly apertureCenti: number | null
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly note: string | null
}): string {
  const { apertureCenti, shutterNum, shutterDen, iso, whiteBalanceK } = settings
  const parts = [
    settings.frames === '' ? null : `${settings.frames} frames`,
    apertureCenti === null ? null : `f/${formatDecimal(apertureCenti, 2)}`,
    shutterNum === null || shutterDen === null
      ? null
      : shutterDen === 1
        ? withUnit(shutterNum, 's')
        : `${shutterNum}/${shutterDen} s`,
    iso === null ? null : `ISO ${iso}`,
    whiteBalanceK === null ? null : withUnit(whiteBalanceK, 'K', 0),
    settings.focusUm === null ? null : `focus ${withUnit(settings.focusUm / 1000, 'mm', 3)}`,
    settings.note,
  ].filter(Boolean)
  if (parts.length === 0) return 'nothing written down'
  return parts.join(' · ')
}
