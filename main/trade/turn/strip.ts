import { formatLength, mmFromUm10 } from '../length.ts'
import { Refusal } from '../refusal.ts'
import { frameSet } from './frameSet.ts'
import { checkFrames, checkLength } from './guard.ts'

export type StripPaper = 'A4' | 'Letter'

/** Papers lying on their side, in mm: A4 by ISO 216, US Letter 11 × 8.5 in. */
export const stripPaperMm: Record<StripPaper, { readonly widthMm: number; readonly heightMm: number }> = {
  A4: { widthMm: 297, heightMm: 210 },
  Letter: { widthMm: 279.4, heightMm: 215.9 },
}

/** How high the strip is, how long the bar is that is measured after printing, and how long the marks are. */
export const stripHeightMm = 20
export const checkBarMm = 200
export const markLengthMm = { plain: 5, tenth: 8, start: 11 } as const

/** Left free above the first tile of a page for its words and the check bar, and between two tiles. */
const headMm = 22
const betweenMm = 7

export interface StripRequest {
  /** The closed strip: the rim as a strip of this paper reads it (`stripUm10`). */
  readonly rimUm10: number
  readonly frames: number
  /** Frames of the set and of the loop, marked in a shape of their own; null where none is asked for. */
  readonly setFrames: number | null
  readonly loopFrames: number | null
  readonly paper: StripPaper
  /** The edge that the printer leaves white. */
  readonly marginMm: number
  /** How far a tile reaches under the next one. */
  readonly lapMm: number
  /** 1, or `stripCorrection` of a measured check bar. */
  readonly correction: number
}

export interface StripMark {
  /** Number of the mark in the turn, from 0. */
  readonly index: number
  /** True distance from the tile's left end. */
  readonly positionMm: number
  readonly kind: keyof typeof markLengthMm
  readonly isSet: boolean
  readonly isLoop: boolean
  /** Repeated on the lap, to lie under the same mark of the next tile. */
  readonly isOnLap: boolean
}

/** A piece of the strip on its page. */
export interface StripTile {
  /** From 1, in the order they are glued. */
  readonly number: number
  /** From 0. */
  readonly page: number
  readonly topMm: number
  /** True length without and of the lap; the lap follows on the right. */
  readonly lengthMm: number
  readonly lapMm: number
  readonly marks: readonly StripMark[]
}

/** The printed strip as data. Lengths along it are true: on paper they are `correction` times as long. */
export interface RimStrip {
  readonly paper: StripPaper
  readonly rimMm: number
  readonly frames: number
  readonly stepMm: number
  readonly correction: number
  /** Left end of every tile and of the check bar on its page. */
  readonly leftMm: number
  readonly barTopMm: number
  readonly pages: number
  readonly tiles: readonly StripTile[]
}

/**
 * A true-size strip for a rim with exactly N equal marks, in tiles for a printer: any number of frames closes
 * on it with equal steps, which no tape does. Tiles are cut halfway between marks, never through one, and a
 * gap longer than a page is divided evenly. Refuses marks under 1 mm apart, and margins that leave no room.
 */
export function rimStrip(request: StripRequest): RimStrip {
  checkRequest(request)
  const { rimUm10, frames, paper, marginMm, lapMm, correction } = request
  const rimMm = mmFromUm10(rimUm10)
  const longestMm = usableMm(request) - lapMm
  // Cuts fall halfway between the places of two pieces. A piece is a gap, or an even part of one too long for a tile.
  const perGap = Math.ceil(rimMm / frames / longestMm)
  const pieces = frames * perGap
  const pieceMm = rimMm / pieces
  const tileCount = Math.ceil(pieces / Math.max(1, Math.floor(longestMm / pieceMm)))
  const rows = rowsPerPage(paper, marginMm)
  const mark = markMaker(request, perGap)
  return {
    paper,
    rimMm,
    frames,
    stepMm: rimMm / frames,
    correction,
    leftMm: marginMm,
    barTopMm: marginMm + headMm - betweenMm,
    pages: Math.ceil(tileCount / rows),
    tiles: Array.from({ length: tileCount }, (_, tile) => {
      const first = Math.floor((tile * pieces) / tileCount)
      const next = Math.floor(((tile + 1) * pieces) / tileCount)
      const lengthMm = (next - first) * pieceMm
      // A tile begins half a piece before its first.
      const positionMm = (piece: number) => (piece - first + 0.5) * pieceMm
      const marks: StripMark[] = []
      for (let piece = first; positionMm(piece) <= lengthMm + lapMm; piece += 1) {
        if (piece % perGap === 0) marks.push(mark(piece, positionMm(piece), piece >= next))
      }
      return {
        number: tile + 1,
        page: Math.floor(tile / rows),
        topMm: marginMm + headMm + (tile % rows) * (stripHeightMm + betweenMm),
        lengthMm,
        lapMm,
        marks,
      }
    }),
  }
}

