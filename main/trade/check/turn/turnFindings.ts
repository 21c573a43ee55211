import { countWords } from '../../countWords.ts'
import { formatDecimal } from '../../decimal.ts'
import { type Finding, keyAt } from '../finding.ts'
import { framesText } from '../light/lightWords.ts'
import type { ClosingVerdict, StepsVerdict } from '../report.ts'
import type { TurnClosing } from './closing.ts'
import type { TakeSteps } from './steps.ts'

/** What the steps of a take show, frame by frame. Frames shot twice are told by `samePictureFindings`. */
export function stepFindings({ missed, odd, ratios, notPlaced, likely }: TakeSteps): readonly Finding[] {
  return [
    ...missed.map((frame): Finding => {
      const far = ratios[frame - 1]
      const turned = far === null || far === undefined ? 'about two steps' : `about ${decimal(far)} steps`
      return {
        key: keyAt('missed step', frame),
        frames: [frame],
        sentence: `From frame ${frame - 1} to frame ${frame} the product turned ${turned}: a mark was passed over. Turn back to it and shoot it, or shoot the take again.`,
        fault: 'missed step',
      }
    }),
    ...odd.map(
      (frame): Finding => ({
        key: keyAt('odd frame', frame),
        frames: [frame],
        sentence: `Frame ${frame} is unlike the frames on both sides, and these fit each other: look for a hand, a reflection or a flash that did not fire.`,
        fault: null,
      }),
    ),
    ...(notPlaced === 0
      ? []
      : [
          {
            key: 'not placed',
            size: notPlaced,
            frames: [],
            sentence: `${capital(notPlacedWords(notPlaced))}. ${lookFirst(likely)}Look through the take for ${notPlaced === 1 ? 'it' : 'them'}, or shoot the take again.`,
            fault: 'missed step',
          } as const,
        ]),
  ]
}

/** The steps in one sentence for the strip. */
export function stepsVerdict({
  missed,
  doubled,
  odd,
  unseen,
  ratios,
  notPlaced,
  isFine,
}: TakeSteps): StepsVerdict {
  const judged = ratios.filter((ratio) => ratio !== null).length
  if (judged === 0) {
    const sentence =
      ratios.length < 4
        ? 'Steps are judged once there are a few frames on both sides of them.'
        : 'The product looks alike all round, so that the picture does not tell whether a mark was passed over. Count the frames.'
    return { state: 'unknown', sentence, missed, doubled }
  }
  const hidden = hiddenSentence(unseen, isFine, ratios.length)
  const found = [
    ...(missed.length === 0 ? [] : [`a mark passed over before ${framesText(missed)}`]),
    ...(doubled.length === 0 ? [] : [`the mark of the frame before shot again at ${framesText(doubled)}`]),
    ...(notPlaced === 0 ? [] : [notPlacedWords(notPlaced)]),
    ...(odd.length === 0 ? [] : [`unlike both neighbours: ${framesText(odd)}`]),
  ]
  return found.length === 0
    ? { state: 'clean', sentence: `Every step is like the steps beside it.${hidden}`, missed, doubled }
    : { state: 'found', sentence: `${capital(found.join('; '))}.${hidden}`, missed, doubled }
}

/** A step or two at a time are named; of fine steps there are too many, and the first and the last are never told. */
function hiddenSentence(unseen: readonly number[], isFine: boolean, frames: number): string {
  if (unseen.length === 0) return ''
  return isFine
    ? ` ${formatDecimal(unseen.length, 0)} of the ${countWords(frames - 1, 'step')} are too fine to be told one by one in this picture: a single mark passed over there goes unnamed, but the count of the turn would be short.`
    : ` At ${framesText(unseen)} the product hardly changes, so that these steps are not judged.`
}

function lookFirst(likely: readonly number[]): string {
  if (likely.length === 0) return ''
  return `The likeliest ${likely.length === 1 ? 'place is' : 'places are'} before ${framesText(likely)}. `
}

function notPlacedWords(count: number): string {
  return count === 1
    ? 'one mark was passed over by the count of the turn, and the picture does not tell surely where'
    : `${count}\u00a0marks were passed over by the count of the turn, and the picture does not tell surely where`
}

/** A seam up to this many ordinary steps is not seen to jump. Common practice, no published source. */
const smoothSeam = 1.5

