import path from 'node:path'
import * as z from 'zod'
import { attachmentPath } from '../../db/attachments.ts'
import { rowsToTurn, spinToTurn } from '../../db/beforeTake.ts'
import { centreOfSpin } from '../../db/centreChoices.ts'
import { framesOfRow, framesOfTake, ownPictureOfTake, whiteOfSpin } from '../../db/checkAids.ts'
import { checkLimits } from '../../db/checkLimits.ts'
import { contactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import { lastTimeOfRow } from '../../db/lastTime.ts'
import type { Db } from '../../db/open.ts'
import { keepPointerSide, pointerSide } from '../../db/pointerSides.ts'
import { findRevision, type RigRevision } from '../../db/rigRevisions.ts'
import { centreChoices } from '../trade/check/centre/centre.ts'
import { type PointerSide, pointerDeg, type TurnFacts } from '../trade/check/centre/nudge.ts'
import { quickMarks } from '../trade/check/centre/quickCentre.ts'
import { type CameraStand, cameraStandOf, longSideAtAxisMm } from '../trade/check/centre/scale.ts'
import { mmFromUm10 } from '../trade/length.ts'
import { Refusal } from '../trade/refusal.ts'
import { benchMarks } from '../trade/takes.ts'
import { askAid } from '../work/checkAids.ts'
import type { MatchAsk } from '../work/checkAidsWorker.ts'
import { aidFrame, framesAfter, framesInOrder, newestFrame } from '../work/newestFrames.ts'
import { frameFolder } from './frameFolders.ts'
import { call, type InStudio, idOf, router } from './kit.ts'

/** On what a spin is about to be turned. */
const Stand = z.object({
  shootId: idOf('shoot'),
  row: z.int().min(1).max(20),
  rigRevisionId: idOf('rig_revision').nullable(),
  settingsId: idOf('settings').nullable(),
})

/** One frame of a folder by its key; the newest where none is named. */
const OneFrame = z.object({ folder: frameFolder, key: z.string().max(2000).nullable() })

/** Helps before a take and beside it: they look at frames of a folder and say what they see. Kept are the pointer's place and, as `centreChoices`, what stands on the axis. */
export const checkAidCalls = router({
  /** What the helps go by: the platter's marks, the scale of the picture, the product's outline, last time's take. */
  stand: call.input(Stand).query(({ ctx, input }) => {
    const framesPerTurn = framesOfRow(ctx.db, input.shootId, input.row)
    if (framesPerTurn === undefined) throw new Refusal('no-spin', 'This spin is not in the studio.')
    const rig = input.rigRevisionId === null ? undefined : findRevision(ctx.db, input.rigRevisionId)
    const camera = rig ? cameraOf(ctx.db, input, rig) : null
    return {
      framesPerTurn,
      rimMm: rig ? mmFromUm10(rig.rimUm10) : null,
      marksMm: rig ? benchMarks(rig.rimUm10, framesPerTurn, rig.divisionUm10).map(mmFromUm10) : null,
      longSideMm: camera ? longSideAtAxisMm(camera) : null,
      centre: centreOfSpin(ctx.db, input.shootId),
      turns: turnsOf(ctx.db, input.shootId),
      pointer: rig ? pointerSide(ctx.db, { rigRevisionId: rig.id, row: input.row }) : null,
      centreUm: checkLimits(ctx.db).centreUm,
      whiteCode: whiteOfSpin(ctx.db, input.shootId) ?? 255,
      lastTime: lastTimeOf(ctx.db, input, ctx.now),
    }
  }),

  /** Where the pointer stands before the camera of a rig and row: by it the takes there are told which mark to push towards. */
  pointerStands: call
    .input(
      z.object({
        rigRevisionId: idOf('rig_revision'),
        row: z.int().min(1).max(20),
        side: z.enum(Object.keys(pointerDeg) as [PointerSide, ...PointerSide[]]),
      }),
    )
    .mutation(({ ctx, input: { side, ...place } }) => keepPointerSide(ctx, place, side)),

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

  /** How far off the axis the product stands, by the quick frames shot after one, each at its mark. */
  centre: call
    .input(
      Stand.extend({
        folder: frameFolder,
        after: z.string().max(2000).nullable(),
        count: z.int().min(4, 'Four quick frames at least.').max(8, 'Eight quick frames at most.'),
        choice: z.enum(centreChoices),
        longSideMm: z
          .number()
          .min(1, 'A picture spans 1 mm at least.')
          .max(50_000, 'A picture spans 50 m at most.')
          .nullable(),
        pointerBearingDeg: z.number().min(0).max(359),
      }),
    )
    .query(async ({ ctx, input }) => {
      const framesPerTurn = framesOfRow(ctx.db, input.shootId, input.row)
      if (framesPerTurn === undefined) throw new Refusal('no-spin', 'This spin is not in the studio.')
      const marks = quickMarks(framesPerTurn, input.count)
      const frames = framesAfter(await framesInOrder(input.folder), input.after).slice(0, input.count)
      const rig = input.rigRevisionId === null ? undefined : findRevision(ctx.db, input.rigRevisionId)
      return askAid({
        ask: 'centre',
        frames: frames.map((frame) => aidFrame(input.folder, frame)),
        marks: marks.slice(0, frames.length),
        longSideMm: input.longSideMm,
        camera: rig ? cameraOf(ctx.db, input, rig) : null,
        facts: {
          choice: input.choice,
          turns: turnsOf(ctx.db, input.shootId),
          pointerBearingDeg: input.pointerBearingDeg,
          framesPerTurn,
          centreUm: checkLimits(ctx.db).centreUm,
        },
      })
    }),

  /** Whether the backdrop of a frame can be lifted to the client's white by exposure. */
  white: call
    .input(OneFrame.extend({ whiteCode: z.int().min(1).max(255) }))
    .query(async ({ input: { folder, key, whiteCode } }) => {
      const frame = newestFrame(await framesInOrder(folder), key)
      return askAid({ ask: 'white', frame: aidFrame(folder, frame), whiteCode })
    }),

  /** A frame against the approved frame of a take: what differs, and what to move by how much. */
  match: call
    .input(
      OneFrame.extend({
        takeId: idOf('take'),
        longSideMm: z.number().min(1).max(50_000).nullable(),
      }),
    )
    .query(async ({ ctx, input: { folder, key, takeId, longSideMm } }) => {
      const sha256 = ownPictureOfTake(ctx.db, takeId)
      if (sha256 === undefined) {
        throw new Refusal(
          'no-picture',
          'No picture of that take’s frame 1 is kept. Keep one on its page first.',
        )
      }
      const frame = newestFrame(await framesInOrder(folder), key)
      const approved = attachmentPath(ctx.folder, sha256)
      return askAid({
        ask: 'match',
        frame: aidFrame(folder, frame),
        approved: { folder: path.dirname(approved), files: [path.basename(approved)], stamp: '' },
        strip: stripOfTake(ctx, takeId),
        longSideMm,
      })
    }),

  /** The first frame after one, against the last ones up to it; null while it has not come. */
  afterStop: call
    .input(z.object({ folder: frameFolder, after: z.string().max(2000) }))
    .query(async ({ input: { folder, after } }) => {
      const frames = await framesInOrder(folder)
      const [again] = framesAfter(frames, after)
      if (!again) return null
      const last = frames.findIndex(({ key }) => key === after)
      const before = frames.slice(Math.max(0, last + 1 - framesBeforeStop), last + 1)
      return askAid({
        ask: 'after stop',
        frame: aidFrame(folder, again),
        before: before.map((frame) => aidFrame(folder, frame)),
      })
    }),
})

/** So many frames before a stop tell what one step changes. */
const framesBeforeStop = 8

/** Camera and lens as they stand for the row; null where the rig's sensor is not written down. */
function cameraOf(db: Db, stand: z.output<typeof Stand>, rig: RigRevision): CameraStand | null {
  const row =
    stand.settingsId === null
      ? undefined
      : rowsToTurn(db, stand.shootId, rig.id, stand.settingsId).find((one) => one.row === stand.row)
  return cameraStandOf({
    ...rig,
    distanceUm: row?.cameraDistanceUm ?? rig.cameraDistanceUm,
    tiltMdeg: row?.viewAngleMdeg ?? rig.cameraTiltMdeg,
  })
}

/** Which way the platter turns, seen from above, while its marks rise. */
function turnsOf(db: Db, shootId: z.output<typeof Stand>['shootId']): TurnFacts['turns'] {
  return spinToTurn(db, shootId)?.direction === 'anticlockwise' ? 'counter-clockwise' : 'clockwise'
}

/** The contact strip by which the poses of an approved take are known; null where none is kept. */
function stripOfTake({ db, folder }: InStudio, takeId: Id<'take'>): MatchAsk['strip'] {
  const strip = contactStrip(db, takeId)
  const framesPerTurn = framesOfTake(db, takeId)
  if (!strip || framesPerTurn === undefined) return null
  const { sha256, ...sheet } = strip
  return { ...sheet, file: attachmentPath(folder, sha256), framesPerTurn }
}

/** The approved take that the row of the spin is to match, and its own picture, where one was kept. */
function lastTimeOf(db: Db, stand: z.output<typeof Stand>, now: string) {
  const lastTime = lastTimeOfRow(db, stand, now)
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
