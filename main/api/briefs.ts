import * as z from 'zod'
import { finishClasses } from '../../db/briefs.ts'
import { namePattern } from '../trade/names.ts'
import { Refusal } from '../trade/refusal.ts'
import { frameRateNames, isFrameRate } from '../trade/turn/frameRate.ts'
import { mostFramesPerTurn, mostRows, twinRows, twinSentence } from '../trade/turn/rows.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'

const pixels = z
  .int('Pixels are a whole number.')
  .min(16, 'A picture has at least 16 pixels a side.')
  .max(20_000, 'A picture has at most 20,000 pixels a side.')

const DeliverableInput = z
  .object({
    id: idOf('deliverable').optional(),
    kind: z.enum(['loop', 'frame set', 'stills']),
    name: text('The deliverable’s name', 40),
    frames: z
      .int('Frames are a whole number.')
      .min(1, 'A set has at least 1 frame.')
      .max(1440, 'A set has at most 1,440 frames.')
      .nullable(),
    widthPx: pixels,
    heightPx: pixels,
    fpsNum: z.int().positive().nullable(),
    fpsDen: z.int().positive().nullable(),
    dropFrame: z.boolean(),
    fileType: z.enum(['jpg', 'png', 'webp', 'tif', 'mp4', 'mov', 'webm']),
    fileCapBytes: z.int().positive('A file size cap is more than 0.').nullable(),
  })
  .refine((d) => d.kind === 'loop' || d.frames !== null, {
    message: 'Say how many frames the set has.',
    path: ['frames'],
  })
  .refine((d) => (d.kind === 'loop') === (d.fpsNum !== null && d.fpsDen !== null), {
    message: 'A loop has a frame rate; a frame set has none.',
    path: ['fpsNum'],
  })
  .refine((d) => d.fpsNum === null || d.fpsDen === null || isFrameRate(d.fpsNum, d.fpsDen, d.dropFrame), {
    message: `A loop plays at one of these rates: ${frameRateNames.join(', ')}. Choose one of them.`,
    path: ['fpsNum'],
  })
  .refine((d) => (d.kind === 'loop') === ['mp4', 'mov', 'webm'].includes(d.fileType), {
    message: 'A loop is a video file (mp4, mov, webm); a frame set is pictures (jpg, png, webp, tif).',
    path: ['fileType'],
  })

/** The rows of a spin, as a brief asks for them and a quote sets them. */
export const RowsInput = z
  .array(
    z.object({
      viewAngleMdeg: z
        .int('Type in the viewing angle, from -90° to 90°.')
        .min(-90_000, 'A viewing angle lies between -90° and 90°.')
        .max(90_000, 'A viewing angle lies between -90° and 90°.'),
      framesPerTurn: z
        .int('Frames per turn are a whole number. Enter them.')
        .min(2, 'A turn has at least 2 frames.')
        .max(mostFramesPerTurn, 'A turn has at most 1,440 frames.'),
      overlapFrames: z
        .int('Overlap is a whole number of frames, 0 or more.')
        .min(0, 'Overlap is 0 frames or more.')
        .max(mostFramesPerTurn, 'Overlap is at most 1,440 frames.'),
    }),
    'The rows are missing. Enter at least one.',
  )
  .min(1, 'A spin has at least one row.')
  .max(mostRows, `A spin has at most ${mostRows} rows.`)
  .superRefine((rows, { addIssue }) => {
    const twins = twinRows(rows)
    if (twins) addIssue({ code: 'custom', message: twinSentence(twins), path: [twins.row, 'viewAngleMdeg'] })
  })

/** A brief as the page sends it. */
export const BriefInput = z.object({
  whiteCode: z
    .int('White is a whole code.')
    .min(0, 'White is a code from 0 to 255.')
    .max(255, 'White is a code from 0 to 255.')
    .nullable(),
  fillPpm: z
    .int()
    .min(100_000, 'The product fills at least 10 % of the frame.')
    .max(1_000_000, 'The product fills at most 100 % of the frame.')
    .nullable(),
  direction: z.enum(['clockwise', 'anticlockwise']),
  startPose: maybeText(200),
  namePattern: text('The name pattern', 120).superRefine((pattern, { addIssue }) => {
    const sentence = refusalOf(() => namePattern(pattern))
    if (sentence !== undefined) addIssue({ code: 'custom', message: sentence })
  }),
  finishClassId: idOf('finish_class').nullable(),
  yesDays: z
    .int('Days are a whole number.')
    .min(1, 'A yes takes at least 1 day.')
    .max(90, 'A yes is asked for within 90 days at most.')
    .nullable(),
  note: maybeText(),
  rows: RowsInput,
  deliverables: z
    .array(DeliverableInput)
    .min(1, 'Say what is delivered: a loop, a frame set or stills.')
    .max(12, 'A brief asks for at most 12 deliverables.'),
})

/** What the form of a brief offers to choose from. */
export const briefCalls = router({
  finishClasses: call.query(({ ctx }) => finishClasses(ctx.db)),
})

/** Why a value is refused, or undefined where it is not. */
function refusalOf(read: () => unknown): string | undefined {
  try {
    read()
    return undefined
  } catch (error) {
    if (error instanceof Refusal) return error.message
    throw error
  }
}
