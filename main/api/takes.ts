import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'

import { inOneTransaction } from '../../db/statement.ts'
import { actOnTake } from '../../db/takeActs.ts'
import { countByBeat } from '../../db/takeFrames.ts'
import { holdOf, holdTake, letActsGo } from '../../db/takeHolds.ts'
import { paceOfTake } from '../../db/takeLessons.ts'
import { runningTakes, type TakePage, takePage, takesOfJob } from '../../db/takeList.ts'

import { takePlan } from '../../db/takePlan.ts'
import {
  addFault,
  countTake,
  judgeTake,
  type NewTake,
  noteTake,
  removeFault,
  startTake,
  takeAgain,
} from '../../db/takes.ts'

import { watchFolder } from '../../db/takeWatch.ts'
import type { BenchAct } from '../trade/benchActs.ts'

import { mmFromUm10 } from '../trade/length.ts'
import { Refusal } from '../trade/refusal.ts'
import { benchMarks, faultKinds } from '../trade/takes.ts'
import { keysOf, readNamedFolder } from '../work/frameFolder.ts'
import { askForStrip } from '../work/takeChecks.ts'
import { folderOfNextTake, frameFolder, framesRead, ReadFrames } from './frameFolders.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'

const takeId = idOf('take')
const OneTake = z.object({ takeId })
const frame = z.int('A frame is a whole number.').min(1, 'Frames count from 1.').max(100_000)

export const StartInput = z.object({
  shootId: idOf('shoot'),
  row: z.int().min(1).max(20).optional(),
  rigRevisionId: idOf('rig_revision').optional(),
  settingsId: idOf('settings').optional(),
  benchId: idOf('bench').optional(),
  framesPerTurn: z
    .int('Frames are a whole number.')
    .min(2, 'A turn has at least 2 frames.')
    .max(1440, 'A turn has at most 1,440 frames.')
    .optional(),
  overlapFrames: z.int('Overlap is a whole number of frames.').min(0).max(1440).optional(),
  overruleReason: maybeText(500),
})

/** The most acts that one call carries. */
const mostActs = 50
const mark = z.int('A mark is a whole number.').min(0, 'Marks count from 0.').max(100_000)
const holder = z.object({ key: z.string().min(1).max(64), place: text('The place', 60) })

const Act: z.ZodType<BenchAct> = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('frame'), mark: mark.optional() }),
  z.object({ kind: z.literal('void'), frame }),
  z.object({ kind: z.literal('restore'), frame }),
  z.object({ kind: z.literal('back'), mark }),
  z.object({ kind: z.literal('pause'), reason: maybeText(200) }),
  z.object({ kind: z.literal('resume') }),
  z.object({
    kind: z.literal('fault'),
    fault: z.enum(faultKinds),
    frame: frame.nullable(),
    note: maybeText(500),
    isVoid: z.boolean(),
  }),
  z.object({ kind: z.literal('note'), note: maybeText() }),
  z.object({ kind: z.literal('end') }),
])

const SentAct = z.object({
  key: z.string().min(1).max(64),
  /** How long ago it was done by the device's clock. A year: a tablet found in a drawer. */
  agoMs: z
    .int()
    .min(0)
    .max(366 * 86_400_000),
  act: Act,
})

const instant = z.iso.datetime({ precision: 3, error: 'This is not a time. Write it as 14:05.' })

