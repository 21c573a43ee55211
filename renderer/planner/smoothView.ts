import { loopSeconds } from '../../main/trade/turn/frameRate.ts'
import { type Smoothness, smoothness } from '../../main/trade/turn/smoothness.ts'
import { degreesText, pxText } from './figures.ts'
import type { PictureView } from './pictureView.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { TurnView } from './turnView.ts'
import type { Key, Typed } from './typed.ts'

/** One number of frames a turn as it will look. */
export interface SmoothChoice {
  readonly frames: number
  readonly smooth: Smoothness
  readonly stepUm10: number
  readonly turnSeconds: number
}

/** The plan's own turn and up to two others beside it. */
export interface SmoothView {
  readonly choices: readonly SmoothChoice[]
  /** Why more frames than these would be lost, or that they would still show. */
  readonly limit: string
  /** Diameter of the outermost point's circle, in delivered pixels as it passes in front. */
  readonly sweptPx: number
}

/** Smoothness on screen of the planned turn and those it is compared with. */
export function smoothView(typed: Typed, turn: TurnView, picture: PictureView): Outcome<SmoothView> {
  const bounds = { least: 2, most: 1440, unit: 'frames' }
  return workedOut(
    typed,
    { distanceMm: 'distance', radiusMm: 'swept', axisPxPerMm: 'pxW' } satisfies Record<string, Key>,
    (reader) => [
      reader.maybeWhole('compareB', 'The second turn', bounds),
      reader.maybeWhole('compareC', 'The third turn', bounds),
    ],
    (others) => {
      const radiusMm = picture.sweptMm / 2
      const wanted = [turn.frames, ...others.filter((frames) => frames !== null)]
      const choices = [...new Set(wanted)].map((frames) => ({
        frames,
        stepUm10: turn.rimUm10 / frames,
        turnSeconds: secondsOf(frames, typed.rate),
        smooth: smoothness({
          frames,
          rimUm10: turn.rimUm10,
          divisionUm10: turn.divisionUm10,
          radiusMm,
          distanceMm: picture.distanceMm,
          axisPxPerMm: picture.axisPxPerMm,
        }),
      }))
      const nearPxPerMm = (picture.axisPxPerMm * picture.distanceMm) / (picture.distanceMm - radiusMm)
      const [own] = choices
      return {
        choices,
        limit: own === undefined ? '' : limitSentence(own.smooth),
        sweptPx: 2 * radiusMm * nearPxPerMm,
      }
    },
  )
}

/** The way of the outermost point on screen while it turns by an angle, in delivered pixels. */
export function pxOfDegrees({ sweptPx }: Pick<SmoothView, 'sweptPx'>, degrees: number): number {
  return sweptPx * Math.sin((degrees * Math.PI) / 360)
}

/** Playing time of one turn, in seconds. */
export function secondsOf(frames: number, rate: string): number {
  const { numerator, denominator } = loopSeconds(frames, rate)
  return numerator / denominator
}

function limitSentence(smooth: Smoothness): string {
  const error = `Read to half a division, a mark is up to ${degreesText(smooth.pointerErrorDeg)} out, ${pxText(smooth.pointerErrorPx)} on screen`
  if (smooth.limit === 'pixel') {
    return `The step is a delivered pixel or less: more frames than ${smooth.mostUsefulFrames} cannot be seen.`
  }
  if (smooth.limit === 'pointer') {
    return `${error}: over half of a step. More frames than ${smooth.mostUsefulFrames} bring nothing on this tape; print a rim strip, or take a finer one.`
  }
  return `${error}. More frames still make it smoother, up to ${smooth.mostUsefulFrames}.`
}
