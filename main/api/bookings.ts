import * as z from 'zod'
import { makeMove, tryMove } from '../../db/blockMoves.ts'
import { addBookings, cancelBooking, changeBooking, fixBooking } from '../../db/bookingChanges.ts'
import { proposeBlocks } from '../../db/bookingProposal.ts'
import { type BlockDraft, bookingsOfJob, findBooking, setChangeBefore } from '../../db/bookings.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, type InStudio, idOf, maybeText, router } from './kit.ts'

const minute = z.int('A time is a whole number of minutes.').min(0).max(1440, 'A day ends at 24:00.')
const shootIds = z.array(idOf('shoot')).max(1000, 'A block holds at most 1,000 spins.')
/** The people whose hands a block takes; left out, it is whoever books it. */
const personIds = z.array(idOf('person')).max(20).optional()

const BlockInput = z
  .object({
    benchId: idOf('bench'),
    kind: z.enum(['spins', 'set change', 'other']).default('spins'),
    day,
    fromMinute: minute,
    toMinute: minute,
    shootIds: shootIds.default([]),
    title: maybeText(120),
    setChangeMinutes: z.int('A set change is a whole number of minutes.').min(0).max(1440).default(0),
    personIds,
    isFixed: z.boolean().default(false),
    overruledReason: maybeText(300),
  })
  .refine(({ fromMinute, toMinute }) => toMinute > fromMinute, {
    message: 'The block ends before it starts. Enter a later end.',
    path: ['toMinute'],
  })

const bookingId = idOf('booking')

const MoveInput = z.object({
  bookingId,
  benchId: idOf('bench'),
  day,
  fromMinute: minute,
  /** True where what follows on the day it leaves moves up into its place. */
  closesUp: z.boolean().default(false),
})

/** Blocks on the benches. Times are the studio's clock: a day and minutes since its midnight. */
export const bookingCalls = router({
  /** One block, with the minutes of the set change that goes with it. */
  one: call.input(z.object({ bookingId })).query(({ ctx, input }) => {
    const booking = findBooking(ctx.db, input.bookingId)
    if (!booking) throw new Refusal('no-booking', 'This block is not booked any more.')
    const setChange = setChangeBefore(ctx.db, booking)
    const setChangeMs = setChange ? Date.parse(booking.startsAt) - Date.parse(setChange.startsAt) : 0
    return { ...booking, setChangeMinutes: setChangeMs / 60_000 }
  }),

  ofJob: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => bookingsOfJob(ctx.db, input.jobId)),

  /** Blocks that would hold the spins from the first free time on; nothing is booked. */
  propose: call
    .input(
      z.object({
        benchId: idOf('bench'),
        shootIds: shootIds.min(1, 'No spin is chosen. Choose at least one.'),
        fromDay: day,
        fromMinute: minute.nullable().default(null),
        personIds,
      }),
    )
    .query(({ ctx, input }) =>
      proposeBlocks(ctx.db, { ...input, personIds: input.personIds ?? [ctx.who.personId] }, ctx.now),
    ),

  /** Books blocks: all of them or none. */
  add: call
    .input(z.object({ blocks: z.array(BlockInput).min(1, 'There is no block to book.').max(200) }))
    .mutation(({ ctx, input }) => ({
      bookingIds: addBookings(
        ctx,
        input.blocks.map((block) => draftOf(ctx, block)),
      ),
    })),

  change: call
    .input(z.object({ bookingId, block: BlockInput }))
    .mutation(({ ctx, input }) => changeBooking(ctx, input.bookingId, draftOf(ctx, input.block))),

  /** Moves a block at once, by the same rules, and tells what moved along. */
  move: call
    .input(MoveInput.extend({ overruledReason: maybeText(300) }))
    .mutation(({ ctx, input: { overruledReason, ...ask } }) => makeMove(ctx, ask, null, overruledReason)),

  /** What moving a block would do to everything else; nothing is kept. */
  tryMove: call.input(MoveInput).query(({ ctx, input }) => tryMove(ctx, input)),

  /**
   * Moves a block and all that must move along, as `tryMove` showed it.
   * Refuses where the effect is no longer the one that was seen.
   */
  makeMove: call
    .input(MoveInput.extend({ seen: z.string().max(64), overruledReason: maybeText(300) }))
    .mutation(({ ctx, input: { seen, overruledReason, ...ask } }) =>
      makeMove(ctx, ask, seen, overruledReason),
    ),

  /** Fixes a block where it is, or lets it move again. */
  fix: call
    .input(z.object({ bookingId, isFixed: z.boolean() }))
    .mutation(({ ctx, input }) => fixBooking(ctx, input.bookingId, input.isFixed)),

  cancel: call
    .input(z.object({ bookingId }))
    .mutation(({ ctx, input }) => cancelBooking(ctx, input.bookingId)),
})

function draftOf(ctx: InStudio, block: z.output<typeof BlockInput>): BlockDraft {
  return {
    ...block,
    title: block.title ?? null,
    overruledReason: block.overruledReason ?? null,
    personIds: block.personIds ?? [ctx.who.personId],
  }
}
