import type { Handling, Pace } from '../main/trade/pace.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The studio's own figures, from which every estimate starts: times in ms, chances in ppm. */
export function thePace(db: Db): Pace {
  const row = prepared<[], Omit<Pace, 'handling'>>(
    db,
    `SELECT step_ms AS stepMs, step_spread_ppm AS stepSpreadPpm, check_frames AS checkFrames,
       row_change_ms AS rowChangeMs, restart_ppm AS restartPpm, reshoot_ppm AS reshootPpm,
       change_platter_ms AS changePlatterMs, change_light_ms AS changeLightMs, change_camera_ms AS changeCameraMs,
       change_lens_ms AS changeLensMs, change_backdrop_ms AS changeBackdropMs, change_settings_ms AS changeSettingsMs,
       frame_bytes AS frameBytes, copy_bytes_per_second AS copyBytesPerSecond, develop_frame_ms AS developFrameMs,
       pick_spin_ms AS pickSpinMs, export_frame_ms AS exportFrameMs FROM pace`,
  ).get()
  if (!row) throw new Error('The store holds no figures to estimate with.')
  const handling = prepared<[], Handling>(
    db,
    `SELECT size_class AS sizeClass, finish, first_ms AS firstMs, following_ms AS followingMs FROM handling`,
  ).all()
  return { ...row, handling }
}

/** Up to which size a product counts as small and as medium, in mm. */
export function sizeLimitsMm(db: Db): { readonly smallMaxMm: number; readonly mediumMaxMm: number } {
  const row = prepared<[], { smallMaxMm: number; mediumMaxMm: number }>(
    db,
    'SELECT small_max_um / 1000.0 AS smallMaxMm, medium_max_um / 1000.0 AS mediumMaxMm FROM pace',
  ).get()
  if (!row) throw new Error('The store holds no figures to estimate with.')
  return row
}
