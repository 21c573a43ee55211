import { checkOver0 } from './guard.ts'

/** An aperture as it is engraved, and the exact f-number it stands for. */
export interface FStop {
  readonly marked: number
  readonly exact: number
  /** On the scale of whole stops, not only of thirds. */
  readonly full: boolean
}

const markedThirds = [
  1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14, 16,
  18, 20, 22, 25, 29, 32, 36, 40, 45, 51, 57, 64,
]

/**
 * Apertures by thirds of a stop from f/1 to f/64. A mark is a rounded power of 2^(1/6): f/11 stands for
 * 11.3137. Whole stops: US Army SS0508; thirds as lenses are marked (common practice).
 */
export const fStops: readonly FStop[] = markedThirds.map((marked, third) => ({
  marked,
  exact: 2 ** (third / 6),
  full: third % 3 === 0,
}))

/** A shutter time as it is marked, a fraction of whole numbers in seconds, and the exact time it stands for. */
export interface ShutterTime {
  readonly num: number
  readonly den: number
  readonly exactSeconds: number
  readonly full: boolean
}

const markedTimes: readonly (readonly [number, number])[] = [
  ...([30, 25, 20, 15, 13, 10, 8, 6, 5, 4] as const).map((s) => [s, 1] as const),
  [16, 5],
  [5, 2],
  [2, 1],
  [8, 5],
  [13, 10],
  [1, 1],
  [4, 5],
  [3, 5],
  [1, 2],
  [2, 5],
  [3, 10],
  ...(
    [
      4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800,
      1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400, 8000,
    ] as const
  ).map((s) => [1, s] as const),
]

/** Shutter times by thirds of a stop from 30 s to 1/8000 s. 1/125 stands for 1/128 s (common practice). */
export const shutterTimes: readonly ShutterTime[] = markedTimes.map(([num, den], third) => ({
  num,
  den,
  exactSeconds: 2 ** (5 - third / 3),
  full: third % 3 === 0,
}))

/** The stop nearest to an f-number, counted in stops, out of those given. */
export function nearestFStop(fNumber: number, among: readonly FStop[] = fStops): FStop | undefined {
  checkOver0(fNumber, 'The f-number', 'fNumber', '')
  const away = (stop: FStop) => Math.abs(Math.log2(stop.exact / fNumber))
  return among.reduce<FStop | undefined>(
    (best, stop) => (best === undefined || away(stop) < away(best) ? stop : best),
    undefined,
  )
}
