import * as z from 'zod'
import { addAbsence, peopleWhoTurn, removeAbsence } from '../../db/absences.ts'
import { backUp, listBackups } from '../../db/backups.ts'
import { studioZone } from '../../db/calendar.ts'
import { listCashRounding, setCashRounding } from '../../db/cashRounding.ts'
import { removeLogo, setLogo, studioLogo } from '../../db/logo.ts'
import { nextNumbers, numberKinds, startNumbers } from '../../db/numbers.ts'
import { addPerson, changePerson, listPeople, markLeft, workAs } from '../../db/people.ts'
import { theStudio } from '../../db/studio.ts'
import { changeStudio, whatFixesCurrency } from '../../db/studioChanges.ts'
import { dayOf } from '../trade/calendar.ts'
import { currencyCodes } from '../trade/currency.ts'
import { checkedBic, checkedIban } from '../trade/payment.ts'
import { logoPicture } from '../work/logoPicture.ts'
import { call, day, idOf, maybeText, router, text } from './kit.ts'

/** A logo of print size is far smaller; what is larger is a photograph or a scan. */
const mostLogoBytes = 5_000_000

const minor = (what: string) =>
  z.int(`${what} is missing. Enter 0 where there is none.`).min(0, `${what} is 0 or more.`)
const percent = (what: string, mostPpm: number) => {
  const sentence = `${what} is between 0 and ${mostPpm / 10_000} %.`
  return z.int(`${what} is missing. Enter 0 where there is none.`).min(0, sentence).max(mostPpm, sentence)
}
const whole = (what: string, least: number, most: number) => {
  const sentence = `${what} is a whole number from ${least} to ${most}.`
  return z.int(sentence).min(least, sentence).max(most, sentence)
}

const StudioInput = z
  .object({
    name: text('The studio’s name'),
    legalName: maybeText(200),
    street: maybeText(200),
    postalCode: maybeText(20),
    city: maybeText(100),
    region: maybeText(100),
    country: z.string().regex(/^[A-Z]{2}$/, 'A country is two letters, as in DE.'),
    email: maybeText(200).refine(
      (address) => address === null || /^\S+@\S+\.\S+$/.test(address),
      'This is no e-mail address. It has an @ and a dot after it, such as desk@studio.example.',
    ),
    phone: maybeText(60),
    taxNumber: maybeText(40),
    companyNumber: maybeText(40),
    iban: maybeText(60),
    bic: maybeText(20),
    currency: z
      .string()
      .refine((code) => currencyCodes.includes(code), 'This is no currency of ISO 4217, such as EUR.'),
    timeZone: z
      .string()
      .refine(isTimeZone, 'This is no time zone of the IANA list. Choose one such as Europe/Berlin.'),
    locale: z.string().refine(isLocale, 'This is no way of writing that is known. Choose one such as en-GB.'),
    paper: z.enum(['A4', 'Letter']),
    quoteValidDays: whole('A quote’s validity in days', 1, 365),
    paymentDays: whole('The days for payment', 0, 365),
    depositPpm: percent('The deposit', 1_000_000),
    yesDays: whole('The days for a client’s yes', 1, 90),
    benchHourMinor: minor('The bench hour'),
    deskHourMinor: minor('The desk hour'),
    secondHourMinor: minor('The hour of a second person'),
    halfDayMinor: minor('The half day'),
    dayMinor: minor('The day'),
    minimumMinor: minor('The smallest order'),
    rushPpm: percent('The surcharge for rush', 5_000_000),
    roundsIncluded: whole('The rounds of changes included', 0, 20),
    lateInterestPpm: percent('The interest on late payment', 1_000_000),
    lateFeeMinor: minor('The fee for late payment'),
    terms: maybeText(8000),
  })
  .partial()

const PersonInput = z.object({
  name: text('The person’s name', 120),
  role: maybeText(120),
  hourMinor: minor('The hour'),
  turns: z.boolean(),
})

const personId = idOf('person')

const AbsenceInput = z
  .object({ personId, fromDay: day, toDay: day, reason: maybeText(200) })
  .refine(({ fromDay, toDay }) => toDay >= fromDay, {
    message: 'The absence ends before it begins. Change one of the days.',
    path: ['toDay'],
  })

