import type { SmallFrame } from '../smallFrame.ts'
import type { PlatterSeen } from './platterSeen.ts'
import { persists, type RowReader, within } from './rowReader.ts'

/** How much darker or lighter a platter may be at its rim, as a part of its codes. */
const shade = 0.07
/** How far behind its edge a platter must show its colour, as a part of the width: a rim that lies nearly level is soft. */
const softRim = 0.08

/** Where what begins here shows the platter's colour, a little darker or lighter by shadow or reflection; else null. */
export function platterBegins(
  reader: RowReader,
  x: number,
  y: number,
  end: number,
  step: 1 | -1,
): number | null {
  if (!reader.platter) return null
  const { box } = reader.off
  for (let i = 2; i <= softRim * (box.toX - box.fromX); i++) {
    const at = within(x + i * step, end, step)
    const across = (at - box.fromX) / (box.toX - box.fromX)
    if (isPlatter(reader.small, reader.platter, across, at, y)) return at
  }
  return null
}

/** How wide something may be behind which the platter is looked for, as a part of the width. */
const widestIsland = 0.15

/** Where the platter is seen again behind what begins here; null where it goes on, as a product does. */
export function platterResumes(
  reader: RowReader,
  x: number,
  y: number,
  end: number,
  step: 1 | -1,
): number | null {
  if (!reader.platter) return null
  const { box } = reader.off
  const wide = box.toX - box.fromX
  let run = 0
  for (let i = persists; i <= widestIsland * wide; i++) {
    const at = x + i * step
    if (at === end) return null
    run = isPlatter(reader.small, reader.platter, (at - box.fromX) / wide, at, y) ? run + 1 : 0
    if (run === persists) return at
  }
  return null
}

function isPlatter(
  { rgb, widthPx }: SmallFrame,
  { left, right }: PlatterSeen,
  across: number,
  x: number,
  y: number,
): boolean {
  const at = (y * widthPx + x) * 3
  let sum = 0
  let usual = 0
  for (let c = 0; c < 3; c++) {
    sum += rgb[at + c] as number
    usual += (left[c] as number) + across * ((right[c] as number) - (left[c] as number))
  }
  const ratio = sum / Math.max(usual, 3)
  if (Math.abs(ratio - 1) > shade) return false
  let off = 0
  for (let c = 0; c < 3; c++) {
    const code = (left[c] as number) + across * ((right[c] as number) - (left[c] as number))
    off += Math.abs((rgb[at + c] as number) - ratio * code)
  }
  return off / 3 <= 5
}
