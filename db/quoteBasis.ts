import type { HourRates } from '../main/trade/cost.ts'
import type { DayPrices } from '../main/trade/dayLines.ts'
import type { DeliverableKind } from '../main/trade/price.ts'
import { type Finish, type ProductSize, sizeClassOf, sweptWidthMm } from '../main/trade/product.ts'
import type { QuoteBasis, QuoteInput, QuoteProduct, QuoteSpin } from '../main/trade/quote.ts'
import type { RowFrames } from '../main/trade/turn/framesToShoot.ts'
import { rowFrames } from '../main/trade/turn/rows.ts'
import type { DeliveredPicture } from '../main/trade/turnLook.ts'
import { briefById, briefRows } from './briefs.ts'
import { readerOf } from './clients.ts'
import { listFinishClasses } from './finishClasses.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import { learnedPace, paceFrom } from './learnedPace.ts'
import type { Db } from './open.ts'
import { sizeLimitsMm, studioFigures } from './pace.ts'
import { priceListFor } from './prices.ts'
import { wholeSetMs } from './spinEstimate.ts'
import { prepared } from './statement.ts'
import { type Studio, theStudio } from './studio.ts'
import { listTaxRates, taxRateOfClient } from './taxRates.ts'

/** Everything the quote of a job is worked out from, as it stands on the day. */
export function quoteBasis(db: Db, jobId: Id<'job'>, today: string): QuoteBasis {
  const job = jobById(db, jobId)
  const studio = theStudio(db)
  const { pace, stepFactors } = learnedPace(db)
  const rigs = plannedRigs(db, jobId)
  const { list, notice } = priceListFor(db, job.clientId, job.currency, today)
  return {
    currency: job.currency,
    ...readerOf(db, job.clientId),
    spins: quoteSpins(db, jobId, job.briefId).map((spin) => ({
      ...spin,
      stepFactor: stepFactors.get(rigs.get(spin.shootId) ?? 0) ?? 1,
    })),
    pace,
    paceFrom: paceFrom(db, [...rigs.values()]),
    setChangeMs: wholeSetMs(pace),
    finishClasses: listFinishClasses(db),
    rates: studio.currency === job.currency ? hourRates(studio) : null,
    priceList: list ? { name: list.name, prices: list.prices, breaks: list.breaks } : null,
    priceListNotice: notice ?? null,
    days: studio.currency === job.currency ? dayPrices(db) : null,
    rushPpm: studio.rushPpm,
    minimumMinor: studio.currency === job.currency ? studio.minimumMinor : 0,
    taxRates: listTaxRates(db),
    plannedCostMinor: studio.currency === job.currency ? plannedCostMinor(db, jobId) : 0,
  }
}

export function hourRates({ benchHourMinor, deskHourMinor, secondHourMinor }: Studio): HourRates {
  return { benchHourMinor, deskHourMinor, secondHourMinor }
}

/** What a day at the bench is sold for, and how long one can be worked: hands and eyes tire before the bench closes. */
export function dayPrices(db: Db): DayPrices {
  const { halfDayMinor, dayMinor } = theStudio(db)
  return { halfDayMinor, dayMinor, workingDayMs: studioFigures(db).turningCapMinutes * 60_000 }
}

/** Where the first quote of a job starts: the rows its brief asks for, the studio's deposit, the client's rate. */
export function startingInput(db: Db, jobId: Id<'job'>): QuoteInput {
  const job = jobById(db, jobId)
  return {
    rows: briefRows(db, job.briefId),
    people: studioFigures(db).benchPeople,
    soldBy: 'list',
    halfDays: null,
    discountPpm: 0,
    isRush: false,
    depositPpm: theStudio(db).depositPpm,
    taxRateId: taxRateOfClient(db, job.clientId),
    byHand: null,
    fees: [],
  }
}

/** The fill of a picture where a brief asks for none. Common practice, no published source. */
const usualFillPpm = 850_000

/** The largest moving picture that a job delivers, else its largest; null where nothing is to be delivered. */
export function deliveredPicture(db: Db, jobId: Id<'job'>): DeliveredPicture | null {
  const { deliverables, fillPpm } = briefById(db, jobById(db, jobId).briefId)
  const loops = deliverables.filter(({ kind }) => kind === 'loop')
  const widths = (loops.length > 0 ? loops : deliverables).map(({ widthPx }) => widthPx)
  if (widths.length === 0) return null
  return { widthPx: Math.max(...widths), fillPpm: fillPpm ?? usualFillPpm }
}