/** The studio itself: who it is and on what terms it works, its people, its numbers, its backups. */
export const studioCalls = router({
  one: call.query(({ ctx }) => ({
    studio: theStudio(ctx.db),
    /** Where money has been written in the studio's currency, or null while it may be changed. */
    currencyFixedBy: whatFixesCurrency(ctx.db) ?? null,
    folder: ctx.folder,
  })),

  /** Changes what is given and leaves the rest. */
  change: call.input(StudioInput).mutation(({ ctx, input }) => {
    changeStudio(ctx, {
      ...input,
      ...(input.iban ? { iban: checkedIban(input.iban) } : {}),
      ...(input.bic ? { bic: checkedBic(input.bic) } : {}),
    })
  }),

  /** The logo on papers written from now on, or null. */
  logo: call.query(({ ctx }) => studioLogo(ctx.db) ?? null),

  /** Keeps a PNG, JPEG or WebP of up to 5 MB as the logo, made ready for print; the bytes say what it is. */
  setLogo: call
    .input(
      z.object({
        name: text('The picture’s name'),
        base64: z
          .base64('The logo could not be read. Pick the file again.')
          .max(Math.ceil(mostLogoBytes / 3) * 4, 'The logo is over 5 MB. Save it smaller, as a PNG.'),
      }),
    )
    .mutation(async ({ ctx, input }) => {
      const png = await logoPicture(Buffer.from(input.base64, 'base64'), input.name)
      setLogo(ctx, png, input.name)
    }),

  removeLogo: call.mutation(({ ctx }) => removeLogo(ctx)),

  people: call.query(({ ctx }) => ({
    people: listPeople(ctx.db, dayOf(ctx.now, studioZone(ctx.db))),
    worksHere: ctx.who.personId,
  })),

  addPerson: call.input(PersonInput).mutation(({ ctx, input }) => ({ personId: addPerson(ctx, input) })),

  changePerson: call.input(PersonInput.extend({ personId })).mutation(({ ctx, input }) => {
    const { personId: id, ...person } = input
    changePerson(ctx, id, person)
  }),

  markLeft: call.input(z.object({ personId, left: z.boolean() })).mutation(({ ctx, input }) => {
    markLeft(ctx, input.personId, input.left)
  }),

  /** People who turn and have not left, for a choice. */
  turners: call.query(({ ctx }) => peopleWhoTurn(ctx.db)),

  addAbsence: call.input(AbsenceInput).mutation(({ ctx, input }) => addAbsence(ctx, input)),

  removeAbsence: call.input(z.object({ absenceId: idOf('person_absence') })).mutation(({ ctx, input }) => {
    removeAbsence(ctx, input.absenceId)
  }),

  /** Says who works at the asking device from now on. */
  workAs: call.input(z.object({ personId })).mutation(({ ctx, input }) => {
    workAs(ctx, input.personId)
  }),

  numbers: call.query(({ ctx }) => {
    const year = Number(dayOf(ctx.now, studioZone(ctx.db)).slice(0, 4))
    return { year, next: nextNumbers(ctx.db, year) }
  }),

  /** Which number a series gives first this year, before it has given any. */
  startNumbers: call
    .input(z.object({ kind: z.enum(numberKinds), first: z.int('A series starts with a whole number.') }))
    .mutation(({ ctx, input }) => {
      const year = Number(dayOf(ctx.now, studioZone(ctx.db)).slice(0, 4))
      startNumbers(ctx, input.kind, year, input.first)
    }),

  cashRounding: call.query(({ ctx }) => listCashRounding(ctx.db)),

  /** To what the amount due is rounded in a currency; null ends it. */
  setCashRounding: call
    .input(
      z.object({
        currency: z
          .string()
          .refine((code) => currencyCodes.includes(code), 'This is no currency of ISO 4217, such as CHF.'),
        stepMinor: z
          .int('The smallest coin is missing. Type its amount in.')
          .min(
            2,
            'The smallest coin is larger than the smallest unit of the currency. Type its amount in, such as 0.05.',
          )
          .max(100_000, 'This is too large for a coin.')
          .nullable(),
      }),
    )
    .mutation(({ ctx, input }) => setCashRounding(ctx, input.currency, input.stepMinor)),

  backups: call.query(({ ctx }) => listBackups(ctx.folder)),

  backUp: call.mutation(({ ctx }) => backUp(ctx, ctx.folder)),
})

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone })
    return true
  } catch {
    return false
  }
}

function isLocale(locale: string): boolean {
  try {
    return Intl.NumberFormat.supportedLocalesOf(locale).length === 1
  } catch {
    return false
  }
}
