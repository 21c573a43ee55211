import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { takesAfter } from '../../db/takeExport.ts'
import { takesCsvPart } from '../papers/takesCsv.ts'
import { addDays, instantAt } from '../trade/calendar.ts'
import { presentOf } from './jobs.ts'
import { call, day, idOf, router } from './kit.ts'

/** Takes of one part: few enough that the studio answers others within 50 ms. */
const atOnce = 500

/** Takes for other programs. */
export const takeExportCalls = router({
  /**
   * The next part of the takes as CSV, and where the one after begins; null after the last. The parts, one after the
   * other, are the file. Days of the studio's calendar, both within.
   */
  csvPart: call
    .input(
      z
        .object({
          jobId: idOf('job').nullable().default(null),
          fromDay: day.nullable().default(null),
          toDay: day.nullable().default(null),
          after: z
            .object({ startedAt: z.iso.datetime({ precision: 3 }), takeId: z.int() })
            .nullable()
            .default(null),
        })
        .refine(({ fromDay, toDay }) => fromDay === null || toDay === null || toDay >= fromDay, {
          message: 'The last day is before the first. Enter that day or a later one.',
          path: ['toDay'],
        }),
    )
    .query(({ ctx, input }) => {
      const zone = studioZone(ctx.db)
      const startOf = (one: string | null) => (one === null ? null : instantAt(one, 0, zone).toISOString())
      const choice = {
        jobId: input.jobId,
        from: startOf(input.fromDay),
        before: startOf(input.toDay === null ? null : addDays(input.toDay, 1)),
      }
      const takes = takesAfter(ctx.db, choice, input.after, atOnce)
      const last = takes.at(-1)
      return {
        csv: takesCsvPart(takes, zone, input.after === null),
        takes: takes.length,
        next: last && takes.length === atOnce ? { startedAt: last.startedAt, takeId: last.takeId } : null,
        fileName: `takes-${presentOf(ctx).today}.csv`,
      }
    }),
})
