import * as z from 'zod'
import { rowsToTurn } from '../../db/beforeTake.ts'
import { framesOfRow, ownPictureOfTake, planOfSpin, whiteOfSpin } from '../../db/checkAids.ts'
import { lastTimesOf } from '../../db/lastTime.ts'
import type { Db } from '../../db/open.ts'
import { findRevision, type RigRevision } from '../../db/rigRevisions.ts'
import { longSideAtAxisMm } from '../trade/check/scale.ts'
import { mmFromUm10 } from '../trade/length.ts'
import { Refusal } from '../trade/refusal.ts'
import { benchMarks } from '../trade/takes.ts'
import { askAid } from '../work/checkAids.ts'
import { aidFrame, framesInOrder, newestFrame } from '../work/newestFrames.ts'
import { frameFolder } from './frameFolders.ts'
import { call, idOf, router } from './kit.ts'

/** On what a spin is about to be turned. */
const Stand = z.object({
  shootId: idOf('shoot'),
  row: z.int().min(1).max(20),
  rigRevisionId: idOf('rig_revision').nullable(),
  settingsId: idOf('settings').nullable(),
})

/** One frame of a folder by its key; the newest where none is named. */
const OneFrame = z.object({ folder: frameFolder, key: z.string().max(2000).nullable() })

/** Helps before a take and beside it: they look at frames of a folder, say what they see, and write nothing. */
export const checkAidCalls = router({
  /** What the helps go by: the platter's marks, the scale of the picture, the product's outline, last time's take. */
  stand: call.input(Stand).query(({ ctx, input }) => {
    const framesPerTurn = framesOfRow(ctx.db, input.shootId, input.row)
    if (framesPerTurn === undefined) throw new Refusal('no-spin', 'This spin is not in the studio.')
    const rig = input.rigRevisionId === null ? undefined : findRevision(ctx.db, input.rigRevisionId)
    return {
      framesPerTurn,
      rimMm: rig ? mmFromUm10(rig.rimUm10) : null,
      marksMm: rig ? benchMarks(rig.rimUm10, framesPerTurn, rig.divisionUm10).map(mmFromUm10) : null,
      longSideMm: rig ? scaleOf(ctx.db, input, rig) : null,
      plan: planOfSpin(ctx.db, input.shootId) ?? 'measured',
      whiteCode: whiteOfSpin(ctx.db, input.shootId) ?? 255,
      lastTime: lastTimeOf(ctx.db, input.shootId, ctx.now),
    }
  }),

  /** How many frames lie in a folder, and the newest. */
  newest: call.input(z.object({ folder: frameFolder })).query(async ({ input }) => {
    const frames = await framesInOrder(input.folder)
    const newest = frames.at(-1)
    return {
      frames: frames.length,
      newest: newest ? { key: newest.key, stamp: aidFrame(input.folder, newest).stamp } : null,
    }
  }),

  /** The frame before the newest so many, by its key: what comes after it is looked at. Null where nothing lies before. */
  before: call
    .input(z.object({ folder: frameFolder, back: z.int().min(0).max(8) }))
    .query(async ({ input }) => {
      const frames = await framesInOrder(input.folder)
      if (frames.length < input.back) {
        throw new Refusal(
          'too-few-frames',
          `Only ${frames.length} frames lie in this folder. Shoot ${input.back}, or choose fewer.`,
          { field: 'folder' },
        )
      }
      return { after: frames.at(-1 - input.back)?.key ?? null }
    }),

  /** Whether the backdrop of a frame can be lifted to the client's white by exposure. */
  white: call
    .input(OneFrame.extend({ whiteCode: z.int().min(1).max(255) }))
    .query(async ({ input: { folder, key, whiteCode } }) => {
      const frame = newestFrame(await framesInOrder(folder), key)
      return askAid({ ask: 'white', frame: aidFrame(folder, frame), whiteCode })
    }),
})

/** What the longer side of the picture spans at the axis, in mm; null where the rig's sensor is not written down. */
function scaleOf(db: Db, stand: z.output<typeof Stand>, rig: RigRevision): number | null {
  const { sensorWidthUm, sensorHeightUm } = rig
  if (sensorWidthUm === null || sensorHeightUm === null) return null
  const row =
    stand.settingsId === null
      ? undefined
      : rowsToTurn(db, stand.shootId, rig.id, stand.settingsId).find((one) => one.row === stand.row)
  return longSideAtAxisMm({
    focalMm: rig.focalUm / 1000,
    sensorWidthMm: sensorWidthUm / 1000,
    sensorHeightMm: sensorHeightUm / 1000,
    cameraDistanceMm: (row?.cameraDistanceUm ?? rig.cameraDistanceUm) / 1000,
    cameraTiltDeg: (row?.viewAngleMdeg ?? rig.cameraTiltMdeg) / 1000,
  })
}

/** The approved take that the spin is to match, and its own picture, where one was kept. */
function lastTimeOf(db: Db, shootId: z.output<typeof Stand>['shootId'], now: string) {
  const lastTime = lastTimesOf(db, [shootId], now)[0]?.lastTime
  if (!lastTime) return null
  const { takeId, takeNumber, jobId, spin, jobNumber, startPose, from } = lastTime
  return {
    takeId,
    takeNumber,
    jobId,
    spin,
    jobNumber,
    startPose,
    from,
    pictureSha256: ownPictureOfTake(db, takeId) ?? null,
  }
}
