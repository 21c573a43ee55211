import * as z from 'zod'
import { personName } from '../../db/people.ts'
import { findStudio } from '../../db/studio.ts'
import { currencyCodes } from '../trade/currency.ts'
import { anteroomCall, router, text } from './kit.ts'
import { makeStudio, openStudio } from './opening.ts'

const timeZone = z
  .string()
  .refine(isTimeZone, 'This is no time zone of the IANA list. Choose one such as Europe/Berlin.')
const currency = z
  .string()
  .regex(/^[A-Z]{3}$/, 'The currency of your prices is not chosen. Choose it.')
  .refine((code) => currencyCodes.includes(code), 'This is no currency of ISO 4217.')
const country = z.string().regex(/^[A-Z]{2}$/, 'A country is two letters, as in DE.')

const NewStudioInput = z.object({
  name: text('The studio’s name'),
  personName: text('Your name'),
  country,
  currency,
  timeZone,
  locale: z.string().min(2),
  taxName: text('The name of the tax', 60),
  taxRatePpm: z
    .int('The usual rate is missing. Enter 0 where you charge none.')
    .min(0, 'A rate is not below 0 %. Enter 0 where you charge none.')
    .max(1_000_000, 'A rate is not above 100 %. Enter less.'),
})

/** First steps: is a studio open, make one, open the demo. They work before any studio is open. */
export const startCalls = router({
  state: anteroomCall.query(({ ctx }) => {
    const { studio } = ctx.house
    const row = studio && findStudio(studio.db)
    return {
      open: row !== undefined,
      studioName: row?.name ?? null,
      personName: studio ? personName(studio.db, (ctx.who ?? studio.owner).personId) : null,
      isDemo: row?.isDemo ?? false,
      currency: row?.currency ?? null,
      locale: row?.locale ?? null,
      timeZone: row?.timeZone ?? null,
      /** Today in the studio's own time zone, so that every window agrees on what is late. */
      now: ctx.house.options.now().toISOString(),
    }
  }),

  createStudio: anteroomCall.input(NewStudioInput).mutation(({ ctx, input }) => {
    makeStudio(ctx.house, ctx.house.options.studioFolder, { ...input, isDemo: false })
  }),

  openDemo: anteroomCall.mutation(async ({ ctx }) => {
    const { buildDemo, demoFolder } = ctx.house.options
    if (openStudio(ctx.house, demoFolder)) return
    if (!buildDemo) throw new Error('This house was given no demo to build.')
    ctx.house.leave()?.close()
    await buildDemo(demoFolder)
    openStudio(ctx.house, demoFolder)
  }),
})

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone })
    return true
  } catch {
    return false
  }
}
