import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { inOneTransaction } from '../../db/statement.ts'
import {
  backToMark,
  pauseTake,
  pressFrame,
  restoreFrame,
  resumeTake,
  voidFrame,
} from '../../db/takeFrames.ts'
import { runningTakes, type TakePage, takePage, takesOfJob, tapeOfTake } from '../../db/takeList.ts'
import { takePlan } from '../../db/takePlan.ts'
import {
  addFault,
  countTake,
  endTake,
  judgeTake,
  type NewTake,
  noteTake,
  removeFault,
  startTake,
  takeAgain,
} from '../../db/takes.ts'
import { watchFolder } from '../../db/takeWatch.ts'
import { mmFromUm10 } from '../trade/length.ts'
import { Refusal } from '../trade/refusal.ts'
import { benchMarks, faultKinds } from '../trade/takes.ts'
import { keysOf, readNamedFolder } from '../work/frameFolder.ts'
import { folderOfNextTake, frameFolder } from './frameFolders.ts'
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

const instant = z.iso.datetime({ precision: 3, error: 'This is not a time. Write it as 14:05.' })

/** Takes: one turn of one row, counted frame by frame. */
export const takeCalls = router({
  running: call.query(({ ctx }) => runningTakes(ctx.db)),

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
    .input(StartInput.extend({ folder: frameFolder.optional() }))
    .mutation(async ({ ctx, input: { folder, ...input } }) => {
      const before = folder === undefined ? [] : keysOf(await readNamedFolder(folder))
      return inOneTransaction(ctx.db, () => {
        const takeId = startTake(ctx, whole(ctx.db, input))
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

  /** One frame, kept before it is answered. The same key again gives the same frame. */
  press: call
    .input(
      OneTake.extend({ pressKey: z.string().min(1).max(64), mark: z.int().min(0).max(100_000).optional() }),
    )
    .mutation(({ ctx, input }) => {
      const pressed = pressFrame(ctx, input)
      const tape = tapeOfTake(ctx.db, input.takeId)
      const marks = marksMm(tape)
      return { ...pressed, nextMark: tape.nextMark, nextMarkMm: marks[tape.nextMark % marks.length] ?? 0 }
    }),

  voidFrame: call.input(OneTake.extend({ frame })).mutation(({ ctx, input }) => {
    voidFrame(ctx, input.takeId, input.frame)
  }),

  restoreFrame: call.input(OneTake.extend({ frame })).mutation(({ ctx, input }) => {
    restoreFrame(ctx, input.takeId, input.frame)
  }),

  /** Marks count from 0, as `press` gives them. */
  back: call.input(OneTake.extend({ mark: z.int().min(0).max(100_000) })).mutation(({ ctx, input }) => {
    backToMark(ctx, input.takeId, input.mark)
  }),

  pause: call.input(OneTake.extend({ reason: maybeText(200) })).mutation(({ ctx, input }) => {
    pauseTake(ctx, input.takeId, input.reason)
  }),

  resume: call.input(OneTake).mutation(({ ctx, input }) => {
    resumeTake(ctx, input.takeId)
  }),

  fault: call
    .input(OneTake.extend({ kind: z.enum(faultKinds), frame: frame.nullable(), note: maybeText(500) }))
    .mutation(({ ctx, input }) => ({ faultId: addFault(ctx, input.takeId, input) })),

  noFault: call.input(z.object({ faultId: idOf('take_fault') })).mutation(({ ctx, input }) => {
    removeFault(ctx, input.faultId)
  }),

  note: call.input(OneTake.extend({ note: maybeText() })).mutation(({ ctx, input }) => {
    noteTake(ctx, input.takeId, input.note)
  }),

  end: call.input(OneTake).mutation(({ ctx, input }) => {
    endTake(ctx, input.takeId)
  }),

  judge: call
    .input(OneTake.extend({ verdict: z.enum(['keep', 'reject']), reason: maybeText(500) }))
    .mutation(({ ctx, input }) => {
      judgeTake(ctx, input.takeId, input.verdict, input.reason)
    }),

  /** Rejects a take, running or ended, and starts the next one at once. */
  again: call.input(OneTake.extend({ reason: text('The reason', 500) })).mutation(async ({ ctx, input }) => {
    const next = await folderOfNextTake(ctx.db, input.takeId)
    return inOneTransaction(ctx.db, () => {
      const takeId = takeAgain(ctx, input.takeId, input.reason)
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
