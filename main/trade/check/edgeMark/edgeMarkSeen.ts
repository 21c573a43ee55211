import { median, quantile } from '../../quantile.ts'
import { linearOfCode, pixelsOf } from '../light/luminance.ts'
import type { PictureArea, SmallFrame } from '../smallFrame.ts'

/** Mean linear luminance of each column of a band, from its left; some 2 KB are kept of a frame. */
export interface BandProfile {
  /** The column of the small frame that is the first of the band. */
  readonly fromX: number
  readonly y: Float32Array
}

/** Along the platter's edge, where a person has drawn the band: the light of each column. Null of a band without pixels. */
export function bandProfile(small: SmallFrame, band: PictureArea): BandProfile | null {
  const { fromX, toX, fromY, toY } = pixelsOf(small, band)
  if (toX <= fromX || toY <= fromY) return null
  const y = new Float32Array(toX - fromX)
  for (let row = fromY; row < toY; row++) {
    for (let column = fromX; column < toX; column++) {
      // Green is most of luminance and has least noise; a mark is told by its contrast alone.
      const code = small.rgb[(row * small.widthPx + column) * 3 + 1] ?? 0
      y[column - fromX] = (y[column - fromX] ?? 0) + (linearOfCode[code] ?? 0)
    }
  }
  for (let i = 0; i < y.length; i++) y[i] = (y[i] ?? 0) / (toY - fromY)
  return { fromX, y }
}

/** A mark stands out of the noise by so many deviations, and by so much of what it does where it is seen best. */
const surely = 6
const leastOfBest = 0.35

/**
 * Where the mark is seen in each frame, in pixels of the small frame from its left and to parts of a pixel; null where
 * it is hidden, or touches an end of the band. The band without the mark is the median of each column over the frames.
 */
export function markPositions(profiles: readonly (BandProfile | null)[]): readonly (number | null)[] {
  const known = profiles.filter((profile) => profile !== null)
  const first = known[0]
  const nowhere = profiles.map(() => null)
  if (!first || known.length < 8 || known.some(({ y }) => y.length !== first.y.length)) return nowhere
  const every = Math.max(1, Math.floor(known.length / 80))
  const some = known.filter((_, index) => index % every === 0)
  const plain = Float64Array.from(first.y, (_, x) => median(some.map(({ y }) => y[x] ?? 0)))
  const contrasts = profiles.map((profile) => profile && contrastOf(profile.y, plain))
  const sign = polarity(contrasts.filter((contrast) => contrast !== null))
  const peaks = contrasts.map((contrast) => contrast && peakOf(contrast, sign))
  const heights = peaks.flatMap((peak) => (peak ? [peak.height] : []))
  const least = leastOfBest * quantile(heights, 0.95)
  return peaks.map((peak) => {
    if (!peak || peak.height < Math.max(least, surely * peak.noise)) return null
    return peak.isCut ? null : first.fromX + peak.at
  })
}

/** Each column against the plain band, as a part, with the exposure of the frame taken out. */
function contrastOf(y: Float32Array, plain: Float64Array): Float64Array {
  const ratio = Float64Array.from(y, (light, x) => light / Math.max(plain[x] ?? 0, 1e-4))
  const gain = median([...ratio]) || 1
  return ratio.map((each) => each / gain - 1)
}

/** Whether the mark is lighter (1) or darker (−1) than the edge: which of the two stands out more over the frames. */
function polarity(contrasts: readonly Float64Array[]): 1 | -1 {
  const lighter = quantile(
    contrasts.map((contrast) => Math.max(...contrast)),
    0.9,
  )
  const darker = quantile(
    contrasts.map((contrast) => -Math.min(...contrast)),
    0.9,
  )
  return lighter > darker ? 1 : -1
}

interface Peak {
  /** The middle of its area over a third of its height, in columns of the band; columns are counted at their middles. */
  readonly at: number
  readonly height: number
  readonly noise: number
  readonly isCut: boolean
}

function peakOf(contrast: Float64Array, sign: 1 | -1): Peak {
  const signed = contrast.map((each) => each * sign)
  const top = signed.indexOf(Math.max(...signed))
  const height = signed[top] ?? 0
  // Down to a third: as far as the mark surely reaches, and with soft edges enough for parts of a pixel.
  const foot = height / 3
  let from = top
  let to = top
  while (from > 0 && (signed[from - 1] ?? 0) > foot) from--
  while (to + 1 < signed.length && (signed[to + 1] ?? 0) > foot) to++
  let weight = 0
  let sum = 0
  for (let x = Math.max(0, from - 1); x <= Math.min(signed.length - 1, to + 1); x++) {
    const light = Math.max(0, signed[x] ?? 0)
    weight += light
    sum += light * (x + 0.5)
  }
  const rest = [...signed].filter((_, x) => x < from - 1 || x > to + 1)
  const noise = rest.length < 4 ? height : 1.4826 * median(rest.map(Math.abs))
  return {
    at: weight === 0 ? top + 0.5 : sum / weight,
    height,
    noise,
    isCut: from === 0 || to === signed.length - 1,
  }
}
