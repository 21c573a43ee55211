import type { Thumb } from '../../main/trade/check/frameTrace.ts'
import { thumbOf } from '../../main/trade/check/outline/trace.ts'
import { randomOf, renderTake, type SolidKind, turnAngles } from './render.ts'

type Pictured = { readonly thumb: Thumb }

/** A clean turn of many frames, and a second picture of each of some marks, from which faulty takes are put together. */
export interface FineTurn {
  readonly planned: number
  readonly clean: readonly Pictured[]
  /** The take with the mark of this frame (from 0) passed over. */
  missing(frame: number): readonly Pictured[]
  /** The take with the mark of a frame (from 0, one of those asked for) shot twice. */
  twice(frame: number): readonly Pictured[]
}

/**
 * Flicker of 0.05 to 0.2 EV, marks met within some 3 % of a step, a highlight that swings through, the noise of 0.7 to 2
 * codes in a picture of 240 pixels' width, however wide it is rendered.
 */
export function aFineTurn(
  kind: SolidKind,
  seed: number,
  { planned = 240, overlap = 4, twice = [] as readonly number[], widthPx = 128, offsetMm = 6 } = {},
): FineTurn {
  const random = randomOf(seed * 7919 + kind.length * 31 + planned)
  const marks = planned + overlap
  const angles = turnAngles({
    framesPerTurn: planned,
    frames: marks,
    wobbleDeg: (0.03 * 360) / planned,
    seed,
  })
  const flickerEv = 0.05 + 0.15 * random()
  const pictures = renderTake({
    kind,
    seed,
    widthPx,
    heightPx: Math.round((widthPx * 2) / 3),
    poseDeg: 360 * random(),
    texture: 0.3 + 0.5 * random(),
    highlight: 0.35 * random(),
    noiseCodes: ((0.7 + 1.3 * random()) * widthPx) / 240,
    offsetMm: offsetMm * random(),
    offsetBearingDeg: 360 * random(),
    lightEv: Array.from({ length: marks + twice.length }, () => 2 * flickerEv * (random() - 0.5)),
    anglesDeg: [...angles, ...twice.map((frame) => angles[frame] ?? 0)],
  }).frames.map((small) => ({ thumb: thumbOf(small).thumb }))
  const clean = pictures.slice(0, marks)
  return {
    planned,
    clean,
    missing: (frame) => clean.toSpliced(frame, 1),
    twice: (frame) =>
      clean.toSpliced(frame + 1, 0, ...pictures.slice(marks + twice.indexOf(frame)).slice(0, 1)),
  }
}
