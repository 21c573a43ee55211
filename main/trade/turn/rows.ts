import { Refusal } from '../refusal.ts'
import type { RowFrames } from './framesToShoot.ts'

/**
 * A row as it is asked for or quoted: one turn at one viewing angle, with its own frames. All rows of a spin share
 * one start mark.
 */
export interface TurnRow {
  /** How far the camera looks down, in thousandths of a degree. */
  readonly viewAngleMdeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
}

/** The most that a spin is shot in. */
export const mostRows = 20
export const mostFramesPerTurn = 1440

/** Refuses rows that cannot be turned: none or over 20, frames not from 2 to 1,440, an overlap not from 0 to 1,440. */
export function checkRows(rows: readonly TurnRow[]): void {
  if (rows.length < 1 || rows.length > mostRows) {
    throw new Refusal('bad-rows', `A spin has from 1 to ${mostRows} rows.`, { field: 'rows' })
  }
  rows.forEach(({ framesPerTurn, overlapFrames }, index) => {
    const inRow = rows.length > 1 ? ` in row ${index + 1}` : ''
    if (!isWholeWithin(framesPerTurn, 2)) {
      throw new Refusal('bad-frames', `A turn has from 2 to 1,440 frames; it is ${framesPerTurn}${inRow}.`, {
        field: `rows.${index}.framesPerTurn`,
      })
    }
    if (!isWholeWithin(overlapFrames, 0)) {
      throw new Refusal(
        'bad-frames',
        `The overlap is from 0 to 1,440 frames; it is ${overlapFrames}${inRow}.`,
        { field: `rows.${index}.overlapFrames` },
      )
    }
  })
}

function isWholeWithin(frames: number, least: number): boolean {
  return Number.isSafeInteger(frames) && frames >= least && frames <= mostFramesPerTurn
}

/**
 * The first row that looks from the angle of one before it, as indices from 0; undefined where each has its own. Two
 * such rows would be the same turn twice.
 */
export function twinRows(
  rows: readonly Pick<TurnRow, 'viewAngleMdeg'>[],
): { readonly row: number; readonly twin: number } | undefined {
  for (const [row, { viewAngleMdeg }] of rows.entries()) {
    const twin = rows.findIndex((other) => other.viewAngleMdeg === viewAngleMdeg)
    if (twin >= 0 && twin < row) return { row, twin }
  }
  return undefined
}

/** Why two rows cannot both stand. */
export function twinSentence({ row, twin }: { readonly row: number; readonly twin: number }): string {
  return `Row ${row + 1} looks from the same angle as row ${twin + 1}. Give it an angle of its own, or take it away.`
}

/** Frames and overlap of each row: what is shot, from wherever it is seen. */
export function rowFrames(rows: readonly TurnRow[]): readonly RowFrames[] {
  return rows.map(({ framesPerTurn, overlapFrames }) => ({ frames: framesPerTurn, overlap: overlapFrames }))
}

/** Whether all rows are turned alike, whatever their angles; also where a figure is not known yet. */
export function areRowsAlike(
  rows: readonly { readonly framesPerTurn: number | null; readonly overlapFrames: number | null }[],
): boolean {
  const [first] = rows
  return rows.every(
    (row) => row.framesPerTurn === first?.framesPerTurn && row.overlapFrames === first.overlapFrames,
  )
}

/** Frames a turn in words: '244' where all rows have as many, '72 and 36' where they do not. */
export function framesText(rows: readonly Pick<TurnRow, 'framesPerTurn'>[], and = 'and'): string {
  const frames = rows.map(({ framesPerTurn }) => framesPerTurn)
  if (new Set(frames).size <= 1) return String(frames[0] ?? 0)
  return `${frames.slice(0, -1).join(', ')} ${and} ${frames.at(-1)}`
}

/** How much higher a further row looks from: common practice, no published source. */
const rowApartMdeg = 15_000

/**
 * The angle of a row that is added after one at `viewAngleMdeg`: 15° higher, or less where so many rows are to come
 * that the last of them would pass straight down.
 */
export function nextViewAngleMdeg(viewAngleMdeg: number, rowsToCome = 1): number {
  return viewAngleMdeg + Math.min(rowApartMdeg, Math.floor((90_000 - viewAngleMdeg) / rowsToCome))
}