/**
 * The factor that puts a printer right: 200 mm ÷ the check bar as it measures on paper, times the factor it was
 * printed with. Refuses a bar more than a tenth off, which no printer makes that prints at 100 %.
 */
export function stripCorrection(measuredMm: number, printedWith: number): number {
  checkCorrection(printedWith)
  if (typeof measuredMm !== 'number' || !(measuredMm > checkBarMm * 0.9 && measuredMm < checkBarMm * 1.1)) {
    throw new Refusal(
      'bad-check-bar',
      `The bar measures ${measuredMm} mm and should be ${checkBarMm} mm. Print at 100 %, not fitted to the page, and measure it again.`,
      { field: 'measuredMm' },
    )
  }
  return (printedWith * checkBarMm) / measuredMm
}

function markMaker(request: StripRequest, perGap: number) {
  const { frames, setFrames, loopFrames } = request
  const set = new Set(setFrames === null ? [] : frameSet(frames, setFrames))
  const loop = new Set(loopFrames === null ? [] : frameSet(frames, loopFrames))
  return (piece: number, positionMm: number, isOnLap: boolean): StripMark => {
    const index = (piece / perGap) % frames
    const kind = index === 0 ? 'start' : index % 10 === 0 ? 'tenth' : 'plain'
    return { index, positionMm, kind, isSet: set.has(index), isLoop: loop.has(index), isOnLap }
  }
}

/** True length that fits between the margins of a page. */
function usableMm({ paper, marginMm, correction }: StripRequest): number {
  return (stripPaperMm[paper].widthMm - 2 * marginMm) / correction
}

function rowsPerPage(paper: StripPaper, marginMm: number): number {
  const room = stripPaperMm[paper].heightMm - 2 * marginMm - headMm
  return Math.floor((room + betweenMm) / (stripHeightMm + betweenMm))
}

function checkRequest(request: StripRequest): void {
  const { rimUm10, frames, marginMm, lapMm, correction } = request
  checkLength(rimUm10, 'The rim', 'rim')
  checkFrames(frames, 'The number of frames', 'frames', 2)
  checkCorrection(correction)
  const mostFrames = Math.floor(mmFromUm10(rimUm10))
  if (frames > mostFrames) {
    throw new Refusal(
      'marks-too-close',
      `${frames} marks on ${formatLength(rimUm10)} stand under 1 mm apart, too close to read. Enter at most ${mostFrames} frames.`,
      { field: 'frames' },
    )
  }
  if (typeof lapMm !== 'number' || !(lapMm >= 5 && lapMm <= 40)) {
    throw new Refusal('bad-lap', `The glue lap is ${lapMm} mm. Enter 5 to 40 mm.`, { field: 'lapMm' })
  }
  if (typeof marginMm !== 'number' || !(marginMm >= 0 && usableMm(request) >= checkBarMm)) {
    throw new Refusal(
      'bad-margin',
      `The margin is ${marginMm} mm. Enter 0 mm or more, and leave ${checkBarMm} mm for the check bar.`,
      { field: 'marginMm' },
    )
  }
}

function checkCorrection(correction: number): void {
  if (typeof correction !== 'number' || !(correction > 0.8 && correction < 1.25)) {
    throw new Refusal(
      'bad-correction',
      `The correction is ${correction}. Enter 1 and print, then measure the check bar.`,
      { field: 'correction' },
    )
  }
}
