import { countWords } from '../../countWords.ts'
import { formatDecimal } from '../../decimal.ts'
import { framesText } from '../light/lightWords.ts'
import type { StepsVerdict } from '../report.ts'
import type { PlannedTurn, TurnClosing } from '../turn/closing.ts'
import type { SamePicture } from '../turn/samePicture.ts'
import type { TakeSteps } from '../turn/steps.ts'
import { type EdgeMark, edgeMarkOf } from './edgeMark.ts'
import { type BandProfile, markPositions } from './edgeMarkSeen.ts'

// What a mark on the platter's edge says goes before what the picture says: it is measured, and true of any product.

/** Fewer frames per turn than these are too far apart to follow a mark. */
const leastFrames = 8

/**
 * The angles of a take by the mark in the band that a person has drawn; null where there is no band, or it was not read.
 * @param profiles  of each mark of the turn; null where its frame is missing or could not be read
 */
export function markOfTurn(
  profiles: readonly (BandProfile | null)[],
  framesPerTurn: number,
): EdgeMark | null {
  if (framesPerTurn < leastFrames || profiles.every((profile) => profile === null)) return null
  return edgeMarkOf(markPositions(profiles), framesPerTurn)
}

/** The frames around the one where the mark has come round, as the closing takes angles; null before it has. */
export function closingAngles({ frames, framesPerTurn }: EdgeMark): PlannedTurn['anglesDeg'] {
  if (framesPerTurn === null) return null
  return Array.from({ length: frames }, (_, at) =>
    at === 0 || Math.abs(at - framesPerTurn) <= 1 ? (360 * at) / framesPerTurn : null,
  )
}

/** A closing that the mark told is as sure as its angles are. */
export function markedClosing(closing: TurnClosing, { confidence }: EdgeMark): TurnClosing {
  return closing.by === 'edge mark' ? { ...closing, confidence } : closing
}

/**
 * The steps with those that the mark measured in place of those that the picture guessed; while the mark was hidden the
 * picture stands, where the mark bears out that there was a slip at all.
 */
export function markedSteps(steps: TakeSteps, mark: EdgeMark): TakeSteps {
  if (!mark.anglesDeg) return steps
  const sharp = mark.slips.filter(({ from, to }) => to - from === 1)
  const hidden = mark.slips.filter(({ from, to }) => to - from > 1)
  const join = (sign: 1 | -1, seen: readonly number[]) => {
    const told = sharp.filter((slip) => Math.sign(slip.steps) === sign).map(({ to }) => to)
    const borneOut = seen.filter((frame) =>
      hidden.some((slip) => Math.sign(slip.steps) === sign && frame > slip.from && frame <= slip.to),
    )
    return [...new Set([...told, ...borneOut])].sort((a, b) => a - b)
  }
  // What the mark was turned on is placed by it, while it was hidden between two frames.
  return { ...steps, missed: join(1, steps.missed), doubled: join(-1, steps.doubled), notPlaced: 0 }
}

/** Same pictures that the mark does not tell better: between two frames that it measured, it says whether they are one pose. */
export function notMeasured(same: readonly SamePicture[], mark: EdgeMark): readonly SamePicture[] {
  if (!mark.anglesDeg) return same
  return same.filter(({ first, again }) => !(mark.isMeasured[first - 1] && mark.isMeasured[again - 1]))
}

/** The steps by the mark in one sentence for the strip. */
export function markedStepsVerdict({ missed, doubled }: TakeSteps, mark: EdgeMark): StepsVerdict {
  const hidden = mark.slips.filter(({ from, to }) => to - from > 1)
  const found = [
    ...(missed.length === 0 ? [] : [`a mark passed over before ${framesText(missed)}`]),
    ...(doubled.length === 0 ? [] : [`the mark of the frame before shot again at ${framesText(doubled)}`]),
    ...hidden.map(
      ({ from, to }) => `turned otherwise than by the count between frame ${from} and frame ${to}`,
    ),
  ]
  const seen = `The mark on the edge is seen in ${formatDecimal(mark.seen, 0)} of ${countWords(mark.frames, 'frame')}`
  return found.length === 0
    ? { state: 'clean', sentence: `${seen}: every step is one mark.`, missed, doubled }
    : { state: 'found', sentence: `${seen}: ${found.join('; ')}.`, missed, doubled }
}
