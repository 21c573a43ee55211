import * as z from 'zod'
import { changeCheckLimits, checkLimits } from '../../db/checkLimits.ts'
import { contactStrip } from '../../db/contactStrips.ts'
import {
  agreeToFinding,
  findingAnswers,
  findingOf,
  keptCheck,
  undoFindingAnswer,
  waveOffFinding,
} from '../../db/takeChecks.ts'
import { call, idOf, maybeText, router } from './kit.ts'

const OneTake = z.object({ takeId: idOf('take') })
const OneFinding = OneTake.extend({ key: z.string().min(1).max(200), note: maybeText(500) })

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
  /** The newest report of a take, what was said of its findings, and its contact strip. */
  report: call.input(OneTake).query(({ ctx: { db }, input: { takeId } }) => {
    const check = keptCheck(db, takeId)
    return {
      report: check?.report ?? null,
      folder: check?.folder ?? null,
      checkedAt: check?.checkedAt ?? null,
      answers: findingAnswers(db, takeId),
      strip: contactStrip(db, takeId) ?? null,
    }
  }),

  /** Makes a finding the take's fault. */
  agree: call.input(OneFinding).mutation(({ ctx, input: { takeId, key, note } }) => {
    const finding = findingOf(keptCheck(ctx.db, takeId)?.report, key)
    return { faultIds: agreeToFinding(ctx, takeId, finding, note) }
  }),

  /** Lets a finding be heard of no more. */
  waveOff: call.input(OneFinding).mutation(({ ctx, input: { takeId, key, note } }) => {
    waveOffFinding(ctx, takeId, findingOf(keptCheck(ctx.db, takeId)?.report, key), note)
  }),

  /** Takes back what was said of a finding. */
  undo: call.input(OneFinding.omit({ note: true })).mutation(({ ctx, input: { takeId, key } }) => {
    undoFindingAnswer(ctx, takeId, key)
  }),

  /** From where the check finds fault. */
  limits: call.query(({ ctx }) => checkLimits(ctx.db)),

  setLimits: call.input(Limits).mutation(({ ctx, input }) => {
    changeCheckLimits(ctx, input)
  }),
})
