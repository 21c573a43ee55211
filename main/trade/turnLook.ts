import { turnStep } from './turn/smoothness.ts'

/** What of a delivered picture decides how far a point of the product runs from frame to frame. */
export interface DeliveredPicture {
  readonly widthPx: number
  /** The part of the width that the product fills as it turns, in ppm. */
  readonly fillPpm: number
}

/** How a turn looks, from flowing to picture by picture. */
export const turnLooks = [
  'very smooth',
  'smooth',
  'lightly stepped',
  'stepped',
  'picture by picture',
] as const
export type TurnLook = (typeof turnLooks)[number]

/** Up to how many degrees a step looks so. Common practice, no published source. */
const widestStepDeg: readonly (readonly [degrees: number, look: TurnLook])[] = [
  [1.5, 'very smooth'],
  [3, 'smooth'],
  [6, 'lightly stepped'],
  [12, 'stepped'],
]

/** How smooth a turn of so many frames looks, in a word. Refuses fewer than 2 frames. */
export function turnLook(frames: number): TurnLook {
  const { degrees } = turnStep(1, frames)
  return widestStepDeg.find(([widest]) => degrees <= widest)?.[1] ?? 'picture by picture'
}

/** How the rows of a spin look, each word once, in their order. */
export function rowLooks(rows: readonly { readonly framesPerTurn: number }[]): readonly TurnLook[] {
  return [...new Set(rows.map(({ framesPerTurn }) => turnLook(framesPerTurn)))]
}

/**
 * How far the product's outermost point runs across the picture in one step, in delivered pixels: the chord
 * 2ρ·sin(π ÷ N), with 2ρ the width that the product fills. Camera and product are not known here, so the image is
 * taken at the scale of the axis; the near face runs farther by d ÷ (d − ρ), which the rig's own figures add.
 */
export function stepPx(frames: number, { widthPx, fillPpm }: DeliveredPicture): number {
  return turnStep((widthPx * fillPpm) / 2e6, frames).chordMm
}