/** The platter that turns first in the studio, so that a quote starts on a real rim; null while there is none. */
export function usualRimUm10(db: Db): number | null {
  const row = prepared<[], { rimUm10: number }>(
    db,
    'SELECT rim_um10 AS rimUm10 FROM platter WHERE gone_at IS NULL ORDER BY id LIMIT 1',
  ).get()
  return row?.rimUm10 ?? null
}

function plannedCostMinor(db: Db, jobId: Id<'job'>): number {
  const row = prepared<[number], { minor: number }>(
    db,
    `SELECT ifnull(sum(ifnull(planned_minor, actual_minor)), 0) AS minor FROM job_cost
     WHERE job_id = ? AND currency = (SELECT currency FROM job WHERE id = job_cost.job_id)`,
  ).get(jobId)
  return row?.minor ?? 0
}

/** The spins that are not cancelled, in the job's order, which decides who is first of a family. */
function quoteSpins(db: Db, jobId: Id<'job'>, jobBriefId: Id<'brief'>): readonly QuoteSpin[] {
  const shoots = prepared<[number], { shootId: number; briefId: Id<'brief'> | null }>(
    db,
    `SELECT id AS shootId, brief_id AS briefId FROM shoot WHERE job_id = ? AND cancelled_at IS NULL ORDER BY position`,
  ).all(jobId)
  const wishOf = wishes(db)
  const products = quoteProducts(db, jobId)
  return shoots.map(({ shootId, briefId }) => {
    const { rows, ...wish } = wishOf(briefId ?? jobBriefId)
    return {
      shootId,
      products: products.get(shootId) ?? [],
      ownRows: briefId === null ? null : rows,
      ...wish,
    }
  })
}

/** The rig of each spin that has one planned. */
function plannedRigs(db: Db, jobId: Id<'job'>): ReadonlyMap<number, number> {
  const rows = prepared<[number], { shootId: number; rigId: number }>(
    db,
    `SELECT shoot.id AS shootId, v.rig_id AS rigId FROM shoot JOIN rig_revision v ON v.id = shoot.rig_revision_id
     WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL`,
  ).all(jobId)
  return new Map(rows.map(({ shootId, rigId }) => [shootId, rigId]))
}

type Wish = Pick<QuoteSpin, 'finishClassId' | 'deliverables'> & { readonly rows: readonly RowFrames[] }

/** Reads each brief once, however many spins follow it. */
function wishes(db: Db): (briefId: Id<'brief'>) => Wish {
  const known = new Map<number, Wish>()
  return (briefId) => {
    const before = known.get(briefId)
    if (before) return before
    const brief = briefById(db, briefId)
    const wish: Wish = {
      finishClassId: brief.finishClassId,
      deliverables: brief.deliverables.map(
        ({ kind, frames }): { kind: DeliverableKind; frames: number | null } => ({
          kind,
          frames: kind === 'loop' ? null : frames,
        }),
      ),
      rows: rowFrames(brief.rows),
    }
    known.set(briefId, wish)
    return wish
  }
}

interface ProductRow extends ProductSize {
  readonly shootId: number
  readonly familyId: number | null
  readonly finish: Finish
}

function quoteProducts(db: Db, jobId: Id<'job'>): ReadonlyMap<number, readonly QuoteProduct[]> {
  const rows = prepared<[number], ProductRow>(
    db,
    `SELECT s.id AS shootId, p.family_id AS familyId, p.finish, p.plan, p.width_um / 1000.0 AS widthMm,
       p.depth_um / 1000.0 AS depthMm, p.height_um / 1000.0 AS heightMm, p.swept_um / 1000.0 AS sweptMm
     FROM shoot s JOIN shoot_product sp ON sp.shoot_id = s.id JOIN product p ON p.id = sp.product_id
     WHERE s.job_id = ? AND s.cancelled_at IS NULL ORDER BY s.position, sp.position`,
  ).all(jobId)
  const { smallMaxMm, mediumMaxMm } = sizeLimitsMm(db)
  const familiesSeen = new Set<number>()
  const bySpin = new Map<number, readonly QuoteProduct[]>()
  for (const [shootId, products] of grouped(rows, (row) => row.shootId)) {
    bySpin.set(
      shootId,
      products.map((product) => ({
        sizeClass: sizeClassOf(product, smallMaxMm, mediumMaxMm),
        isSizeKnown: sweptWidthMm(product) !== null || product.heightMm !== null,
        finish: product.finish,
        isFirstOfFamily: product.familyId === null || !familiesSeen.has(product.familyId),
      })),
    )
    for (const { familyId } of products) if (familyId !== null) familiesSeen.add(familyId)
  }
  return bySpin
}
