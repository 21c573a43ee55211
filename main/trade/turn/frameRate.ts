import { Refusal } from '../refusal.ts'

/** A video frame rate: frames per second as an exact fraction, and how its timecode counts. */
export interface FrameRate {
  readonly numerator: number
  readonly denominator: number
  /** Frames in one second of timecode. */
  readonly nominal: number
  /** Labels left out at the start of each minute except every tenth; 0 where none is. */
  readonly dropped: number
}

/** The rates a loop is delivered at, by the names used in briefs (SMPTE ST 12-1; the 1001s are the NTSC rates). */
export const frameRates = {
  '24000/1001': { numerator: 24_000, denominator: 1001, nominal: 24, dropped: 0 },
  '24': { numerator: 24, denominator: 1, nominal: 24, dropped: 0 },
  '25': { numerator: 25, denominator: 1, nominal: 25, dropped: 0 },
  '30000/1001 drop': { numerator: 30_000, denominator: 1001, nominal: 30, dropped: 2 },
  '30000/1001 non-drop': { numerator: 30_000, denominator: 1001, nominal: 30, dropped: 0 },
  '30': { numerator: 30, denominator: 1, nominal: 30, dropped: 0 },
  '50': { numerator: 50, denominator: 1, nominal: 50, dropped: 0 },
  '60000/1001 drop': { numerator: 60_000, denominator: 1001, nominal: 60, dropped: 4 },
  '60000/1001 non-drop': { numerator: 60_000, denominator: 1001, nominal: 60, dropped: 0 },
  '60': { numerator: 60, denominator: 1, nominal: 60, dropped: 0 },
} as const satisfies Record<string, FrameRate>

export type FrameRateName = keyof typeof frameRates

/** All names, the slowest rate first. */
export const frameRateNames: readonly FrameRateName[] = (Object.keys(frameRates) as FrameRateName[]).sort(
  (a, b) => perSecond(frameRates[a]) - perSecond(frameRates[b]),
)

function perSecond(rate: FrameRate): number {
  return rate.numerator / rate.denominator
}

/** The rate of that name; refuses a name that is none. */
export function frameRate(name: string): FrameRate {
  if (!Object.hasOwn(frameRates, name)) {
    throw new Refusal(
      'unknown-frame-rate',
      `'${name}' is no frame rate. Choose one of ${frameRateNames.join(', ')}.`,
      {
        field: 'frameRate',
      },
    )
  }
  return frameRates[name as FrameRateName]
}

/** Whether a rate kept as a fraction is one of the rates above. */
export function isFrameRate(numerator: number, denominator: number, dropFrame: boolean): boolean {
  return rateNamed(numerator, denominator, dropFrame) !== undefined
}

function rateNamed(numerator: number, denominator: number, dropFrame: boolean): FrameRateName | undefined {
  return frameRateNames.find((name) => {
    const rate: FrameRate = frameRates[name]
    return rate.numerator * denominator === numerator * rate.denominator && rate.dropped > 0 === dropFrame
  })
}

/** The name of a rate kept as a fraction; refuses a fraction that is none of the rates above. */
export function frameRateName(numerator: number, denominator: number, dropFrame: boolean): FrameRateName {
  const found = rateNamed(numerator, denominator, dropFrame)
  if (found === undefined) {
    throw new Refusal(
      'unknown-frame-rate',
      `${numerator}/${denominator} frames a second${dropFrame ? ', drop-frame,' : ''} is no rate known here. Choose one of ${frameRateNames.join(', ')}.`,
      { field: 'frameRate' },
    )
  }
  return found
}

/** Playing time as an exact fraction of seconds, in lowest terms. */
export interface Seconds {
  readonly numerator: number
  readonly denominator: number
}

/** How long `frames` play: frames ÷ rate, exact. 244 frames at 30000/1001 last 61061/7500 s. */
export function loopSeconds(frames: number, name: string): Seconds {
  const rate = frameRate(name)
  if (!Number.isSafeInteger(frames) || frames < 0 || frames > 1_000_000_000) {
    throw new Refusal('bad-frames', `A loop of ${frames} frames cannot play. Enter a whole number of frames.`)
  }
  const numerator = frames * rate.denominator
  const divisor = greatestCommonDivisor(numerator, rate.numerator)
  return { numerator: numerator / divisor, denominator: rate.numerator / divisor }
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b)
}
