import type { PictureArea } from '../main/trade/check/smallFrame.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** The camera's place before a platter: of one revision of a rig, for one row of a spin. */
export interface CameraPlace {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly row: number
}

const million = 1_000_000

/** Where the platter's edge with its mark is seen from there; null where nobody has drawn it. */
export function edgeBand(db: Db, rigRevisionId: Id<'rig_revision'>, row: number): PictureArea | null {
  const found = prepared<[number, number], PictureArea>(
    db,
    `SELECT left_ppm AS left, top_ppm AS top, right_ppm AS right, bottom_ppm AS bottom FROM edge_band
     WHERE rig_revision_id = ? AND row = ?`,
  ).get(rigRevisionId, row)
  if (!found) return null
  const { left, top, right, bottom } = found
  return { left: left / million, top: top / million, right: right / million, bottom: bottom / million }
}

/** Where the camera of a take stood. Refuses a take that the studio does not have. */
export function cameraPlaceOfTake(db: Db, takeId: Id<'take'>): CameraPlace & { readonly rigName: string } {
  const place = prepared<[number], CameraPlace & { readonly rigName: string }>(
    db,
    `SELECT take.rig_revision_id AS rigRevisionId, take.row, rig.name AS rigName FROM take
     JOIN rig_revision v ON v.id = take.rig_revision_id JOIN rig ON rig.id = v.rig_id WHERE take.id = ?`,
  ).get(takeId)
  if (!place) throw new Refusal('no-take', 'This take is not in the studio.')
  return place
}

/** Keeps the band that a person has drawn, for every take from that place; it takes the place of the one before. */
export function drawEdgeBand(writing: Writing, place: CameraPlace, band: PictureArea): void {
  const { db } = writing
  const ppm = [band.left, band.top, band.right, band.bottom].map((part) => Math.round(part * million))
  inOneTransaction(db, () => {
    const { changes } = prepared<unknown[]>(
      db,
      `INSERT INTO edge_band (rig_revision_id, row, left_ppm, top_ppm, right_ppm, bottom_ppm) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (rig_revision_id, row) DO UPDATE SET left_ppm = excluded.left_ppm, top_ppm = excluded.top_ppm,
         right_ppm = excluded.right_ppm, bottom_ppm = excluded.bottom_ppm
       WHERE (left_ppm, top_ppm, right_ppm, bottom_ppm) IS NOT
         (excluded.left_ppm, excluded.top_ppm, excluded.right_ppm, excluded.bottom_ppm)`,
    ).run(place.rigRevisionId, place.row, ...ppm)
    if (changes > 0) tellOfRig(writing, place, 'band of the edge mark drawn', { band })
  })
}

/** Takes the band away: takes from that place are checked by their pictures alone. */
export function takeEdgeBandAway(writing: Writing, place: CameraPlace): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const { changes } = prepared<[number, number]>(
      db,
      'DELETE FROM edge_band WHERE rig_revision_id = ? AND row = ?',
    ).run(place.rigRevisionId, place.row)
    if (changes > 0) tellOfRig(writing, place, 'band of the edge mark taken away', {})
  })
}

/** Writes into the rig's history what was said of one place of its camera. Refuses a revision that is not in the studio. */
export function tellOfRig(
  writing: Writing,
  { rigRevisionId, row }: CameraPlace,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  const rig = prepared<[number], { rigId: Id<'rig'>; revision: number }>(
    writing.db,
    'SELECT rig_id AS rigId, revision FROM rig_revision WHERE id = ?',
  ).get(rigRevisionId)
  if (!rig) throw new Refusal('no-rig', 'This revision of the rig is not in the studio.')
  const { rigId, revision } = rig
  writeEvent(writing, { subject: 'rig', subjectId: rigId, what, detail: { revision, row, ...detail } })
}
