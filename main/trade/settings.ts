import { formatDecimal } from './decimal.ts'

/** What of settings a person reads in one line. */
export interface Dialled {
  readonly apertureCenti: number | null
  readonly apertureHeld: string
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly rows: readonly { readonly framesPerTurn: number; readonly overlapFrames: number }[]
}

/** The f-number as it is engraved: 1,100 is 'f/11', 560 is 'f/5.6'. */
export function apertureText(apertureCenti: number): string {
  return `f/${formatDecimal(apertureCenti, 2)}`
}

/** Seconds as the dial reads them: '1/125 s', '2 s'. */
export function shutterText(num: number, den: number): string {
  return den === 1 ? `${num} s` : `${num}/${den} s`
}

/** Frames of each row, with the frames past the turn: '240 + 3 frames', 'row 1: 72, row 2: 36 + 2 frames'. */
export function rowsText(rows: Dialled['rows']): string {
  const one = (row: Dialled['rows'][number]) =>
    row.overlapFrames > 0 ? `${row.framesPerTurn} + ${row.overlapFrames}` : `${row.framesPerTurn}`
  const named = rows.map((row, index) => (rows.length > 1 ? `row ${index + 1}: ${one(row)}` : one(row)))
  return `${named.join(', ')} frames`
}

/** Settings in one line, for choosing between them: '240 + 3 frames, f/11 held, 1/125 s, ISO 100, 5,600 K'. */
export function settingsLine(settings: Dialled): string {
  const { apertureCenti, shutterNum, shutterDen, iso, whiteBalanceK } = settings
  return [
    rowsText(settings.rows),
    apertureCenti !== null && `${apertureText(apertureCenti)} ${heldWords(settings.apertureHeld)}`,
    shutterNum !== null && shutterDen !== null && shutterText(shutterNum, shutterDen),
    iso !== null && `ISO ${iso}`,
    whiteBalanceK !== null && `${formatDecimal(whiteBalanceK, 0)} K`,
  ]
    .filter(Boolean)
    .join(', ')
}

/**
 * Whether each frame may be exposed a little differently because the lens closes its aperture anew for it.
 * Said wherever a take may flicker by it (design §5.2; common practice, no published source).
 */
export function closesForEachFrame(settings: Pick<Dialled, 'apertureHeld'>): boolean {
  return settings.apertureHeld === 'each frame'
}

/** How the aperture is kept from frame to frame, in words. */
export function heldWords(held: string): string {
  if (held === 'each frame') return 'closed for each frame'
  return held === 'ring' ? 'by the lens ring' : held
}
