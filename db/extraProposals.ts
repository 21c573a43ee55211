import { dayOf, daysBetween } from '../main/trade/calendar.ts'
import { clientFigures } from '../main/trade/paperFigures.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Term, type TermKind, termChargeMinor, termFor } from '../main/trade/terms.ts'
import { paperTexts } from '../main/trade/texts/paperTexts.ts'
import { studioZone } from './calendar.ts'
import { readerOf } from './clients.ts'
import { type Writing, writeEvent } from './events.ts'
import { type ExtraLine, extrasOf, proposeExtra } from './extras.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { billableReshoot, billReshootBy } from './reshootBilling.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { taxRateOfClient } from './taxRates.ts'
import { keepTermCase, listTerms, type TermFact, termFacts } from './terms.ts'

/** At which price a reshoot is proposed: that of its own spin, or the lowest of the order, that of spins that follow. */
export type ReshootPrice = 'own' | 'following'

/** Proposes an extra that bills a reshoot; a person chose to and at which price. Refuses one that is not billable. */
export function proposeReshoot(writing: Writing, reshootId: Id<'reshoot'>, price: ReshootPrice): Id<'extra'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const reshoot = billableReshoot(db, reshootId)
    const { clientId } = jobById(db, reshoot.jobId)
    const text = paperTexts[readerOf(db, clientId).language].extras.reshoot(reshoot.spin)
    const priceMinor = price === 'own' ? reshoot.spinPriceMinor : reshoot.followingPriceMinor
    const extraId = proposeExtra(writing, reshoot.jobId, {
      title: text,
      why: reshoot.reason,
      newDueDay: null,
      lines: [oneLine(db, reshoot.jobId, text, 'C62', priceMinor)],
    })
    billReshootBy(db, reshootId, extraId)
    return extraId
  })
}

/** A fact the terms charge for, with what they would charge and how it stands. */
export interface ChargeableFact extends TermFact {
  readonly term: Term
  /** Calendar days from the change to the day of the block. */
  readonly noticeDays: number
  readonly day: string
  readonly chargeMinor: number
  /** The extra that charges it, where one was proposed. */
  readonly extra: { readonly number: number; readonly state: string } | null
}

/** What the terms allow to charge for a job's bench time, the latest first; nothing is booked by itself. */
export function chargeableFacts(db: Db, jobId: Id<'job'>, now: string): readonly ChargeableFact[] {
  const terms = listTerms(db)
  if (terms.length === 0) return []
  const zone = studioZone(db)
  const extras = extrasOf(db, jobId)
  return termFacts(db, jobId, now).flatMap(({ fromDay, ...fact }) => {
    const day = fromDay ?? dayOf(fact.startsAt, zone)
    const noticeDays = daysBetween(dayOf(fact.at, zone), day)
    const term = termFor(terms, fact.kind, noticeDays)
    if (!term || fact.priceMinor === 0) return []
    const extra = extras.find(({ id }) => id === fact.extraId)
    return [
      {
        ...fact,
        term,
        day,
        noticeDays,
        chargeMinor: termChargeMinor(term, fact.priceMinor),
        extra: extra ? { number: extra.number, state: extra.state } : null,
      },
    ]
  })
}

/** Which fact is meant: a block, what happened to it, and when. */
export interface FactKey {
  readonly jobId: Id<'job'>
  readonly kind: TermKind
  readonly bookingId: Id<'booking'>
  readonly at: string
}

/** Proposes an extra that charges a fact by the studio's terms. Refuses one that is charged or let go already. */
export function proposeCharge(writing: Writing, key: FactKey): Id<'extra'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const fact = openFact(writing, key)
    const { clientId } = jobById(db, key.jobId)
    const reader = readerOf(db, clientId)
    const figures = clientFigures(reader)
    const text = paperTexts[reader.language].terms.charged[fact.kind](
      figures.day(fact.day),
      figures.percent(fact.term.chargePpm),
    )
    const extraId = proposeExtra(writing, key.jobId, {
      title: text,
      why: null,
      newDueDay: null,
      lines: [oneLine(db, key.jobId, text, 'LS', fact.chargeMinor)],
    })
    keepTermCase(db, { ...key, extraId, letGoReason: null })
    return extraId
  })
}

/** Lets a fact go uncharged, with a reason. Refuses one that is charged or let go already. */
export function letChargeGo(writing: Writing, key: FactKey, reason: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const { kind, day } = openFact(writing, key)
    keepTermCase(db, { ...key, extraId: null, letGoReason: reason })
    writeEvent(writing, {
      subject: 'booking',
      subjectId: key.bookingId,
      jobId: key.jobId,
      what: 'charge let go',
      detail: { kind, day, reason },
    })
  })
}

function openFact({ db, now }: Writing, key: FactKey): ChargeableFact {
  const fact = chargeableFacts(db, key.jobId, now).find(
    ({ kind, bookingId, at }) => kind === key.kind && bookingId === key.bookingId && at === key.at,
  )
  if (!fact) {
    throw new Refusal('no-charge', 'The studio’s terms charge nothing here any more. Look at the job again.')
  }
  if (fact.letGoReason !== null || (fact.extra && fact.extra.state !== 'declined')) {
    throw new Refusal(
      'charge-decided',
      'What becomes of this charge is decided already. Look at the job again.',
    )
  }
  return fact
}

function oneLine(
  db: Db,
  jobId: Id<'job'>,
  text: string,
  unit: ExtraLine['unit'],
  priceMinor: number,
): ExtraLine {
  return {
    text,
    quantityMilli: 1000,
    unit,
    priceMinor,
    baseMilli: 1000,
    taxRateId: usualTaxRate(db, jobId),
  }
}

/** The rate of tax that a job's extras start with: the one its accepted quote has. */
export function usualTaxRate(db: Db, jobId: Id<'job'>): Id<'tax_rate'> {
  const row = prepared<[number], { id: Id<'tax_rate'> }>(
    db,
    `SELECT tax_rate_id AS id FROM quote WHERE job_id = ? AND state = 'accepted'`,
  ).get(jobId)
  return row?.id ?? taxRateOfClient(db, jobById(db, jobId).clientId)
}
