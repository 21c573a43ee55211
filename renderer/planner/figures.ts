import { numberText, withUnit } from '../parts/format.ts'

/** A length of the picture: whole millimetres from 100 mm up, tenths below. */
export function mmText(mm: number): string {
  if (!Number.isFinite(mm)) return 'without end'
  return withUnit(mm, 'mm', Math.abs(mm) >= 100 ? 0 : 1)
}

/** An f-number as it is said, to a tenth under f/10. */
export function stopText(fNumber: number): string {
  return `f/${numberText(fNumber, fNumber < 10 ? 1 : 0)}`
}

/** A way on screen in delivered pixels: to a tenth under 10. */
export function pxText(px: number): string {
  return withUnit(px, 'px', px < 10 ? 1 : 0)
}

/** An angle to a hundredth of a degree. */
export function degreesText(degrees: number): string {
  return `${numberText(degrees, 2)}°`
}
