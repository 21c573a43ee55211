import type { Point } from './places.ts'

/** A rectangle on the page, by its upper left corner. */
export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** Words that want to stand near a point. */
export interface Wanted {
  readonly key: string
  readonly lines: readonly string[]
  /** What stands there where there is no room for all of it; the figures then stand in the list beside. */
  readonly short?: string
  readonly at: Point
  /** Where it would best stand, seen from the point. */
  readonly towards: Point
}

/** Words in their place, and whether a line must lead to them. */
export interface Label {
  readonly key: string
  readonly lines: readonly string[]
  readonly box: Box
  /** From the point to the words, where they stand apart from it. */
  readonly leader: readonly [Point, Point] | null
}

/** What words leave readable. */
export interface Clear {
  readonly marks: readonly Point[]
  readonly lines: readonly (readonly Point[])[]
}

/** How words are set: the height of a line and the width of a text, in units of the page. */
export interface Lettering {
  readonly lineHeight: number
  readonly widthOf: (text: string) => number
}

const reaches = [0.8, 1.5, 2.5, 4, 6, 8.5, 12]
const directions = Array.from({ length: 16 }, (_, k) => (k * Math.PI) / 8)
/** From which distance, in lines, a leader is drawn. */
const leaderFrom = 1.9

/**
 * Puts words beside their points so that none overlaps another, none leaves the page and none hides a mark: the
 * earlier come first. A place is looked for round the point, nearest the wanted side first, clear of all lines while
 * there is one, then anywhere on the page. Words without room shrink to their short form, and are left out where even
 * that has none.
 * @param clear  marks stay clear, such as where lights stand; lines as far as there is room
 */
export function placeLabels(
  wanted: readonly Wanted[],
  page: { readonly width: number; readonly height: number },
  clear: Clear,
  lettering: Lettering,
): readonly Label[] {
  const { lineHeight } = lettering
  const half = lineHeight * 0.45
  const taken: Box[] = clear.marks.map(({ x, y }) => ({
    x: x - half,
    y: y - half,
    width: 2 * half,
    height: 2 * half,
  }))
  const isFree = (box: Box) =>
    box.x >= 0 &&
    box.y >= 0 &&
    box.x + box.width <= page.width &&
    box.y + box.height <= page.height &&
    !taken.some((other) => overlaps(box, other))
  const isClear = (box: Box) => isFree(box) && !clear.lines.some((line) => crosses(line, box))
  return wanted.flatMap((one): Label[] => {
    for (const lines of [one.lines, ...(one.short === undefined ? [] : [[one.short]])]) {
      const size = { width: Math.max(...lines.map(lettering.widthOf)), height: lines.length * lineHeight }
      const box =
        boxRound(one, size, lineHeight, isClear) ??
        boxRound(one, size, lineHeight, isFree) ??
        boxAnywhere(one.at, size, page, lineHeight, isFree)
      if (!box) continue
      taken.push(box)
      return [{ key: one.key, lines, box, leader: leaderTo(one.at, box, lineHeight) }]
    }
    return []
  })
}

type Size = Pick<Box, 'width' | 'height'>

function boxRound(
  wanted: Wanted,
  size: Size,
  lineHeight: number,
  isFree: (box: Box) => boolean,
): Box | undefined {
  const { at, towards } = wanted
  const best = Math.atan2(towards.y, towards.x)
  const turned = (angle: number) => Math.abs(Math.atan2(Math.sin(angle - best), Math.cos(angle - best)))
  const sides = [best, ...directions].sort((a, b) => turned(a) - turned(b))
  for (const reach of reaches) {
    for (const angle of sides) {
      const [dx, dy] = [Math.cos(angle), Math.sin(angle)]
      const box = {
        ...size,
        x: at.x + dx * (reach * lineHeight + size.width / 2) - size.width / 2,
        y: at.y + dy * (reach * lineHeight + size.height / 2) - size.height / 2,
      }
      if (isFree(box)) return box
    }
  }
  return undefined
}

/** The free place on the page that is nearest. */
function boxAnywhere(
  at: Point,
  size: Size,
  page: { readonly width: number; readonly height: number },
  lineHeight: number,
  isFree: (box: Box) => boolean,
): Box | undefined {
  const step = lineHeight / 2
  let nearest: Box | undefined
  let least = Number.POSITIVE_INFINITY
  for (let y = 0; y + size.height <= page.height; y += step) {
    for (let x = 0; x + size.width <= page.width; x += step) {
      const far = Math.hypot(x + size.width / 2 - at.x, y + size.height / 2 - at.y)
      const box = { ...size, x, y }
      if (far < least && isFree(box)) {
        nearest = box
        least = far
      }
    }
  }
  return nearest
}

function leaderTo(at: Point, box: Box, lineHeight: number): Label['leader'] {
  const near = {
    x: Math.min(Math.max(at.x, box.x), box.x + box.width),
    y: Math.min(Math.max(at.y, box.y), box.y + box.height),
  }
  return Math.hypot(near.x - at.x, near.y - at.y) > leaderFrom * lineHeight ? [at, near] : null
}

/** Whether two rectangles share more than an edge. */
export function overlaps(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
}

/** Whether a line through points runs over a rectangle, by clipping each of its stretches (Liang and Barsky 1984). */
export function crosses(line: readonly Point[], box: Box): boolean {
  return line.slice(1).some((to, index) => {
    const from = line[index]
    if (!from) return false
    const [dx, dy] = [to.x - from.x, to.y - from.y]
    let [enters, leaves] = [0, 1]
    for (const [way, room] of [
      [-dx, from.x - box.x],
      [dx, box.x + box.width - from.x],
      [-dy, from.y - box.y],
      [dy, box.y + box.height - from.y],
    ] as const) {
      if (way === 0 && room < 0) return false
      if (way < 0) enters = Math.max(enters, room / way)
      if (way > 0) leaves = Math.min(leaves, room / way)
    }
    return enters < leaves
  })
}

/** A circle as a line through points, for `crosses`. */
export function roundLine({ x, y }: Point, radius: number): readonly Point[] {
  return Array.from({ length: 25 }, (_, k) => ({
    x: x + radius * Math.cos((k * Math.PI) / 12),
    y: y + radius * Math.sin((k * Math.PI) / 12),
  }))
}
