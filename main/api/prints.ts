import * as z from 'zod'
import { keepFile } from '../../db/attachments.ts'
import { studioZone } from '../../db/calendar.ts'
import type { Id } from '../../db/ids.ts'
import { printMarkTable } from '../papers/markTable.ts'
import { printRimStrip } from '../papers/rimStrip.ts'
import { dayOf } from '../trade/calendar.ts'
import { um10FromMm } from '../trade/length.ts'
import { stripUm10 } from '../trade/turn/rim.ts'
import { checkBarMm, rimStrip, stripCorrection } from '../trade/turn/strip.ts'
import { call, type InStudio, router } from './kit.ts'

const rimMm = z
  .number('The rim is missing. Enter it in mm.')
  .min(100, 'A rim is at least 100 mm. Measure it with its own tape.')
  .max(10_000, 'A rim is at most 10,000 mm. Measure it with its own tape.')
const frames = z
  .int('Frames are a whole number.')
  .min(2, 'A turn has at least 2 frames.')
  .max(1440, 'A turn has at most 1,440 frames.')
const setFrames = z
  .int('Frames of a set are a whole number.')
  .min(1, 'A set has at least 1 frame.')
  .max(1440, 'A set has at most 1,440 frames.')
  .nullable()
const paper = z.enum(['A4', 'Letter'])
const thickness = (what: string) =>
  z.number(`${what} is not a number. Enter it in mm, 0 or more.`).min(0, `${what} is 0 mm or more.`)

const MarkTableInput = z.object({
  rimMm,
  divisionMm: z
    .number('The division is missing. Enter the smallest step the tape can be read to, in mm.')
    .min(0.1, 'A division is at least 0.1 mm.')
    .max(100, 'A division is at most 100 mm.'),
  views: z
    .array(
      z.object({
        viewAngleDeg: z
          .number('A viewing angle lies between -90° and 90°.')
          .min(-90, 'A viewing angle lies between -90° and 90°.')
          .max(90, 'A viewing angle lies between -90° and 90°.')
          .nullable(),
        frames,
        overlap: z
          .int('The overlap is a whole number of frames.')
          .min(0, 'An overlap cannot be below 0.')
          .max(1440, 'An overlap is at most 1,440 frames.'),
      }),
    )
    .min(1, 'At least one row.')
    .max(20, 'At most 20 rows.'),
  paper,
})

const RimStripInput = z.object({
  rimMm,
  tapeMm: thickness('The tape’s thickness'),
  paperMm: thickness('The paper’s thickness'),
  frames,
  setFrames,
  loopFrames: setFrames,
  paper,
  /** What the check bar of the last print measured, and the correction it was printed with; null for a first. */
  lastPrint: z
    .object({
      measuredMm: z.number('What you measured is not a number. Enter it in mm, such as 199.2.'),
      correction: z.number(),
    })
    .nullable(),
})

/** Papers for the bench. Each is kept with the studio's papers; the page opens it by its id. Lengths in mm. */
export const printCalls = router({
  markTable: call.input(MarkTableInput).mutation(({ ctx, input }) => {
    const { views } = input
    const pdf = printMarkTable({
      rimUm10: um10FromMm(input.rimMm, 'The rim'),
      divisionUm10: um10FromMm(input.divisionMm, 'The division'),
      views,
      paper: input.paper,
      writtenAt: startOfDay(ctx),
    })
    return { paperId: keepPrint(ctx, pdf, `Marks ${views[0]?.frames} on ${input.rimMm} mm.pdf`) }
  }),

  /** The strip closes on the rim although it is thinner or thicker than the tape that read it. */
  rimStrip: call.input(RimStripInput).mutation(({ ctx, input }) => {
    const readingUm10 = um10FromMm(input.rimMm, 'The rim')
    const { lastPrint } = input
    const correction = lastPrint === null ? 1 : stripCorrection(lastPrint.measuredMm, lastPrint.correction)
    const strip = rimStrip({
      rimUm10: stripUm10(
        readingUm10,
        um10FromMm(input.tapeMm, 'The tape’s thickness'),
        um10FromMm(input.paperMm, 'The paper’s thickness'),
      ),
      frames: input.frames,
      setFrames: input.setFrames,
      loopFrames: input.loopFrames,
      paper: input.paper,
      marginMm: 10,
      lapMm: 12,
      correction,
    })
    const pdf = printRimStrip(strip, startOfDay(ctx))
    return {
      paperId: keepPrint(ctx, pdf, `Rim strip ${input.frames} on ${input.rimMm} mm.pdf`),
      correction,
      checkBarMm,
      pages: strip.pages,
    }
  }),
})

/** Bytes that are the same are kept once, so a print carries its day and not its second. */
function startOfDay(ctx: InStudio): string {
  return `${dayOf(ctx.now, studioZone(ctx.db))}T00:00:00.000Z`
}

function keepPrint(ctx: InStudio, pdf: Buffer, name: string): Id<'attachment'> {
  return keepFile(ctx, ctx.folder, pdf, name, 'application/pdf')
}
