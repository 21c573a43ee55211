import type { CallAsk, UsualWish } from '../main/trade/callQuote.ts'
import type { BenchPeople } from '../main/trade/pace.ts'
import type { QuoteBasis } from '../main/trade/quote.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Brief, type BriefDraft, briefById, type Deliverable, plainBrief } from './briefs.ts'
import { addClient, findClient, readerOf } from './clients.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { rewriteJobBrief } from './jobBriefs.ts'
import { addJob, jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { studioFigures } from './pace.ts'
import { basisWithoutJob } from './planner.ts'
import { priceListFor } from './prices.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { theStudio } from './studio.ts'
import { listTaxRates, taxRateOfClient } from './taxRates.ts'

/** What a call is answered from: the studio's figures, with a known client that client's list, currency and wishes. */
export function callBasis(
  db: Db,
  clientId: Id<'client'> | null,
  today: string,
): { readonly basis: QuoteBasis; readonly usual: UsualWish } {
  const plain = basisWithoutJob(db, today)
  const people = studioFigures(db).benchPeople
  if (clientId === null) {
    const standard = listTaxRates(db).find(({ isDefault }) => isDefault)
    if (!standard)
      throw new Refusal('no-tax-rate', 'The studio has no default tax rate. Choose one under Studio.')
    return { basis: plain, usual: usualOf(plainBrief, standard.id, people) }
  }
  const client = theClient(db, clientId)
  const { list, notice } = priceListFor(db, clientId, client.currency, today)
  const isOurs = client.currency === plain.currency
  return {
    basis: {
      ...plain,
      currency: client.currency,
      ...readerOf(db, clientId),
      rates: isOurs ? plain.rates : null,
      days: isOurs ? plain.days : null,
      minimumMinor: isOurs ? plain.minimumMinor : 0,
      priceList: list ? { name: list.name, prices: list.prices, breaks: list.breaks } : null,
      priceListNotice: notice ?? null,
    },
    usual: usualOf(briefById(db, client.standingBriefId), taxRateOfClient(db, clientId), people),
  }
}

function theClient(db: Db, clientId: Id<'client'>) {
  const client = findClient(db, clientId)
  if (!client) throw new Refusal('no-client', 'This client is not in the studio.', { field: 'clientId' })
  return client
}

/** Common practice where a brief says nothing, no published source: sets of 24 and six stills. */
const usualFrames = { 'frame set': 24, stills: 6 } as const

function usualOf(
  brief: Pick<Brief, 'rows'> & Pick<BriefDraft, 'deliverables'>,
  taxRateId: number,
  people: BenchPeople,
): UsualWish {
  const framesOf = (kind: 'frame set' | 'stills') =>
    brief.deliverables.find((wanted) => wanted.kind === kind)?.frames ?? usualFrames[kind]
  return {
    rows: brief.rows,
    setFrames: framesOf('frame set'),
    stills: framesOf('stills'),
    taxRateId,
    people,
  }
}

/** What of a call is kept: who called, what was asked, what was told, and when to call back. */
export interface CallToKeep {
  /** A known client, or the name of a new one. */
  readonly client:
    | { readonly clientId: Id<'client'> }
    | { readonly name: string; readonly phone: string | null }
  readonly ask: CallAsk
  readonly title: string
  /** What the caller was told, in words, for whoever calls back. */
  readonly told: string
  readonly callBackDay: string
}

/**
 * Keeps a call as an enquiry: the client where it is new, and a job with what was asked in its brief, what was told
 * in its note, and the day to call back. All of it or nothing.
 */
export function keepCall(
  writing: Writing,
  call: CallToKeep,
): { readonly jobId: Id<'job'>; readonly clientId: Id<'client'>; readonly number: string } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const clientId = 'clientId' in call.client ? call.client.clientId : newClient(writing, call.client)
    theClient(db, clientId)
    const { jobId, number } = addJob(
      writing,
      clientId,
      {
        contactId: null,
        title: call.title,
        orderNumber: null,
        buyerReference: null,
        costCentre: null,
        enquiredDay: null,
        callBackDay: call.callBackDay,
        dueDay: null,
        promiseWorkingDays: null,
        returnByDay: null,
        roundsIncluded: null,
        note: call.told,
      },
      [],
    )
    const brief = briefById(db, jobById(db, jobId).briefId)
    rewriteJobBrief(writing, jobId, {
      ...brief,
      finishClassId: call.ask.finishClassId as Brief['finishClassId'],
      deliverables: call.ask.kinds.map((kind) => wantedOf(kind, brief.deliverables)),
    })
    return { jobId, clientId, number }
  })
}

function newClient(writing: Writing, { name, phone }: { name: string; phone: string | null }): Id<'client'> {
  const studio = theStudio(writing.db)
  const twin = prepared<[string], { name: string }>(
    writing.db,
    'SELECT name FROM client WHERE name = ? COLLATE NOCASE',
  ).get(name)
  if (twin) {
    throw new Refusal(
      'client-name-taken',
      `There is already a client named ${twin.name}. Choose it from the clients, or add the town to the name.`,
      { field: 'name' },
    )
  }
  return addClient(
    writing,
    {
      name,
      trade: null,
      street: null,
      postalCode: null,
      city: null,
      region: null,
      country: studio.country,
      taxNumber: null,
      currency: studio.currency,
      language: studio.locale.startsWith('de') ? 'de' : 'en',
      taxRateId: null,
      paymentDays: null,
      orderNumberNeeded: false,
      referenceNeeded: false,
      costCentreNeeded: false,
      billsMonthly: false,
      filesAfterPayment: false,
      priceListId: null,
      note: null,
    },
    phone === null ? [] : [{ name, role: null, email: null, phone, isMain: true }],
    plainBrief,
  )
}

/** The deliverable as the client always wants it, else as most do. */
function wantedOf(
  kind: Deliverable['kind'],
  wanted: readonly Deliverable[],
): BriefDraft['deliverables'][number] {
  const known = wanted.find((each) => each.kind === kind)
  if (known) return known
  const plain = plainBrief.deliverables.find((each) => each.kind === kind)
  if (plain) return plain
  const [set] = plainBrief.deliverables.filter((each) => each.kind === 'frame set')
  if (!set) throw new Error('The plain brief has no frame set.')
  return { ...set, kind, name: 'still', frames: usualFrames.stills }
}
