import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { rigChoices } from './rigs.ts'
import { prepared } from './statement.ts'

/** What a take of a spin would start with, and what else it could. */
export interface TakePlan {
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly spin: string
  readonly row: number
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly settingsId: Id<'settings'> | null
  readonly benchId: Id<'bench'> | null
  /** Where the rig and settings come from. */
  readonly from: 'last take' | 'plan' | 'family' | 'family take' | 'job' | 'none'
  readonly rows: readonly {
    readonly row: number
    readonly viewAngleMdeg: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
    readonly isKept: boolean
  }[]
  readonly rigs: readonly {
    readonly id: Id<'rig_revision'>
    readonly name: string
    readonly revision: number
  }[]
  readonly settings: readonly SettingsChoice[]
  readonly benches: readonly { readonly id: Id<'bench'>; readonly name: string }[]
}

/** Settings as a person tells them apart. The aperture in hundredths, the shutter as a fraction of a second. */
export interface SettingsChoice {
  readonly id: Id<'settings'>
  /** Frames a turn, a row after the other: '244', '244, 82'. */
  readonly frames: string
  readonly focusUm: number | null
  readonly apertureCenti: number | null
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly note: string | null
  readonly createdAt: string
}

interface Dialled {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly settingsId: Id<'settings'> | null
}

/**
 * Where a take of this spin starts: on what its last take stood on, else on its plan, else on what the client
 * approved of its family, else on the first kept take of its family, else on the job's last take; at its first row that has no kept take yet.
 */
export function takePlan(db: Db, shootId: Id<'shoot'>): TakePlan | undefined {
  const spin = prepared<[number], { jobId: Id<'job'>; spin: string }>(
    db,
    'SELECT job_id AS jobId, name AS spin FROM shoot WHERE id = ?',
  ).get(shootId)
  if (!spin) return undefined
  const rows = planRows(db, shootId)
  const [from, dialled] = dialledFor(db, shootId, spin.jobId)
  const settingsId = dialled?.settingsId ?? null
  return {
    shootId,
    ...spin,
    row: (rows.find(({ isKept }) => !isKept) ?? rows[0])?.row ?? 1,
    rigRevisionId: dialled?.rigRevisionId ?? null,
    settingsId,
    benchId: benchFor(db, shootId),
    from,
    rows,
    rigs: revisionChoices(db, shootId, dialled?.rigRevisionId ?? null),
    settings: settingsChoices(db, shootId, settingsId),
    benches: prepared<[], { id: Id<'bench'>; name: string }>(
      db,
      'SELECT id, name FROM bench WHERE gone_at IS NULL ORDER BY position',
    ).all(),
  }
}

function planRows(db: Db, shootId: Id<'shoot'>): TakePlan['rows'] {
  return prepared<[number], Omit<TakePlan['rows'][number], 'isKept'> & { isKept: 0 | 1 }>(
    db,
    `SELECT row, view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames,
       EXISTS (SELECT 1 FROM take WHERE take.shoot_id = shoot_row.shoot_id AND take.row = shoot_row.row
         AND take.verdict = 'keep' AND take.started_at > ifnull((SELECT max(asked_at) FROM reshoot
           WHERE reshoot.shoot_id = take.shoot_id), '')) AS isKept
     FROM shoot_row WHERE shoot_id = ? ORDER BY row`,
  )
    .all(shootId)
    .map((row) => ({ ...row, isKept: row.isKept === 1 }))
}

