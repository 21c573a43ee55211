import * as z from 'zod'
import { idOf, maybeText, text } from './kit.ts'

const framesPerTurn = z
  .int('Frames are a whole number.')
  .min(2, 'A turn has at least 2 frames.')
  .max(1440, 'A turn has at most 1,440 frames.')
const pixels = z
  .int('Pixels are a whole number.')
  .min(16, 'A picture has at least 16 pixels a side.')
  .max(20_000, 'A picture has at most 20,000 pixels a side.')

const DeliverableInput = z
  .object({
    id: idOf('deliverable').optional(),
    kind: z.enum(['loop', 'frame set', 'stills']),
    name: text('The deliverable’s name', 40),
    frames: z.int('Frames are a whole number.').min(1, 'A set has at least 1 frame.').max(1440).nullable(),
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
  .refine((d) => (d.kind === 'loop') === ['mp4', 'mov', 'webm'].includes(d.fileType), {
    message: 'A loop is a video file (mp4, mov, webm); a frame set is pictures (jpg, png, webp, tif).',
    path: ['fileType'],
  })

/** A brief as the page sends it. */
export const BriefInput = z.object({
  whiteCode: z.int().min(0).max(255, 'White is a code from 0 to 255.').nullable(),
  fillPpm: z.int().min(100_000, 'The product fills at least 10 % of the frame.').max(1_000_000).nullable(),
  direction: z.enum(['clockwise', 'anticlockwise']),
  startPose: maybeText(200),
  namePattern: text('The name pattern', 120),
  finishClassId: idOf('finish_class').nullable(),
  yesDays: z.int().min(1).max(90, 'A yes is asked for within 90 days at most.').nullable(),
  note: maybeText(),
  rows: z
    .array(
      z.object({
        viewAngleMdeg: z.int().min(-90_000).max(90_000, 'A viewing angle lies between -90° and 90°.'),
        framesPerTurn,
        overlapFrames: z.int().min(0, 'Overlap is 0 frames or more.').max(1440),
      }),
    )
    .min(1, 'A spin has at least one row.')
    .max(20, 'A spin has at most 20 rows.'),
  deliverables: z
    .array(DeliverableInput)
    .min(1, 'Say what is delivered: a loop, a frame set or stills.')
    .max(12),
})
