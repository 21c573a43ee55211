import type { TurnRow } from '../main/trade/turn/rows.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { newId, prepared } from './statement.ts'

export type DeliverableKind = 'loop' | 'frame set' | 'stills'

/** One thing wanted of each spin. The frame rate is a fraction, so that 30000/1001 is exact. */
export interface Deliverable {
  readonly id: Id<'deliverable'>
  readonly kind: DeliverableKind
  readonly name: string
  readonly frames: number | null
  readonly widthPx: number
  readonly heightPx: number
  readonly fpsNum: number | null
  readonly fpsDen: number | null
  readonly dropFrame: boolean
  readonly fileType: 'jpg' | 'png' | 'webp' | 'tif' | 'mp4' | 'mov' | 'webm'
  readonly fileCapBytes: number | null
}

/** What is wanted: of a client's spins in general, of a job's, or of one spin as an exception. */
export interface Brief {
  readonly id: Id<'brief'>
  readonly whiteCode: number | null
  readonly fillPpm: number | null
  readonly direction: 'clockwise' | 'anticlockwise'
  readonly startPose: string | null
  readonly namePattern: string
  readonly finishClassId: Id<'finish_class'> | null
  readonly yesDays: number | null
  readonly note: string | null
  readonly rows: readonly TurnRow[]
  readonly deliverables: readonly Deliverable[]
}

/** A brief as a person writes it: no ids yet. */
export type BriefDraft = Omit<Brief, 'id' | 'deliverables'> & {
  readonly deliverables: readonly (Omit<Deliverable, 'id'> & {
    readonly id?: Id<'deliverable'> | undefined
  })[]
}

/** Where a new client's standing brief starts. Common practice, no published source. */
export const plainBrief: BriefDraft = {
  whiteCode: 255,
  fillPpm: 850_000,
  direction: 'clockwise',
  startPose: null,
  namePattern: '{code}_{deliverable}_{frame:3}',
  finishClassId: null,
  yesDays: null,
  note: null,
  rows: [{ viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 3 }],
  deliverables: [
    {
      kind: 'loop',
      name: 'loop',
      frames: null,
      widthPx: 1080,
      heightPx: 1080,
      fpsNum: 25,
      fpsDen: 1,
      dropFrame: false,
      fileType: 'mp4',
      fileCapBytes: null,
    },
    {
      kind: 'frame set',
      name: 'set',
      frames: 24,
      widthPx: 1600,
      heightPx: 1600,
      fpsNum: null,
      fpsDen: null,
      dropFrame: false,
      fileType: 'jpg',
      fileCapBytes: null,
    },
  ],
}

export function briefById(db: Db, briefId: Id<'brief'>): Brief {
  const row = prepared<[number], Omit<Brief, 'rows' | 'deliverables'>>(
    db,
    `SELECT id, white_code AS whiteCode, fill_ppm AS fillPpm, direction, start_pose AS startPose,
       name_pattern AS namePattern, finish_class_id AS finishClassId, yes_days AS yesDays, note
     FROM brief WHERE id = ?`,
  ).get(briefId)
  if (!row) throw new Error(`There is no brief ${briefId}.`)
  return { ...row, rows: briefRows(db, briefId), deliverables: deliverablesOf(db, briefId) }
}

export function briefRows(db: Db, briefId: Id<'brief'>): readonly TurnRow[] {
  return prepared<[number], TurnRow>(
    db,
    `SELECT view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames
     FROM brief_row WHERE brief_id = ? ORDER BY row`,
  ).all(briefId)
}

export function deliverablesOf(db: Db, briefId: Id<'brief'>): readonly Deliverable[] {
  return prepared<[number], Omit<Deliverable, 'dropFrame'> & { dropFrame: 0 | 1 }>(
    db,
    `SELECT id, kind, name, frames, width_px AS widthPx, height_px AS heightPx, fps_num AS fpsNum, fps_den AS fpsDen,
       drop_frame AS dropFrame, file_type AS fileType, file_cap_bytes AS fileCapBytes
     FROM deliverable WHERE brief_id = ? ORDER BY position`,
  )
    .all(briefId)
    .map((row) => ({ ...row, dropFrame: row.dropFrame === 1 }))
}

/** The finish classes a brief can ask for, in the studio's order. */
export function finishClasses(db: Db): readonly { readonly id: Id<'finish_class'>; readonly name: string }[] {
  return prepared<[], { id: Id<'finish_class'>; name: string }>(
    db,
    'SELECT id, name FROM finish_class ORDER BY position',
  ).all()
}

