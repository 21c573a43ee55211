import { evText } from './lightWords.ts'
import { evBetween, type LinearRgb, linearOf, luminanceOf } from './luminance.ts'

/** How the second backdrop differs from the first. */
export interface BackdropDifference {
  /** In EV; over 0 the second is brighter. */
  readonly exposureEv: number
  /** Red against green and blue against green, in EV; over 0 the second has more of it. */
  readonly redGreenEv: number
  readonly blueGreenEv: number
  /** A backdrop of which a channel is clipped or black tells no difference that can be trusted. */
  readonly isTold: boolean
  /** What to do, a sentence each; none where they agree. */
  readonly sentences: readonly string[]
}

export interface BackdropLimits {
  readonly exposureEv: number
  /** Along the two ways in which white balance is set: warmer or cooler, greener or more magenta. */
  readonly colourEv: number
}

/** Common practice, no published source. */
export const usualBackdropLimits: BackdropLimits = { exposureEv: 0.05, colourEv: 0.05 }

/** Codes of sRGB over and under which a mean of the backdrop holds clipped or black pixels. */
const clipped = linearOf(250 / 255)
const black = linearOf(8 / 255)

/**
 * Exposure and white balance of one backdrop against another's, both as mean linear red, green and blue (`traceOf`
 * keeps them). The colours are ratios to green, so that exposure does not tell in them. No shift in kelvin is given:
 * it would need the colours of the camera, which a developed picture no longer holds.
 */
export function backdropDifference(
  approved: LinearRgb,
  newest: LinearRgb,
  limits: BackdropLimits,
): BackdropDifference {
  const [red, green, blue] = [0, 1, 2].map((channel) =>
    evBetween(approved[channel] ?? 0, newest[channel] ?? 0),
  ) as [number, number, number]
  const exposureEv = evBetween(luminanceOf(approved), luminanceOf(newest))
  const redGreenEv = red - green
  const blueGreenEv = blue - green
  const isTold = [...approved, ...newest].every((light) => light > black && light < clipped)
  const figures = { exposureEv, redGreenEv, blueGreenEv }
  return { ...figures, isTold, sentences: isTold ? sentencesOf(figures, limits) : [untold] }
}

const untold =
  'One of the two backdrops is clipped or black, so that neither exposure nor white balance can be compared by it. Compare by a grey card.'

function sentencesOf(
  {
    exposureEv,
    redGreenEv,
    blueGreenEv,
  }: Pick<BackdropDifference, 'exposureEv' | 'redGreenEv' | 'blueGreenEv'>,
  limits: BackdropLimits,
): readonly string[] {
  const warmerEv = redGreenEv - blueGreenEv
  const greenerEv = -(redGreenEv + blueGreenEv) / 2
  const sentences: string[] = []
  if (Math.abs(exposureEv) > limits.exposureEv) {
    const [is, give] = exposureEv > 0 ? ['brighter', 'less'] : ['darker', 'more']
    sentences.push(
      `The backdrop is ${evText(exposureEv)} ${is} than approved: expose ${evText(exposureEv)} ${give}.`,
    )
  }
  if (Math.abs(warmerEv) > limits.colourEv) {
    const [is, set] = warmerEv > 0 ? ['warmer', 'fewer'] : ['cooler', 'more']
    sentences.push(
      `The backdrop is ${is} than approved, by ${evText(warmerEv)} of red against blue: set the white balance to ${set} kelvin.`,
    )
  }
  if (Math.abs(greenerEv) > limits.colourEv) {
    const [is, towards] = greenerEv > 0 ? ['greener', 'magenta'] : ['more magenta', 'green']
    sentences.push(
      `The backdrop is ${is} than approved, by ${evText(greenerEv)} of green against red and blue: set the tint towards ${towards}.`,
    )
  }
  return sentences
}
