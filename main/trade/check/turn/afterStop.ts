import { median } from '../../quantile.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { evWords } from '../light/lightWords.ts'
import { matchPicture, pictureDistance } from './matching.ts'
import { noiseOf } from './stepScale.ts'
import { takeMatches } from './takeMatches.ts'
import { stepsWords } from './turnFindings.ts'

/** Whether a take goes on after a stop, by its last mark shot again. */
export interface AfterStop {
  readonly advice: 'go on' | 'start over'
  /** How far the picture is from the frame before the stop, in ordinary steps; null where a step is not seen. */
  readonly steps: number | null
  /** How much brighter it has become, in EV. */
  readonly lightEv: number
  readonly sentence: string
}

export interface AfterStopLimits {
  readonly steps: number
  readonly lightEv: number
}

/** Common practice, no published source: a third of a step is seen in a turn, a tenth of a stop in a loop. */
export const usualAfterStopLimits: AfterStopLimits = { steps: 0.35, lightEv: 0.1 }

type Pictured = Pick<FrameTrace, 'thumb'>

/** A picture this many times the noise from another does not show the same; of goods whose turn is not seen. */
const sameByNoise = 1.2
/** Steps before the stop that an ordinary one is told from: the pose there is nearest to that of the mark. */
const lastSteps = 2
/** The distance of n steps is that of one times n to this power: ½ for sharp edges, 1 for soft shapes. */
const leastPower = 0.3
const mostPower = 1

/**
 * Compares the last mark, shot again after a stop, with the frame before the stop. What one step changes is told from
 * the last frames of the take, so that the answer is in parts of a step.
 * @param before  the last frames before the stop, four or more, in their order; the last shows the same mark
 */
export function afterStop(
  before: readonly Pictured[],
  again: Pictured,
  limits: AfterStopLimits = usualAfterStopLimits,
): AfterStop {
  const last = before.at(-1)
  if (last === undefined || before.length < 4)
    throw new Error(`afterStop: ${before.length} frames before the stop`)
  const matches = takeMatches([...before, again])
  const singles = before.slice(1).map((_, step) => matches.distance(step, step + 1))
  const pairs = before.slice(2).map((_, step) => matches.distance(step, step + 2))
  const ofStep = median(singles.slice(-lastSteps))
  const power = Math.max(
    leastPower,
    Math.min(mostPower, Math.log2(median(pairs) / median(singles)) || mostPower),
  )
  const apart = matches.distance(before.length - 1, before.length)
  const { gainEv: lightEv } = pictureDistance(matchPicture(last.thumb), matchPicture(again.thumb))
  const isSeen = ofStep > sameByNoise * noiseOf(matches)
  const steps = isSeen ? (apart / ofStep) ** (1 / power) : null
  const hasMoved = steps === null ? apart > sameByNoise * noiseOf(matches) : steps > limits.steps
  const isLit = Math.abs(lightEv) <= limits.lightEv
  const advice = hasMoved || !isLit ? 'start over' : 'go on'
  return { advice, steps, lightEv, sentence: sentenceOf({ hasMoved, isLit, steps, lightEv }) }
}

function sentenceOf({
  hasMoved,
  isLit,
  steps,
  lightEv,
}: Pick<AfterStop, 'steps' | 'lightEv'> & { readonly hasMoved: boolean; readonly isLit: boolean }): string {
  const light = isLit ? '' : ` The light is ${evWords(lightEv)}: set it right first.`
  if (hasMoved) {
    const by = steps === null ? 'visibly' : `by about ${stepsWords(steps)}`
    return `The picture has moved ${by}. Product, platter or camera no longer stands where it stood.${light}`
  }
  if (!isLit)
    return `Nothing has moved, but the light is ${evWords(lightEv)}: start over unless it can be set right.`
  return steps === null
    ? 'The picture is that of the frame before the stop. The product looks alike all round, so check the mark by the pointer.'
    : 'The picture is that of the frame before the stop.'
}
