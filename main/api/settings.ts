import * as z from 'zod'
import { findRig } from '../../db/rigs.ts'
import { addSettings, apertureHolds, findSettings, settingsOnRig } from '../../db/settings.ts'
import { kept, shown } from '../trade/measures.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, maybeText, router } from './kit.ts'

const ppm = z.int().min(0).max(1_000_000, 'A crop lies within the frame, from 0 to 100 %.')
const cameraPlace = z
  .number()
  .min(10, 'The camera stands at least 10 mm away.')
  .max(50_000, 'The camera stands at most 50 m away.')
  .nullable()

/** Settings as the page sends them. */
export const SettingsInput = z
  .object({
    rigId: idOf('rig').nullable().default(null),
    focusMm: z
      .number()
      .min(10, 'Focus is at least 10 mm away.')
      .max(50_000, 'Focus is at most 50 m away.')
      .nullable(),
    apertureCenti: z
      .int()
      .min(50, 'An f-number is at least 0.5.')
      .max(12_800, 'An f-number is at most 128.')
      .nullable(),
    apertureHeld: z.enum(apertureHolds),
    shutterNum: z.int().positive('A shutter time is more than 0.').max(3600).nullable(),
    shutterDen: z.int().positive('A shutter time is more than 0.').max(100_000).nullable(),
    iso: z.int().min(1, 'An ISO value is at least 1.').max(10_000_000).nullable(),
    whiteBalanceK: z
      .int()
      .min(1_500, 'A white balance lies between 1,500 and 20,000 K.')
      .max(20_000, 'A white balance lies between 1,500 and 20,000 K.')
      .nullable(),
    cropXPpm: ppm.default(0),
    cropYPpm: ppm.default(0),
    cropWidthPpm: ppm.min(1).default(1_000_000),
    cropHeightPpm: ppm.min(1).default(1_000_000),
    development: maybeText(200),
    note: maybeText(),
    rows: z
      .array(
        z.object({
          viewAngleDeg: z.number().min(-90).max(90, 'A viewing angle lies between -90° and 90°.'),
          framesPerTurn: z
            .int('Frames are a whole number.')
            .min(2, 'A turn has at least 2 frames.')
            .max(1440, 'A turn has at most 1,440 frames.'),
          overlapFrames: z.int().min(0, 'Overlap is 0 frames or more.').max(1440),
          cameraDistanceMm: cameraPlace.default(null),
          cameraHeightMm: z
            .number()
            .min(-5_000, 'The camera is at most 5 m below the platter.')
            .max(10_000, 'The camera is at most 10 m above the platter.')
            .nullable()
            .default(null),
        }),
      )
      .min(1, 'Settings have at least one row of frames.')
      .max(20, 'Settings have at most 20 rows.'),
  })
  .refine((s) => (s.shutterNum === null) === (s.shutterDen === null), {
    message: 'A shutter time is a fraction, such as 1/125. Enter both parts or neither.',
    path: ['shutterDen'],
  })
  .refine((s) => s.cropXPpm + s.cropWidthPpm <= 1_000_000 && s.cropYPpm + s.cropHeightPpm <= 1_000_000, {
    message: 'The crop runs over the edge of the frame. Make it smaller or move it.',
    path: ['cropWidthPpm'],
  })

/** Settings: what is dialled. They are added and read, never changed. */
export const settingsCalls = router({
  add: call.input(SettingsInput).mutation(({ ctx, input }) => {
    if (input.rigId !== null && !findRig(ctx.db, input.rigId)) {
      throw new Refusal('no-rig', 'This rig is not in the studio.')
    }
    return { settingsId: addSettings(ctx, kept(input)) }
  }),

  one: call.input(z.object({ settingsId: idOf('settings') })).query(({ ctx, input }) => {
    const settings = findSettings(ctx.db, input.settingsId)
    if (!settings) throw new Refusal('no-settings', 'These settings are not in the studio.')
    return shown(settings)
  }),

  /** Settings used or planned on a rig, the newest first. */
  onRig: call
    .input(z.object({ rigId: idOf('rig') }))
    .query(({ ctx, input }) => shown(settingsOnRig(ctx.db, input.rigId))),
})
