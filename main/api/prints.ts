import * as z from 'zod'
import { keepFile } from '../../db/attachments.ts'
import { studioZone } from '../../db/calendar.ts'
import type { Id } from '../../db/ids.ts'
import {
  type Label,
  labelsOf,
  labelsOfJob,
  type Ticket,
  ticketKey,
  ticketSpinsOfJob,
  ticketsOf,
} from '../../db/tickets.ts'
import { type PrintedLabel, printLabels } from '../papers/labels.ts'
import { printMarkTable } from '../papers/markTable.ts'
import { printRebuildSheet } from '../papers/rebuildSheet.ts'
import { printRimStrip } from '../papers/rimStrip.ts'
import { type PrintedTicket, printSlates, printTickets } from '../papers/ticket.ts'
import { dayOf } from '../trade/calendar.ts'
import { um10FromMm } from '../trade/length.ts'
import { shown } from '../trade/measures.ts'
import { safeText } from '../trade/names.ts'
import { nameWithVariant } from '../trade/productName.ts'
import { Refusal } from '../trade/refusal.ts'
import { ticketText } from '../trade/ticketCode.ts'
import { stripUm10 } from '../trade/turn/rim.ts'
import { checkBarMm, rimStrip, stripCorrection } from '../trade/turn/strip.ts'
import { call, type InStudio, idOf, router } from './kit.ts'
import { rebuildSheet } from './rebuild.ts'
import { ShootIds } from './spins.ts'

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

/** Spins by name, or all of a job that are not cancelled. */
const TicketSpins = z.union([z.object({ shootIds: ShootIds }), z.object({ jobId: idOf('job') })])

/** Samples by name, or all of a job that are still needed. */
const LabelSamples = z.union([
  z.object({ sampleIds: z.array(idOf('sample')).min(1, 'Choose at least one sample.').max(2000) }),
  z.object({ jobId: idOf('job') }),
])

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

  /** A rig and what is dialled on it, on one page, for whoever builds it again. */
  rebuildSheet: call
    .input(
      z.object({
        rigRevisionId: idOf('rig_revision'),
        settingsId: idOf('settings').nullable().default(null),
        paper,
      }),
    )
    .mutation(({ ctx, input }) => {
      const sheet = rebuildSheet(ctx, input, startOfDay(ctx))
      return { paperId: keepPrint(ctx, printRebuildSheet(sheet), `Rebuild ${safeText(sheet.title)}.pdf`) }
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

  /** A ticket on A6 for each spin: the sheet that goes with the sample and is a take's first frame. */
  tickets: call.input(z.object({ of: TicketSpins })).mutation(({ ctx, input }) => {
    const tickets = printedTickets(ctx, input.of)
    return {
      paperId: keepPrint(ctx, printTickets(tickets, startOfDay(ctx)), fileName('Ticket', tickets)),
      printed: tickets.length,
    }
  }),

  /** A page for each spin with the code as large as it goes, to stand on the set. */
  slates: call
    .input(z.object({ of: TicketSpins, paper: z.enum(['A4', 'A5']) }))
    .mutation(({ ctx, input }) => {
      const tickets = printedTickets(ctx, input.of)
      const pdf = printSlates(tickets, input.paper, startOfDay(ctx))
      return { paperId: keepPrint(ctx, pdf, fileName('Slate', tickets)), printed: tickets.length }
    }),

  /** Labels for samples, eight to a sheet. */
  labels: call.input(z.object({ of: LabelSamples, paper })).mutation(({ ctx, input }) => {
    const labels =
      'jobId' in input.of ? labelsOfJob(ctx.db, input.of.jobId) : labelsOf(ctx.db, input.of.sampleIds)
    if (labels.length === 0) {
      throw new Refusal('no-labels', 'No sample of this job is needed, so there is no label to print.')
    }
    const key = ticketKey(ctx.db)
    const pdf = printLabels(
      labels.map((label) => printedLabel(label, key)),
      input.paper,
      startOfDay(ctx),
    )
    const [only] = labels.length === 1 ? labels : []
    return {
      paperId: keepPrint(
        ctx,
        pdf,
        only ? `Label ${only.code}.pdf` : `Labels of ${labels.length} samples.pdf`,
      ),
      printed: labels.length,
    }
  }),
})

/** Refuses a cancelled spin that is named; of a whole job they are left out. */
function printedTickets({ db }: InStudio, of: z.output<typeof TicketSpins>): readonly PrintedTicket[] {
  const tickets = ticketsOf(db, 'jobId' in of ? ticketSpinsOfJob(db, of.jobId) : of.shootIds)
  if (tickets.length === 0) {
    throw new Refusal('no-tickets', 'This job has no spin to be turned, so there is no ticket to print.')
  }
  const cancelled = tickets.find(({ isCancelled }) => isCancelled)
  if (cancelled) {
    throw new Refusal(
      'ticket-of-cancelled',
      `${cancelled.name} is cancelled, so nothing is turned to its ticket. Bring it back first, or leave it out.`,
      { field: 'shootIds' },
    )
  }
  const key = ticketKey(db)
  return tickets.map((ticket) => printedTicket(ticket, key))
}

function printedTicket(ticket: Ticket, studioKey: string): PrintedTicket {
  const [only] = ticket.products.length === 1 ? ticket.products : []
  return {
    scanText: ticketText({ studioKey, shootId: ticket.shootId, product: null }),
    codes: ticket.products.map(({ code }) => code),
    name: only && ticket.name === only.name ? nameWithVariant(only.name, only.variant) : ticket.name,
    startPose: ticket.startPose,
    direction: ticket.direction,
    size: only ? shown(only) : null,
    frames: ticket.rows.map(framesLine),
    jobNumber: ticket.jobNumber,
    clientName: ticket.clientName,
  }
}

/** Frames of a row as its ticket says them: `240 frames and 3 more`, with the row where there are several. */
function framesLine(
  { viewAngleMdeg, framesPerTurn, overlapFrames }: Ticket['rows'][number],
  index: number,
  rows: Ticket['rows'],
): string {
  const row = rows.length > 1 ? `row ${index + 1} from ${viewAngleMdeg / 1000}°: ` : ''
  return `${row}${framesPerTurn}\u00a0frames${overlapFrames > 0 ? ` and ${overlapFrames}\u00a0more` : ''}`
}

function printedLabel(label: Label, studioKey: string): PrintedLabel {
  const { code, clientName, jobNumber, place, shootId, product } = label
  return {
    scanText: ticketText({ studioKey, shootId, product }),
    name: nameWithVariant(label.name, label.variant),
    code,
    clientName,
    jobNumber,
    place,
  }
}

function fileName(word: 'Ticket' | 'Slate', tickets: readonly PrintedTicket[]): string {
  const [only] = tickets.length === 1 ? tickets : []
  return only ? `${word} ${only.codes.join(' ')}.pdf` : `${word}s of ${tickets.length} spins.pdf`
}

/** Bytes that are the same are kept once, so a print carries its day and not its second. */
function startOfDay(ctx: InStudio): string {
  return `${dayOf(ctx.now, studioZone(ctx.db))}T00:00:00.000Z`
}

function keepPrint(ctx: InStudio, pdf: Buffer, name: string): Id<'attachment'> {
  return keepFile(ctx, ctx.folder, pdf, name, 'application/pdf')
}
