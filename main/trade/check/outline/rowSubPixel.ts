import { linearOfCode } from '../light/luminance.ts'
import type { SmallFrame } from '../smallFrame.ts'
import { within } from './rowReader.ts'

const ahead = new Float64Array(3)
const outer = new Float64Array(3)
const inner = new Float64Array(3)

/** The pixel of a row in which something begins: the row goes from `first` to before `end` by `step`. */
interface EdgePixel {
  readonly x: number
  readonly y: number
  readonly first: number
  readonly end: number
  readonly step: 1 | -1
}

/**
 * The edge to parts of a pixel: how much of each pixel round it is covered, in linear light, between what lies two
 * pixels outside and two inside.
 */
export function edgeInPixel(small: SmallFrame, { x, y, first, end, step }: EdgePixel): number {
  const out = x - 2 * step
  const isAtBorder = step === 1 ? out < first : out > first
  if (isAtBorder) return step === 1 ? x : x + 1
  const inside = within(x + 2 * step, end, step)
  linearAt(small, out, y, outer)
  linearAt(small, inside, y, inner)
  let whole = 0
  for (let c = 0; c < 3; c++) whole += ((inner[c] as number) - (outer[c] as number)) ** 2
  let covered = 0
  for (let i = -1; i <= 1; i++) {
    linearAt(small, within(x + i * step, end, step), y, ahead)
    let part = 0
    for (let c = 0; c < 3; c++) {
      part += ((ahead[c] as number) - (outer[c] as number)) * ((inner[c] as number) - (outer[c] as number))
    }
    covered += whole > 0 ? Math.min(1, Math.max(0, part / whole)) : 1
  }
  // Inside of the pixel after the edge everything is covered: count back from there.
  return step === 1 ? x + 2 - covered : x - 1 + covered
}

function linearAt({ rgb, widthPx }: SmallFrame, x: number, y: number, out: Float64Array): void {
  const at = (y * widthPx + x) * 3
  for (let c = 0; c < 3; c++) out[c] = linearOfCode[rgb[at + c] as number] as number
}
