import { checkOver0 } from './guard.ts'

export interface Exposure {
  readonly fNumber: number
  readonly seconds: number
  readonly iso: number
}

/** Exposure value log2(N² ÷ t), whatever the ISO: f/1 at 1 s is 0. Source: theinfolist.com, 'Exposure value'. */
export function exposureValue(fNumber: number, seconds: number): number {
  checkOver0(fNumber, 'The f-number', 'fNumber', '')
  checkOver0(seconds, 'The shutter time', 'seconds', 's')
  return Math.log2(fNumber ** 2 / seconds)
}

/**
 * How much brighter the second exposure comes out under the same light, in stops (EV): the change of t × ISO ÷
 * N². More than 0 is brighter. Marks differ a little from what they stand for: use `fStops` and `shutterTimes`
 * where thirds of a stop count.
 */
export function exposureChangeEv(from: Exposure, to: Exposure): number {
  return brightness(to) - brightness(from)
}

function brightness({ fNumber, seconds, iso }: Exposure): number {
  checkOver0(iso, 'The ISO setting', 'iso', '')
  return Math.log2(iso) - exposureValue(fNumber, seconds)
}
