import type { FramePart } from '../outline/silhouette.ts'
import type { SmallFrame } from '../smallFrame.ts'
import { linearOf, linearOfCode } from './luminance.ts'
import { clippedText, whiteSentences } from './whiteWords.ts'

export interface WhiteLimits {
  /** The value of sRGB that the client calls white: no pixel of the backdrop may be darker in any channel. */
  readonly whiteCode: number
  /** The brightest value of the product that still shows its surface. */
  readonly brightestCode: number
  /** How much light flags can keep off a product, in EV; what lacks more is cut out. */
  readonly mostFlaggedEv: number
  /** How much over white a backdrop may be before it spills round the product's edges, in EV. */
  readonly mostOverEv: number
}

/** Common practice, no published source; the white is the client's own. */
export const usualWhiteLimits: Omit<WhiteLimits, 'whiteCode'> = {
  brightestCode: 250,
  mostFlaggedEv: 1,
  mostOverEv: 1,
}

export type WhiteAnswer = 'by exposure' | 'flag the light' | 'cut-out'

/** What one test frame says of a white backdrop. Differences in EV. */
export interface WhiteTest {
  /** Null where backdrop or product cannot be told: the sentences say so. */
  readonly answer: WhiteAnswer | null
  /** By how much exposure must rise until the darkest backdrop is white; under 0 it is more than white. */
  readonly neededEv: number | null
  /** By how much it may rise until the product's brightest parts lose their surface; under 0 they have. */
  readonly headroomEv: number | null
  /** From the darkest to the brightest of the backdrop; at least so much where some of it is clipped. */
  readonly unevenEv: number | null
  /** As `neededEv`, of the platter; null where none is seen. */
  readonly platterNeededEv: number | null
  /** Parts of the backdrop's and the product's pixels with a channel at 255, of which nothing more is known. */
  readonly backdropClipped: number
  readonly productClipped: number
  readonly sentences: readonly string[]
}

/** Dust, a hair and the noise of a sensor lie in the darkest and brightest hundredths: they do not count. */
const darkestShare = 0.02
const brightestShare = 0.98
/** Small shining spots of a product may clip: what is seen of its surface may not. */
const productShare = 0.995
const leastPixels = 30

/**
 * From one test frame: whether the backdrop gets white by more exposure alone, or the light must be kept off the
 * product, or the product is cut out.
 * @param partAt  what a pixel belongs to, by column and row
 */
export function whiteOf(
  small: SmallFrame,
  partAt: (x: number, y: number) => FramePart,
  limits: WhiteLimits,
): WhiteTest {
  const { backdrop, product, platter } = countsOf(small, partAt)
  const backdropClipped = clippedShare(backdrop)
  const productClipped = clippedShare(product)
  if (backdrop.pixels < leastPixels || product.pixels < leastPixels) {
    return { ...nothing, backdropClipped, productClipped, sentences: [unseen(backdrop.pixels < leastPixels)] }
  }
  const white = linearOf((limits.whiteCode - 0.5) / 255)
  const darkest = darkestOf(backdrop)
  const neededEv = Math.log2(white / darkest)
  const brightest = Math.max(
    ...product.codes.map((codes) => quantileCode(codes, product.pixels, productShare)),
  )
  const headroomEv = Math.log2(linearOf(limits.brightestCode / 255) / linear(brightest))
  const unevenEv = Math.log2(brightestOf(backdrop) / darkest)
  const platterNeededEv = platter.pixels < leastPixels ? null : Math.log2(white / darkestOf(platter))
  const answer = answerOf(neededEv, headroomEv, unevenEv, limits)
  const figures = { answer, neededEv, headroomEv, unevenEv, platterNeededEv }
  return {
    ...figures,
    backdropClipped,
    productClipped,
    sentences: [
      ...whiteSentences(figures, limits),
      ...clippedText('backdrop', backdropClipped),
      ...clippedText('product', productClipped),
    ],
  }
}

const nothing = { answer: null, neededEv: null, headroomEv: null, unevenEv: null, platterNeededEv: null }

function unseen(isBackdrop: boolean): string {
  return isBackdrop
    ? 'No backdrop can be told in this frame. Leave some of it free round the product, and shoot the test again.'
    : 'No product can be told in this frame. Put it on the platter, and shoot the test again.'
}

function answerOf(neededEv: number, headroomEv: number, unevenEv: number, limits: WhiteLimits): WhiteAnswer {
  // A backdrop that is white already asks for no more exposure, whatever the product's shining spots.
  const shortEv = neededEv > 0 ? neededEv - headroomEv : 0
  if (shortEv > limits.mostFlaggedEv) return 'cut-out'
  // Once its darkest part is white, its brightest is over white by as much as it is uneven.
  const overEv = unevenEv - Math.min(0, neededEv)
  return shortEv > 0 || overEv > limits.mostOverEv ? 'flag the light' : 'by exposure'
}

/** How often each code comes in red, green and blue. */
interface Counts {
  readonly codes: readonly [red: Uint32Array, green: Uint32Array, blue: Uint32Array]
  pixels: number
  clipped: number
}

function countsOf(
  { rgb, widthPx, heightPx }: SmallFrame,
  partAt: (x: number, y: number) => FramePart,
): Readonly<Record<FramePart, Counts>> {
  const counts = { backdrop: noCounts(), platter: noCounts(), product: noCounts(), none: noCounts() }
  for (let y = 0, at = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, at += 3) {
      const part = counts[partAt(x, y)]
      part.pixels++
      let isClipped = false
      for (let channel = 0; channel < 3; channel++) {
        const code = rgb[at + channel] ?? 0
        const codes = part.codes[channel]
        if (codes) codes[code] = (codes[code] ?? 0) + 1
        if (code === 255) isClipped = true
      }
      if (isClipped) part.clipped++
    }
  }
  return counts
}

function noCounts(): Counts {
  return { codes: [new Uint32Array(256), new Uint32Array(256), new Uint32Array(256)], pixels: 0, clipped: 0 }
}

function clippedShare({ clipped, pixels }: Counts): number {
  return pixels === 0 ? 0 : clipped / pixels
}

/** The darkest channel decides: white is white in all three. */
function darkestOf({ codes, pixels }: Counts): number {
  return linear(Math.min(...codes.map((each) => quantileCode(each, pixels, darkestShare))))
}

function brightestOf({ codes, pixels }: Counts): number {
  return linear(Math.min(...codes.map((each) => quantileCode(each, pixels, brightestShare))))
}

/** Linear light of a code; black counts as half the darkest code, so that figures stay finite. */
function linear(code: number): number {
  return code === 0 ? linearOf(0.5 / 255) : (linearOfCode[code] ?? 1)
}

/** The smallest code at or under which this share of the pixels lies. */
function quantileCode(codes: Uint32Array, pixels: number, share: number): number {
  let below = 0
  for (let code = 0; code < 256; code++) {
    below += codes[code] ?? 0
    if (below >= share * pixels) return code
  }
  return 255
}
