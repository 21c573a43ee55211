import type { PointerSide } from '../main/trade/check/centre/nudge.ts'
import { type CameraPlace, tellOfRig } from './edgeBands.ts'
import type { Writing } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** Where the pointer stands, seen from the camera's place; null where nobody has said. */
export function pointerSide(db: Db, { rigRevisionId, row }: CameraPlace): PointerSide | null {
  return (
    prepared<[number, number], { side: PointerSide }>(
      db,
      'SELECT side FROM pointer_side WHERE rig_revision_id = ? AND row = ?',
    ).get(rigRevisionId, row)?.side ?? null
  )
}

/** Keeps where the pointer stands, for every take from that place. Refuses a revision that the studio does not have. */
export function keepPointerSide(writing: Writing, place: CameraPlace, side: PointerSide): void {
  const { db } = writing
  if (pointerSide(db, place) === side) return
  inOneTransaction(db, () => {
    tellOfRig(writing, place, 'place of the pointer said', { side })
    prepared<[number, number, PointerSide]>(
      db,
      `INSERT INTO pointer_side (rig_revision_id, row, side) VALUES (?, ?, ?)
       ON CONFLICT (rig_revision_id, row) DO UPDATE SET side = excluded.side`,
    ).run(place.rigRevisionId, place.row, side)
  })
}