/** Takes: one turn of one row, counted frame by frame. */
export const takeCalls = router({
  running: call.query(({ ctx }) => runningTakes(ctx.db)),

  /** How a take went along its turn: the pace of each stretch, pauses and faults at their marks. Times in ms. */
  pace: call.input(OneTake).query(({ ctx, input }) => {
    const pace = paceOfTake(ctx.db, input.takeId)
    if (!pace) throw new Refusal('no-take', 'This take is not in the studio.')
    return pace
  }),

  /** A take with its frames and the tape's readings, in mm, for each frame of the turn. */
  one: call.input(OneTake).query(({ ctx, input }) => {
    const page = pageOf(ctx.db, input.takeId)
    return { ...page, marksMm: marksMm({ ...page, framesPerTurn: page.take.framesPerTurn }) }
  }),

  ofJob: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => takesOfJob(ctx.db, input.jobId)),

  /** What a take of this spin would start with. */
  plan: call
    .input(z.object({ shootId: idOf('shoot') }))
    .query(({ ctx, input }) => planOf(ctx.db, input.shootId)),

  /** Where a folder is named, the take is counted by the files that arrive in it. */
  start: call
    .input(StartInput.extend({ folder: frameFolder.optional(), holder: holder.optional() }))
    .mutation(async ({ ctx, input: { folder, holder, ...input } }) => {
      const before = folder === undefined ? [] : keysOf(await readNamedFolder(folder))
      return inOneTransaction(ctx.db, () => {
        const takeId = startTake(ctx, whole(ctx.db, input), holder)
        if (folder !== undefined) watchFolder(ctx, takeId, folder, before)
        return { takeId }
      })
    }),

  /** Frames counted afterwards: so many from one instant to another. */
  count: call
    .input(StartInput.extend({ framesShot: frame, startedAt: instant, endedAt: instant }))
    .mutation(({ ctx, input }) => {
      const { framesShot, startedAt, endedAt } = input
      return { takeId: countTake(ctx, { ...whole(ctx.db, input), framesShot, startedAt, endedAt }) }
    }),

  /** Frames counted afterwards by the files that were read from a folder, each with its own time. */
  countFiles: call
    .input(StartInput.extend({ files: ReadFrames }))
    .mutation(({ ctx, input: { files, ...input } }) => ({
      takeId: countTake(ctx, { ...whole(ctx.db, input), ...framesRead(ctx, files) }),
    })),

  /** Puts a running take into the hands of a device; one that another has, only to take it over. */
  hold: call.input(OneTake.extend({ holder, takeOver: z.boolean() })).mutation(({ ctx, input }) => {
    holdTake(ctx, input.takeId, input.holder, input.takeOver)
    return { hold: holdOf(ctx.db, input.takeId) ?? null }
  }),

  /**
   * Acts at the bench in their order, each kept before it is answered and done once, however often it is sent.
   * An act that is refused is answered with its sentence; those after it are done all the same.
   */
  act: call
    .input(
      OneTake.extend({
        /** The start of the take: a device may still keep acts for a take of another studio. */
        startedAt: instant.optional(),
        holder,
        /** When the device sent them, by the studio's clock as the device knows it. */
        sentMs: z.int().optional(),
        acts: z.array(SentAct).min(1).max(mostActs),
      }),
    )
    .mutation(({ ctx, input }) => ({
      answers: actOnTake(ctx, input, input.acts),
      /** The studio's clock as it answers, in milliseconds since 1970. */
      nowMs: Date.parse(ctx.now),
    })),

  /** Acts that were done here but are not to go into the take: the log tells of them. */
  letGo: call
    .input(OneTake.extend({ place: text('The place', 60), acts: z.int().min(1), frames: z.int().min(0) }))
    .mutation(({ ctx, input }) => {
      letActsGo(ctx, input.takeId, input)
    }),

  fault: call
    .input(OneTake.extend({ kind: z.enum(faultKinds), frame: frame.nullable(), note: maybeText(500) }))
    .mutation(({ ctx, input }) => ({ faultId: addFault(ctx, input.takeId, input) })),

  noFault: call.input(z.object({ faultId: idOf('take_fault') })).mutation(({ ctx, input }) => {
    removeFault(ctx, input.faultId)
  }),

  /** The paced beat counts the frames from here on. */
  byBeat: call.input(OneTake).mutation(({ ctx, input }) => {
    countByBeat(ctx, input.takeId)
  }),

  note: call.input(OneTake.extend({ note: maybeText() })).mutation(({ ctx, input }) => {
    noteTake(ctx, input.takeId, input.note)
  }),

  judge: call
    .input(OneTake.extend({ verdict: z.enum(['keep', 'reject']), reason: maybeText(500) }))
    .mutation(({ ctx, input }) => {
      judgeTake(ctx, input.takeId, input.verdict, input.reason)
      if (input.verdict === 'keep') askForStrip(ctx.db, input.takeId)
    }),

  /** Rejects a take, running or ended, and starts the next one at once. */
  again: call
    .input(OneTake.extend({ reason: text('The reason', 500), holder: holder.optional() }))
    .mutation(async ({ ctx, input }) => {
      const next = await folderOfNextTake(ctx.db, input.takeId)
      return inOneTransaction(ctx.db, () => {
        const takeId = takeAgain(ctx, input.takeId, input.reason, input.holder ?? null)
        if (next) watchFolder(ctx, takeId, next.folder, next.before)
        return { takeId }
      })
    }),
})

function pageOf(db: Db, id: Id<'take'>): TakePage {
  const page = takePage(db, id)
  if (!page) throw new Refusal('no-take', 'This take is not in the studio.')
  return page
}

function marksMm(tape: { rimUm10: number; divisionUm10: number; framesPerTurn: number }): number[] {
  return benchMarks(tape.rimUm10, tape.framesPerTurn, tape.divisionUm10).map(mmFromUm10)
}

function planOf(db: Db, shootId: Id<'shoot'>) {
  const plan = takePlan(db, shootId)
  if (!plan) throw new Refusal('no-spin', 'This spin is not in the studio.')
  return plan
}

/** What was asked for, filled up from the spin's plan. Refuses where neither says on which rig. */
export function whole(db: Db, input: z.output<typeof StartInput>): NewTake {
  const plan = planOf(db, input.shootId)
  const row = input.row ?? plan.row
  const wanted = plan.rows.find((one) => one.row === row)
  const rigRevisionId = input.rigRevisionId ?? plan.rigRevisionId
  const settingsId = input.settingsId ?? plan.settingsId
  const benchId = input.benchId ?? plan.benchId
  if (rigRevisionId === null || settingsId === null) {
    throw new Refusal(
      'no-rig',
      `Nobody has said yet on which rig ${plan.spin} stands. Choose a rig and settings.`,
      {
        field: rigRevisionId === null ? 'rigRevisionId' : 'settingsId',
      },
    )
  }
  if (benchId === null) {
    throw new Refusal('no-bench', 'The studio has no bench. Add one under Studio.', { field: 'benchId' })
  }
  return {
    shootId: input.shootId,
    row,
    rigRevisionId,
    settingsId,
    benchId,
    framesPerTurn: input.framesPerTurn ?? wanted?.framesPerTurn ?? 2,
    overlapFrames: input.overlapFrames ?? wanted?.overlapFrames ?? 0,
    overruleReason: input.overruleReason,
  }
}