/** How the turn closes, in one sentence for the strip. */
export function closingVerdict(closing: TurnClosing, plannedFrames: number): ClosingVerdict {
  const { by, framesPerTurn, confidence, loopIn, loopOut, seamRatio } = closing
  const isOff = by !== 'count' && framesPerTurn !== plannedFrames
  const jumps = seamRatio !== null && seamRatio > smoothSeam
  return {
    state: by === 'count' ? 'unknown' : isOff || jumps ? 'found' : 'clean',
    sentence: `${turnSentence(closing, plannedFrames)}${seamSentence(closing)}`,
    by,
    framesPerTurn,
    confidence,
    loopIn,
    loopOut,
    seamRatio,
  }
}

/** Marks that findings of the steps tell already are one fault each, and none of the turn beside it. */
export interface ToldMarks {
  readonly told: number
  /** While a take is shot, a closing that is only foreseen may still move. */
  readonly hasEnded: boolean
}

/** Of the finding that a turn has more or fewer frames than planned. */
export const turnCountKey = 'frames per turn'

/**
 * What the closing shows. A turn that lacks frames is a fault where no finding of the steps tells of the marks that
 * were passed over; frames too many and a seam that jumps are to be known alone: they are cut out of the loop.
 */
export function closingFindings(
  closing: TurnClosing,
  plannedFrames: number,
  { told, hasEnded }: ToldMarks,
): readonly Finding[] {
  const { by, framesPerTurn, isForeseen, isRough, loopIn, loopOut, seamRatio } = closing
  if (by === 'count') return []
  const isFault = plannedFrames - framesPerTurn > told && !isRough && (hasEnded || !isForeseen)
  const turn: Finding = {
    key: turnCountKey,
    size: Math.abs(plannedFrames - framesPerTurn),
    frames: [],
    sentence: turnSentence(closing, plannedFrames),
    fault: isFault ? 'missed step' : null,
  }
  const seam: Finding = {
    key: 'seam',
    size: seamRatio ?? 0,
    frames: [loopOut, loopIn],
    sentence: `From frame ${loopOut} back to frame ${loopIn} the loop’s seam jumps ${decimal(seamRatio ?? 0)}\u00a0steps: blink the seam, and choose another loop or shoot a few frames past the turn.`,
    fault: null,
  }
  return [
    ...(framesPerTurn === plannedFrames ? [] : [turn]),
    ...(seamRatio !== null && seamRatio > smoothSeam ? [seam] : []),
  ]
}

function turnSentence(
  { by, reason, stepsPerTurn, framesPerTurn, closingFrame, isForeseen }: TurnClosing,
  plannedFrames: number,
): string {
  if (by === 'count') return countSentence(reason, plannedFrames)
  const frames = `${countWords(framesPerTurn, 'frame')} per turn`
  const planned =
    framesPerTurn === plannedFrames ? 'as planned' : `not ${formatDecimal(plannedFrames, 0)} as planned`
  const told =
    by === 'edge mark' ? 'the mark on the edge comes round' : 'the picture is that of frame 1 again'
  const exactly =
    Math.abs(stepsPerTurn - framesPerTurn) > 0.15 ? ` (${decimal(stepsPerTurn)}\u00a0steps)` : ''
  return isForeseen
    ? `By how near the last frames come to frame 1 the turn has ${frames}${exactly}, ${planned}. Shoot a frame past the turn to be sure.`
    : `At frame ${closingFrame} ${told}: ${frames}${exactly}, ${planned}.`
}

function countSentence(reason: TurnClosing['reason'], plannedFrames: number): string {
  const count = `The count of ${countWords(plannedFrames, 'frame')} stands.`
  if (reason === 'alike') {
    return `The product looks alike all round and cannot be closed by picture. ${count} A mark on the platter’s edge would tell.`
  }
  if (reason === 'unread') return 'Where the turn closes is told once frames are read.'
  if (reason === 'too early') return `The frames read so far end before the turn closes. ${count}`
  if (reason === 'product light') {
    return `The light on the product changes over the take, so that its pictures do not tell where the turn closes. ${count} A mark on the platter’s edge would tell.`
  }
  return `Several frames match frame 1 about as well, so that the picture does not tell where the turn closes. ${count} A few frames past the turn, or a mark on the platter’s edge, would tell.`
}

function seamSentence({ by, loopIn, loopOut, seamRatio }: TurnClosing): string {
  if (by === 'count') return ''
  const seam = seamRatio === null ? '' : `; its seam jumps ${stepsWords(seamRatio)}`
  return ` Loop from frame ${loopIn} to frame ${loopOut}${seam}.`
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** `0.6 of a step`, `2.8 steps`. */
export function stepsWords(steps: number): string {
  const much = decimal(steps)
  return much === '1.0' ? 'one step' : steps < 1 ? `${much} of a step` : `${much}\u00a0steps`
}

function decimal(value: number): string {
  return (Math.round(value * 10) / 10).toFixed(1)
}