function dialledFor(
  db: Db,
  shootId: Id<'shoot'>,
  jobId: Id<'job'>,
): readonly [TakePlan['from'], Dialled | undefined] {
  const places: readonly (readonly [Exclude<TakePlan['from'], 'none'>, string, number])[] = [
    [
      'last take',
      `SELECT rig_revision_id AS rigRevisionId, settings_id AS settingsId FROM take
       WHERE shoot_id = ? ORDER BY number DESC LIMIT 1`,
      shootId,
    ],
    [
      'plan',
      // A rig that is planned without settings starts from what was dialled on it last.
      `SELECT rig_revision_id AS rigRevisionId, ifnull(settings_id, (SELECT settings_id FROM take
         WHERE take.rig_revision_id = shoot.rig_revision_id ORDER BY started_at DESC LIMIT 1)) AS settingsId
       FROM shoot WHERE id = ? AND rig_revision_id IS NOT NULL`,
      shootId,
    ],
    [
      'family',
      `SELECT family.rig_revision_id AS rigRevisionId, family.settings_id AS settingsId FROM shoot_product sp
       JOIN product ON product.id = sp.product_id JOIN family ON family.id = product.family_id
       WHERE sp.shoot_id = ? AND family.rig_revision_id IS NOT NULL AND family.settings_id IS NOT NULL
       ORDER BY sp.position LIMIT 1`,
      shootId,
    ],
    [
      // Until the client has said yes to one of them, the variants of a shape match the first that was kept.
      'family take',
      `SELECT take.rig_revision_id AS rigRevisionId, take.settings_id AS settingsId FROM shoot_product sp
       JOIN product ON product.id = sp.product_id CROSS JOIN product kin ON kin.family_id = product.family_id
       CROSS JOIN shoot_product ks ON ks.product_id = kin.id CROSS JOIN take ON take.shoot_id = ks.shoot_id
       WHERE sp.shoot_id = ? AND take.verdict = 'keep' ORDER BY sp.position, take.started_at LIMIT 1`,
      shootId,
    ],
    [
      'job',
      `SELECT take.rig_revision_id AS rigRevisionId, take.settings_id AS settingsId
       FROM shoot CROSS JOIN take ON take.shoot_id = shoot.id
       WHERE shoot.job_id = ? ORDER BY take.started_at DESC LIMIT 1`,
      jobId,
    ],
  ]
  for (const [from, sql, id] of places) {
    const dialled = prepared<[number], Dialled>(db, sql).get(id)
    if (dialled) return [from, dialled]
  }
  return ['none', undefined]
}

/** The bench the spin is booked at next, else the one of its last take, else the first. */
function benchFor(db: Db, shootId: Id<'shoot'>): Id<'bench'> | null {
  const row = prepared<[number, number], { benchId: Id<'bench'> | null }>(
    db,
    `SELECT coalesce(
       (SELECT b.bench_id FROM booking_shoot bs JOIN booking b ON b.id = bs.booking_id
         WHERE bs.shoot_id = ? AND b.cancelled_at IS NULL ORDER BY b.starts_at DESC LIMIT 1),
       (SELECT bench_id FROM take WHERE shoot_id = ? ORDER BY number DESC LIMIT 1),
       (SELECT id FROM bench WHERE gone_at IS NULL ORDER BY position LIMIT 1)) AS benchId`,
  ).get(shootId, shootId)
  return row?.benchId ?? null
}

/** The newest revision of every rig in use, and those that the spin is planned on and starts with, should they be older. */
function revisionChoices(
  db: Db,
  shootId: Id<'shoot'>,
  starting: Id<'rig_revision'> | null,
): TakePlan['rigs'] {
  const newest = rigChoices(db).map(({ rigRevisionId, name, revision }) => ({
    id: rigRevisionId,
    name,
    revision,
  }))
  const older = prepared<[number, number | null], TakePlan['rigs'][number]>(
    db,
    `SELECT rev.id, rig.name, rev.revision FROM rig_revision rev JOIN rig ON rig.id = rev.rig_id
     WHERE rev.id IN ((SELECT rig_revision_id FROM shoot WHERE id = ?), ?)`,
  ).all(shootId, starting)
  return [...older.filter((one) => !newest.some(({ id }) => id === one.id)), ...newest]
}

/** The newest settings, and those that the spin is planned on and starts with, should they be older. */
function settingsChoices(
  db: Db,
  shootId: Id<'shoot'>,
  starting: Id<'settings'> | null,
): readonly SettingsChoice[] {
  const columns = `id, focus_um AS focusUm, ifnull((SELECT group_concat(r.frames_per_turn, ', ' ORDER BY r.row)
      FROM settings_row r WHERE r.settings_id = settings.id), '') AS frames, aperture_centi AS apertureCenti, shutter_num AS shutterNum, shutter_den AS shutterDen, iso,
    white_balance_k AS whiteBalanceK, note, created_at AS createdAt`
  const newest = prepared<[], SettingsChoice>(
    db,
    `SELECT ${columns} FROM settings WHERE id > (SELECT max(id) FROM settings) - 30 ORDER BY id DESC`,
  ).all()
  const older = prepared<[number, number | null], SettingsChoice>(
    db,
    `SELECT ${columns} FROM settings WHERE id IN ((SELECT settings_id FROM shoot WHERE id = ?), ?)`,
  ).all(shootId, starting)
  return [...older.filter((one) => !newest.some(({ id }) => id === one.id)), ...newest]
}
