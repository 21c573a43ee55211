import * as z from 'zod'
import { changeCheckLimits, checkLimits } from '../../db/checkLimits.ts'
import { contactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import {
  agreeToFinding,
  checkFolders,
  findingAnswers,
  findingOf,
  keptCheck,
  undoFindingAnswer,
  waveOffFinding,
} from '../../db/takeChecks.ts'
import { foldersOfTake } from '../../db/takeFolders.ts'
import { choosePlaying, playingOfTake } from '../../db/takeLoops.ts'
import type { TakeReport } from '../trade/check/report.ts'
import { askForCheck, checkStatus, newestReport, stopCheck } from '../work/takeChecks.ts'
import { frameFolder } from './frameFolders.ts'
import { call, idOf, maybeText, router } from './kit.ts'

const OneTake = z.object({ takeId: idOf('take') })
const OneFinding = OneTake.extend({ key: z.string().min(1).max(200), note: maybeText(500) })

const frameNumber = z.int('A frame is a whole number.').min(1, 'Frames count from 1.').max(100_000)

function limitMev(what: string, most: number) {
  return z
    .int(`The limit of ${what} is missing.`)
    .min(1, `A limit of ${what} is at least 0.001 EV.`)
    .max(most, `A limit of ${what} is at most ${most / 1000} EV.`)
}

const Limits = z.object({
  flickerMev: limitMev('flicker', 1000),
  lightStepMev: limitMev('a step of light', 1000),
  driftMev: limitMev('drift', 2000),
  centreUm: z
    .int('The limit off the axis is missing.')
    .min(50, 'The limit off the axis is at least 0.05 mm.')
    .max(100_000, 'The limit off the axis is at most 100 mm.'),
  marginPpm: z
    .int('The room to the edges is missing.')
    .min(0, 'The room to the edges cannot be below 0 %.')
    .max(250_000, 'The room to the edges is at most 25 % of the picture.'),
})

/** What is wrong with a take, read from its frames. Nothing of it is the take's fault until a person agrees. */
export const takeCheckCalls = router({
  /**
   * Reads the frames of a take and those that arrive, in one folder or in several that it went on in. Without one it reads where the take's own files lie, or
   * where it was read before. A check that runs on the same folders goes on.
   */
  start: call
    .input(OneTake.extend({ folders: z.array(frameFolder).min(1).max(20).nullish() }))
    .mutation(({ ctx, input }) => askForCheck(ctx.db, input.takeId, input.folders ?? null)),

  /** Stops reading; what was found so far is kept. */
  stop: call.input(OneTake).mutation(({ ctx, input }) => {
    stopCheck(ctx.db, input.takeId)
  }),

  /** How the reading stands. */
  status: call.input(OneTake).query(({ ctx, input }) => checkStatus(ctx.db, input.takeId)),

  /** The newest report of a take, what was said of its findings and of how it is played, and its contact strip. */
  report: call.input(OneTake).query(({ ctx: { db }, input: { takeId } }) => {
    const kept = keptCheck(db, takeId)
    const newest = newestReport(db, takeId)
    return {
      report: reportIn(newest) ?? kept?.report ?? null,
      folders: kept?.folders ?? [],
      known: checkFolders(db, takeId, foldersOfTake(db, takeId)),
      checkedAt: kept?.checkedAt ?? null,
      answers: findingAnswers(db, takeId),
      strip: contactStrip(db, takeId) ?? null,
      playing: playingOfTake(db, takeId),
    }
  }),

  /** Makes a finding the take's fault. */
  agree: call.input(OneFinding).mutation(({ ctx, input: { takeId, key, note } }) => {
    const finding = findingOf(reportNow(ctx.db, takeId), key)
    return { faultIds: agreeToFinding(ctx, takeId, finding, note) }
  }),

  /** Lets a finding be heard of no more. */
  waveOff: call.input(OneFinding).mutation(({ ctx, input: { takeId, key, note } }) => {
    waveOffFinding(ctx, takeId, findingOf(reportNow(ctx.db, takeId), key), note)
  }),

  /** Takes back what was said of a finding. */
  undo: call.input(OneFinding.omit({ note: true })).mutation(({ ctx, input: { takeId, key } }) => {
    undoFindingAnswer(ctx, takeId, key)
  }),

  /** Keeps how a take is played where it is looked at: its loop, null as proposed, and which way round. */
  choosePlaying: call
    .input(
      OneTake.extend({
        loop: z.object({ inFrame: frameNumber, outFrame: frameNumber }).nullable(),
        isReversed: z.boolean(),
      }),
    )
    .mutation(({ ctx, input: { takeId, ...playing } }) => choosePlaying(ctx, takeId, playing)),

  /** From where the check finds fault. */
  limits: call.query(({ ctx }) => checkLimits(ctx.db)),

  setLimits: call.input(Limits).mutation(({ ctx, input }) => {
    changeCheckLimits(ctx, input)
  }),
})

function reportNow(db: Db, takeId: Id<'take'>): TakeReport | undefined {
  return reportIn(newestReport(db, takeId)) ?? keptCheck(db, takeId)?.report
}

function reportIn(json: string | undefined): TakeReport | undefined {
  return json === undefined ? undefined : (JSON.parse(json) as TakeReport)
}
