import type { BenchPeople, Handling, Pace } from '../main/trade/pace.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** The studio's own figures as it enters them: times in ms, chances and spread in ppm, sizes in µm. */
export interface StudioFigures extends Omit<Pace, 'handling'> {
  /** Frames past the full turn where a brief says nothing else. */
  readonly overlapFrames: number
  readonly smallMaxUm: number
  readonly mediumMaxUm: number
  /** How many people work at the bench where a quote says nothing else. */
  readonly benchPeople: BenchPeople
  /** Minutes of turning that one day can take; hands and eyes tire before the bench closes. */
  readonly turningCapMinutes: number
}

const columns: Readonly<Record<keyof StudioFigures, string>> = {
  stepMs: 'step_ms',
  stepSpreadPpm: 'step_spread_ppm',
  checkFrames: 'check_frames',
  overlapFrames: 'overlap_frames',
  rowChangeMs: 'row_change_ms',
  restartPpm: 'restart_ppm',
  restartPauseMs: 'restart_pause_ms',
  reshootPpm: 'reshoot_ppm',
  changePlatterMs: 'change_platter_ms',
  changeLightMs: 'change_light_ms',
  changeCameraMs: 'change_camera_ms',
  changeLensMs: 'change_lens_ms',
  changeBackdropMs: 'change_backdrop_ms',
  changeSettingsMs: 'change_settings_ms',
  frameBytes: 'frame_bytes',
  copyBytesPerSecond: 'copy_bytes_per_second',
  developFrameMs: 'develop_frame_ms',
  pickSpinMs: 'pick_spin_ms',
  exportFrameMs: 'export_frame_ms',
  smallMaxUm: 'small_max_um',
  mediumMaxUm: 'medium_max_um',
  handlingSpreadPpm: 'handling_spread_ppm',
  besidePpm: 'beside_ppm',
  benchPeople: 'bench_people',
  turningCapMinutes: 'turning_cap_minutes',
}
const columnEntries = Object.entries(columns) as [keyof StudioFigures, string][]

export function studioFigures(db: Db): StudioFigures {
  const row = prepared<[], StudioFigures>(
    db,
    `SELECT ${columnEntries.map(([name, column]) => `${column} AS ${name}`).join(', ')} FROM pace`,
  ).get()
  if (!row) throw new Error('The store holds no figures to estimate with.')
  return row
}

export function handlingTimes(db: Db): readonly Handling[] {
  return prepared<[], Handling>(
    db,
    `SELECT size_class AS sizeClass, finish, first_ms AS firstMs, following_ms AS followingMs FROM handling
     ORDER BY size_class = 'large', size_class = 'medium', finish`,
  ).all()
}

/** The studio's own figures, from which every estimate starts: times in ms, chances in ppm. */
export function thePace(db: Db): Pace {
  return { ...studioFigures(db), handling: handlingTimes(db) }
}

/** Up to which size a product counts as small and as medium, in mm. */
export function sizeLimitsMm(db: Db): { readonly smallMaxMm: number; readonly mediumMaxMm: number } {
  const { smallMaxUm, mediumMaxUm } = studioFigures(db)
  return { smallMaxMm: smallMaxUm / 1000, mediumMaxMm: mediumMaxUm / 1000 }
}

/** Changes the studio's figures. Estimates made before keep what they were made with. */
export function changeFigures(writing: Writing, figures: StudioFigures): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = studioFigures(db)
    prepared<unknown[]>(
      db,
      `UPDATE pace SET ${columnEntries.map(([, column]) => `${column} = ?`).join(', ')} WHERE id = 1`,
    ).run(...columnEntries.map(([name]) => figures[name]))
    writeEvent(writing, {
      subject: 'pace',
      subjectId: 1,
      what: 'figures changed',
      detail: { before, after: figures },
    })
  })
}

/** Changes handling times; cases not named keep theirs. */
export function changeHandling(writing: Writing, times: readonly Handling[]): void {
  const { db } = writing
  inOneTransaction(db, () => {
    for (const time of times) {
      prepared<unknown[]>(
        db,
        `INSERT INTO handling (size_class, finish, first_ms, following_ms) VALUES (?, ?, ?, ?)
         ON CONFLICT (size_class, finish) DO UPDATE SET first_ms = excluded.first_ms, following_ms = excluded.following_ms`,
      ).run(time.sizeClass, time.finish, time.firstMs, time.followingMs)
    }
    writeEvent(writing, {
      subject: 'pace',
      subjectId: 1,
      what: 'handling times changed',
      detail: { times },
    })
  })
}
