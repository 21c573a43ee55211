import * as z from 'zod'
import { addFinishClass, changeFinishClass, listFinishClasses } from '../../db/finishClasses.ts'
import { learnedPace, paceFrom } from '../../db/learnedPace.ts'
import { changeFigures, changeHandling, handlingTimes, studioFigures } from '../../db/pace.ts'
import { finishes, sizeClasses } from '../trade/product.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const hours = 3_600_000

function timeMs(what: string, longestMs = 8 * hours) {
  return z
    .int(`${what} is missing. Enter a time.`)
    .min(0, `${what} cannot be below 0.`)
    .max(longestMs, `${what} is longer than ${longestMs / hours} h. Check it.`)
}

function chance(what: string) {
  return z
    .int(`${what} is missing. Enter a percentage.`)
    .min(0, `${what} cannot be below 0 %.`)
    .max(900_000, `${what} is over 90 %. Check it.`)
}

/** One person does everything, or a second one prepares. */
export const benchPeople = z.literal([1, 2], 'One or two people work at the bench. Choose one of them.')

const FiguresInput = z
  .object({
    stepMs: z
      .int('The time per step is missing. Enter it in seconds.')
      .min(500, 'A step takes at least 0.5 s.')
      .max(120_000, 'A step takes at most 120 s.'),
    stepSpreadPpm: z
      .int('The spread is missing.')
      .min(0, 'A spread cannot be below 0.')
      .max(1_000_000, 'A spread is at most 100 %.'),
    checkFrames: z
      .int('Check frames are a whole number.')
      .min(0, 'Check frames cannot be below 0.')
      .max(500, 'At most 500 check frames.'),
    overlapFrames: z
      .int('The overlap is a whole number of frames.')
      .min(0, 'An overlap cannot be below 0.')
      .max(500, 'An overlap is at most 500 frames.'),
    rowChangeMs: timeMs('The time from row to row', 2 * hours),
    restartPpm: chance('The chance of a restart'),
    restartPauseMs: timeMs('The pause after a rejected take', 2 * hours),
    reshootPpm: chance('The chance of a reshoot'),
    changePlatterMs: timeMs('The time to change the platter'),
    changeLightMs: timeMs('The time to move a light'),
    changeCameraMs: timeMs('The time to move the camera'),
    changeLensMs: timeMs('The time to change the lens'),
    changeBackdropMs: timeMs('The time to change the backdrop'),
    changeSettingsMs: timeMs('The time to dial new settings'),
    frameBytes: z
      .int('The size of a frame is missing.')
      .min(1, 'A frame is larger than 0 bytes.')
      .max(1_000_000_000, 'A frame is at most 1 GB.'),
    copyBytesPerSecond: z
      .int('The copying speed is missing.')
      .min(1, 'Copying is faster than 0 bytes a second.')
      .max(100_000_000_000, 'Copying is at most 100 GB a second.'),
    developFrameMs: timeMs('The time to develop a frame', hours),
    pickSpinMs: timeMs('The time to pick a spin'),
    exportFrameMs: timeMs('The time to export a frame', hours),
    handlingSpreadPpm: z
      .int('The spread of handling is missing.')
      .min(0, 'A spread cannot be below 0.')
      .max(1_000_000, 'A spread is at most 100 %.'),
    besidePpm: z
      .int('The part of handling done beside the platter is missing. Enter 0 where there is none.')
      .min(0, 'A part of handling cannot be below 0 %.')
      .max(1_000_000, 'A part of handling is at most 100 %.'),
    benchPeople,
    smallMaxUm: z
      .int('The limit of small products is missing.')
      .min(1, 'The limit of small products is over 0 mm.'),
    mediumMaxUm: z.int('The limit of medium products is missing.').min(1),
    turningCapMinutes: z
      .int('The turning time of a day is missing.')
      .min(30, 'At least 30 minutes of turning a day.')
      .max(1440, 'A day has 24 hours.'),
  })
  .refine(({ smallMaxUm, mediumMaxUm }) => mediumMaxUm > smallMaxUm, {
    message: 'Medium products reach further than small ones. Make the second limit the larger.',
    path: ['mediumMaxUm'],
  })

const HandlingInput = z
  .array(
    z.object({
      sizeClass: z.enum(sizeClasses),
      finish: z.enum(finishes),
      firstMs: timeMs('The handling of the first of a family'),
      followingMs: timeMs('The handling of those that follow'),
    }),
  )
  .min(1)
  .max(sizeClasses.length * finishes.length)

const FinishClassInput = z.object({
  name: text('The finish class’s name', 60),
  inHouse: z.boolean(),
  frameMs: timeMs('The time per frame', 2 * hours),
  frameMinorPer100: z
    .int('The price is missing. Enter the price of 100 frames.')
    .min(0, 'A price cannot be below 0.')
    .max(1_000_000_000, 'This price is too large. Check it.'),
  supplier: maybeText(120),
})

/** The figures the studio estimates with: its step, handling, set changes, desk and finishing. */
export const paceCalls = router({
  /** What the studio's estimates rest on: how many takes, and the day of the last. */
  from: call.query(({ ctx }) => paceFrom(ctx.db, [])),

  figures: call.query(({ ctx }) => {
    const { learned } = learnedPace(ctx.db)
    return { figures: studioFigures(ctx.db), handling: handlingTimes(ctx.db), learned }
  }),

  change: call.input(FiguresInput).mutation(({ ctx, input }) => changeFigures(ctx, input)),

  changeHandling: call.input(HandlingInput).mutation(({ ctx, input }) => changeHandling(ctx, input)),

  finishClasses: call.query(({ ctx }) => listFinishClasses(ctx.db)),

  addFinishClass: call.input(FinishClassInput).mutation(({ ctx, input }) => ({
    finishClassId: namingTwin('finish_class', () => addFinishClass(ctx, input)),
  })),

  changeFinishClass: call
    .input(z.object({ finishClassId: idOf('finish_class'), finishClass: FinishClassInput }))
    .mutation(({ ctx, input }) => {
      namingTwin('finish_class', () => changeFinishClass(ctx, input.finishClassId, input.finishClass))
    }),
})
