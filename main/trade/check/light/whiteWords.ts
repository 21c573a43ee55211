import { formatDecimal } from '../../decimal.ts'
import { evText } from './lightWords.ts'
import type { WhiteAnswer, WhiteLimits } from './white.ts'

interface WhiteFigures {
  readonly answer: WhiteAnswer
  readonly neededEv: number
  readonly headroomEv: number
  readonly unevenEv: number
  readonly platterNeededEv: number | null
}

/** Less than this needs nobody's hand on the camera. */
const leastEv = 0.05

/** The figures that the answer stands on, then what to do, then what else is to be known. */
export function whiteSentences(figures: WhiteFigures, limits: WhiteLimits): readonly string[] {
  const { neededEv, unevenEv, platterNeededEv } = figures
  const over = unevenEv - Math.min(0, neededEv)
  return [
    answerSentence(figures, limits),
    ...(over > limits.mostOverEv
      ? [
          `Then the brightest backdrop is ${evText(over)} over white and spills round the product’s edges. Light it more evenly, move the product away from it, and flag it off from the lens.`,
        ]
      : []),
    ...(platterNeededEv !== null && platterNeededEv > Math.max(neededEv, 0) + leastEv
      ? [
          `The platter needs ${evText(platterNeededEv - Math.max(neededEv, 0))} more than the backdrop: it stays grey unless it is lit by itself, is whiter, or is cut out.`,
        ]
      : []),
  ]
}

function answerSentence({ answer, neededEv, headroomEv }: WhiteFigures, limits: WhiteLimits): string {
  const white = `white (${limits.whiteCode})`
  const room =
    headroomEv < 0
      ? `the product’s brightest parts are ${evText(headroomEv)} past their limit already`
      : `the product has ${evText(headroomEv)} of room`
  // Of the figures as shown, so that they add up for whoever reads them.
  const short = evText(hundredths(neededEv) - hundredths(headroomEv))
  if (answer === 'cut-out') {
    return `The darkest backdrop lacks ${evText(neededEv)} to ${white}, and ${room}. It lacks ${short}, more than flags can keep off the product: light backdrop and product apart, or plan the product to be cut out.`
  }
  if (neededEv <= leastEv) {
    const state = neededEv < -leastEv ? `${evText(neededEv)} over ${white}` : white
    return answer === 'by exposure'
      ? `Leave the exposure as it is: the darkest backdrop is ${state}, and ${room}.`
      : `The darkest backdrop is ${state}, and ${room}.`
  }
  if (answer === 'flag the light' && neededEv > headroomEv) {
    return `The darkest backdrop lacks ${evText(neededEv)} to ${white}, and ${room}. Keep ${short} of light off the product with flags and expose ${evText(neededEv)} more, or give the backdrop alone ${short} more and expose ${evText(headroomEv)} ${headroomEv < 0 ? 'less' : 'more'}.`
  }
  return `Expose ${evText(neededEv)} more; the darkest backdrop is then ${white}, and ${room}.`
}

function hundredths(ev: number): number {
  return Math.round(ev * 100) / 100
}

/** What cannot be known of clipped parts; nothing is said of less than one pixel in a thousand. */
export function clippedText(part: 'backdrop' | 'product', share: number): readonly string[] {
  if (share < 0.001) return []
  const percent = `${formatDecimal(Math.round(share * 1000), 1)}\u00a0%`
  return part === 'backdrop'
    ? [
        `${percent} of the backdrop is clipped: how far over white it is cannot be told. For that, expose less and test again.`,
      ]
    : [
        `${percent} of the product is clipped: what it shows there is lost. If these are more than small shining spots, expose less or flag the light.`,
      ]
}
