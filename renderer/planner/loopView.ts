import { type FrameRateName, frameRateNames, frameRates } from '../../main/trade/turn/frameRate.ts'
import { loopFrames, type Repeats, repeatsFor } from '../../main/trade/turn/loop.ts'
import { timecode } from '../../main/trade/turn/timecode.ts'
import { type Outcome, type Reader, workedOut } from './reading.ts'
import { secondsOf } from './smoothView.ts'
import type { Typed } from './typed.ts'

/** The frame rates as they are said. */
export const rateWords: Readonly<Record<FrameRateName, string>> = {
  '24000/1001': '23.976',
  '24': '24',
  '25': '25',
  '30000/1001 drop': '29.97 drop-frame',
  '30000/1001 non-drop': '29.97 non-drop',
  '30': '30',
  '50': '50',
  '60000/1001 drop': '59.94 drop-frame',
  '60000/1001 non-drop': '59.94 non-drop',
  '60': '60',
}

export interface LoopView {
  /** One turn at every rate. */
  readonly rates: readonly {
    readonly name: FrameRateName
    readonly seconds: number
    readonly timecode: string
    readonly repeats: Repeats
  }[]
  /** Frame numbers from 1, in the order they play: runs of frames that follow each other. */
  readonly runs: readonly { readonly first: number; readonly last: number }[]
  readonly isReversed: boolean
}

/** The loop that a turn gives: its length at every rate, its cut, and how often it repeats in a clip. */
export function loopView(
  typed: Typed,
  turn: { readonly frames: number; readonly overlap: number },
): Outcome<LoopView> {
  return workedOut(
    typed,
    { wishedMs: 'clip', start: 'start', frameRate: 'rate' },
    (reader) => ({
      clipMs: clipMs(reader, rateOf(typed)),
      start:
        reader.timecodeFrame('start', rateOf(typed)) ??
        reader.whole('start', 'The frames to trim', { least: 0, unit: 'frames' }),
    }),
    ({ clipMs, start }) => {
      // Either way the platter turns, the frames as shot are seen turning so: backwards is chosen later.
      const isReversed = typed.played === 'backwards'
      const order = loopFrames({ ...turn, start, isReversed })
      return {
        rates: frameRateNames.map((name) => ({
          name,
          seconds: secondsOf(turn.frames, name),
          timecode: timecode(turn.frames, name),
          repeats: repeatsFor(turn.frames, name, clipMs),
        })),
        runs: runsOf(order),
        isReversed,
      }
    },
  )
}

function runsOf(order: readonly number[]): LoopView['runs'] {
  const runs: { first: number; last: number }[] = []
  for (const frame of order) {
    const run = runs.at(-1)
    if (run && Math.abs(frame + 1 - run.last) === 1) run.last = frame + 1
    else runs.push({ first: frame + 1, last: frame + 1 })
  }
  return runs
}

/** The wanted clip in ms, typed in seconds or as a timecode of the delivered rate. */
function clipMs(reader: Reader, rate: FrameRateName): number {
  const frames = reader.timecodeFrame('clip', rate)
  if (frames === null) {
    return Math.round(reader.number('clip', 'The length of the clip', 3, { unit: 's' }) * 1000)
  }
  // Rounded down: a clip that were longer by a part of a frame would take one frame more.
  return Math.floor((frames * 1000 * frameRates[rate].denominator) / frameRates[rate].numerator)
}

/** Whether a typed rate is one of those above; another one in an address falls back to 25. */
export function rateOf(typed: Pick<Typed, 'rate'>): FrameRateName {
  return frameRateNames.find((name) => name === typed.rate) ?? '25'
}
