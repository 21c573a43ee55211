import * as z from 'zod'
import { answerByDay, answerItems, clientOfJob, showToClient, withdrawAnswer } from '../../db/answers.ts'
import { studioZone } from '../../db/calendar.ts'
import { contactsOf } from '../../db/clients.ts'
import { pickableTakes, roundsOfJob, wantedItems } from '../../db/wantedItems.ts'
import { dayOf, instantAt } from '../trade/calendar.ts'
import { askForStripsOfPicked } from '../work/takeChecks.ts'
import { call, day, type InStudio, idOf, maybeText, router } from './kit.ts'

const items = z
  .array(z.object({ shootId: idOf('shoot'), deliverableId: idOf('deliverable') }))
  .min(1, 'Choose what it is about.')
  .max(3000)
  .readonly()
const contactId = idOf('contact').nullable().default(null)

const Answered = z.object({ items, contactId, words: maybeText(), answeredDay: day.nullable().default(null) })
const AnswerInput = z.discriminatedUnion('verdict', [
  Answered.extend({ verdict: z.literal('yes') }),
  Answered.extend({
    verdict: z.literal('change'),
    needs: z.enum(['reshoot', 'rework'], 'Say whether it needs a reshoot or a rework.'),
    cause: z.enum(['ours', "client's wish", 'sample', 'carrier'], 'Say who or what caused the change.'),
  }),
])

/** What is shown to the client, and the client's yes. */
export const answerCalls = router({
  /** Every deliverable of every spin of a job, what can be picked for it, and whom to ask. */
  ofJob: call.input(z.object({ jobId: idOf('job') })).query(({ ctx, input }) => ({
    items: wantedItems(ctx.db, input.jobId),
    takes: pickableTakes(ctx.db, input.jobId),
    rounds: roundsOfJob(ctx.db, input.jobId),
    answerByDay: answerByDay(ctx.db, input.jobId, ctx.now),
    contacts: contactsOf(ctx.db, clientOfJob(ctx.db, input.jobId)),
  })),

  show: call
    .input(
      z.object({
        jobId: idOf('job'),
        items,
        contactId,
        answerByDay: day.nullable().default(null),
        note: maybeText(),
      }),
    )
    .mutation(({ ctx, input }) => ({ showingId: showToClient(ctx, input) })),

  answer: call.input(AnswerInput).mutation(({ ctx, input }) => {
    answerItems(ctx, { ...input, answeredAt: answeredAt(ctx, input.answeredDay) })
    if (input.verdict === 'yes') {
      askForStripsOfPicked(
        ctx.db,
        input.items.map(({ shootId }) => shootId),
      )
    }
  }),

  withdraw: call.input(z.object({ answerId: idOf('answer') })).mutation(({ ctx, input }) => {
    withdrawAnswer(ctx, input.answerId)
  }),
})

/** Today's answer is of now; of an earlier day nobody wrote down the hour, so it stands at noon. */
function answeredAt({ db, now }: InStudio, answeredDay: string | null): string {
  const zone = studioZone(db)
  return answeredDay === null || answeredDay === dayOf(now, zone)
    ? now
    : instantAt(answeredDay, 12 * 60, zone).toISOString()
}
