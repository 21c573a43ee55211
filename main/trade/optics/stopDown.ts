import { type Caution, rigCautions } from '../caution.ts'
import { closesForEachFrame, type Dialled } from '../settings.ts'

/** Why frames of a turn may differ in brightness, and what helps against it. */
export interface StopDownWarning {
  readonly code: 'closes-for-each-frame'
  readonly reason: string
  readonly helps: readonly string[]
  /** What to mind with the help that loosens the lens. */
  readonly caution: Caution
}

/**
 * The warning for a lens that closes its aperture anew for every frame; null where it is held, or where it is
 * set wide open and so has nothing to close. Common practice, no published source.
 * @param widestFNumber  the lens's own widest f-number, null where it is not known
 */
export function stopDownWarning(
  settings: Pick<Dialled, 'apertureHeld' | 'apertureCenti'>,
  widestFNumber: number | null,
): StopDownWarning | null {
  const { apertureCenti } = settings
  const isWideOpen =
    apertureCenti !== null && widestFNumber !== null && apertureCenti <= Math.round(100 * widestFNumber)
  const caution = rigCautions.find(({ about }) => about === 'lens')
  if (!closesForEachFrame(settings) || isWideOpen || caution === undefined) return null
  return {
    code: 'closes-for-each-frame',
    reason:
      'The lens closes its aperture anew for every frame and never to quite the same opening, so frames come out a little lighter or darker than their neighbours and the turn flickers.',
    helps: [
      'Shoot wide open: the aperture has nothing to close.',
      'Use a lens whose ring holds the aperture.',
      'Unlatch the lens a little, with the aperture closed, so that the camera no longer moves it.',
    ],
    caution,
  }
}
