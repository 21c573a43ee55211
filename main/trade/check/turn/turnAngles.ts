import type { EdgeMark } from '../edgeMark/edgeMark.ts'
import type { TakeSteps } from './steps.ts'

/**
 * Where the platter stood for each mark of the turn, in degrees against the first and past 360: by the mark on its edge
 * where there is one, else by the count, with the steps that are known to have been too long or not turned at all.
 * @param frames  how many marks of the turn were read so far
 */
export function turnAnglesDeg(
  frames: number,
  framesPerTurn: number,
  steps: Pick<TakeSteps, 'missed' | 'doubled' | 'ratios'>,
  mark: EdgeMark | null,
): readonly number[] {
  if (mark?.anglesDeg) return mark.anglesDeg
  const stepDeg = 360 / framesPerTurn
  let turned = 0
  return Array.from({ length: frames }, (_, at) => {
    if (at > 0) turned += stepsTo(at + 1, steps)
    return turned * stepDeg
  })
}

/** How many marks the platter went on to a frame. A passed mark is one at least, whatever the picture says of it. */
function stepsTo(
  frame: number,
  { missed, doubled, ratios }: Pick<TakeSteps, 'missed' | 'doubled' | 'ratios'>,
) {
  if (doubled.includes(frame)) return 0
  return missed.includes(frame) ? Math.max(2, Math.round(ratios[frame - 1] ?? 2)) : 1
}
