import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Frames to the turn of one row of a spin; undefined where it has no such row. */
export function framesOfRow(db: Db, shootId: Id<'shoot'>, row: number): number | undefined {
  return prepared<[number, number], { frames: number }>(
    db,
    'SELECT frames_per_turn AS frames FROM shoot_row WHERE shoot_id = ? AND row = ?',
  ).get(shootId, row)?.frames
}

/** Frames to the turn of a take; undefined where there is no such take. */
export function framesOfTake(db: Db, takeId: Id<'take'>): number | undefined {
  return prepared<[number], { frames: number }>(
    db,
    'SELECT frames_per_turn AS frames FROM take WHERE id = ?',
  ).get(takeId)?.frames
}

/** The picture of a take's own frame 1, by its SHA-256; undefined where none was kept. */
export function ownPictureOfTake(db: Db, takeId: Id<'take'>): string | undefined {
  return prepared<[number], { sha256: string }>(
    db,
    `SELECT attachment.sha256 FROM take_picture JOIN attachment ON attachment.id = take_picture.attachment_id
     WHERE take_picture.take_id = ?`,
  ).get(takeId)?.sha256
}

/** The value of sRGB that the spin's brief calls white; undefined where it says none. */
export function whiteOfSpin(db: Db, shootId: Id<'shoot'>): number | undefined {
  return (
    prepared<[number], { whiteCode: number | null }>(
      db,
      `SELECT brief.white_code AS whiteCode FROM shoot JOIN job ON job.id = shoot.job_id
       JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ?`,
    ).get(shootId)?.whiteCode ?? undefined
  )
}