/** Writes a new brief. Call inside the caller's transaction. */
export function insertBrief(db: Db, draft: BriefDraft): Id<'brief'> {
  const result = prepared<unknown[]>(
    db,
    `INSERT INTO brief (white_code, fill_ppm, direction, start_pose, name_pattern, finish_class_id, yes_days, note)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(...briefValues(draft))
  const briefId = newId<Id<'brief'>>(result)
  insertRows(db, briefId, draft.rows)
  draft.deliverables.forEach((deliverable, index) => {
    insertDeliverable(db, briefId, deliverable, index + 1)
  })
  return briefId
}

/**
 * Rewrites a brief. Deliverables that keep their id stay the same rows, so that picks, answers and deliveries
 * go on pointing at them. SQLite refuses to drop one that is already picked or answered.
 */
export function rewriteBrief(db: Db, briefId: Id<'brief'>, draft: BriefDraft): void {
  prepared<unknown[]>(
    db,
    `UPDATE brief SET white_code = ?, fill_ppm = ?, direction = ?, start_pose = ?, name_pattern = ?,
       finish_class_id = ?, yes_days = ?, note = ? WHERE id = ?`,
  ).run(...briefValues(draft), briefId)
  prepared<[number]>(db, 'DELETE FROM brief_row WHERE brief_id = ?').run(briefId)
  insertRows(db, briefId, draft.rows)
  const kept = draft.deliverables.flatMap(({ id }) => (id === undefined ? [] : [id]))
  prepared<[number, string]>(
    db,
    'DELETE FROM deliverable WHERE brief_id = ? AND id NOT IN (SELECT value FROM json_each(?))',
  ).run(briefId, JSON.stringify(kept))
  // Positions are unique within a brief; negative ones make room while they move.
  prepared<[number]>(db, 'UPDATE deliverable SET position = -position WHERE brief_id = ?').run(briefId)
  draft.deliverables.forEach((deliverable, index) => {
    if (deliverable.id === undefined) insertDeliverable(db, briefId, deliverable, index + 1)
    else updateDeliverable(db, briefId, deliverable.id, deliverable, index + 1)
  })
}

/** A copy for another job or spin to change freely. Call inside the caller's transaction. */
export function copyBrief(db: Db, briefId: Id<'brief'>): Id<'brief'> {
  const brief = briefById(db, briefId)
  return insertBrief(db, { ...brief, deliverables: brief.deliverables.map(({ id: _, ...rest }) => rest) })
}

function briefValues(draft: BriefDraft): readonly unknown[] {
  return [
    draft.whiteCode,
    draft.fillPpm,
    draft.direction,
    draft.startPose,
    draft.namePattern,
    draft.finishClassId,
    draft.yesDays,
    draft.note,
  ]
}

function insertRows(db: Db, briefId: Id<'brief'>, rows: readonly TurnRow[]): void {
  rows.forEach((row, index) => {
    prepared<unknown[]>(db, 'INSERT INTO brief_row VALUES (?, ?, ?, ?, ?)').run(
      briefId,
      index + 1,
      row.viewAngleMdeg,
      row.framesPerTurn,
      row.overlapFrames,
    )
  })
}

function deliverableValues(d: Omit<Deliverable, 'id'>, position: number): readonly unknown[] {
  return [
    d.kind,
    d.name,
    d.frames,
    d.widthPx,
    d.heightPx,
    d.fpsNum,
    d.fpsDen,
    d.dropFrame ? 1 : 0,
    d.fileType,
    d.fileCapBytes,
    position,
  ]
}

function insertDeliverable(
  db: Db,
  briefId: Id<'brief'>,
  deliverable: Omit<Deliverable, 'id'>,
  position: number,
): void {
  prepared<unknown[]>(
    db,
    `INSERT INTO deliverable (kind, name, frames, width_px, height_px, fps_num, fps_den, drop_frame, file_type,
       file_cap_bytes, position, brief_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(...deliverableValues(deliverable, position), briefId)
}

function updateDeliverable(
  db: Db,
  briefId: Id<'brief'>,
  id: Id<'deliverable'>,
  deliverable: Omit<Deliverable, 'id'>,
  position: number,
): void {
  prepared<unknown[]>(
    db,
    `UPDATE deliverable SET kind = ?, name = ?, frames = ?, width_px = ?, height_px = ?, fps_num = ?, fps_den = ?,
       drop_frame = ?, file_type = ?, file_cap_bytes = ?, position = ? WHERE id = ? AND brief_id = ?`,
  ).run(...deliverableValues(deliverable, position), id, briefId)
}
