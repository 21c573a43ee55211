import { sweptWidthMm } from '../main/trade/product.ts'
import type { QuoteBasis } from '../main/trade/quote.ts'
import { type Brief, briefById } from './briefs.ts'
import { listFinishClasses } from './finishClasses.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import { learnedPace, paceFrom } from './learnedPace.ts'
import type { Db } from './open.ts'
import { standardPriceList } from './prices.ts'
import { dayPrices, hourRates } from './quoteBasis.ts'
import { findRevision, type RigRevision } from './rigRevisions.ts'
import { wholeSetMs } from './spinEstimate.ts'
import { prepared } from './statement.ts'
import { theStudio } from './studio.ts'
import { listTaxRates } from './taxRates.ts'

/** What a turn costs where no job is asked about: the studio's own figures and standard prices, and no spins. */
export function basisWithoutJob(db: Db, today: string): QuoteBasis {
  const studio = theStudio(db)
  const { pace } = learnedPace(db)
  const list = standardPriceList(db, studio.currency, today)
  return {
    currency: studio.currency,
    language: 'en',
    country: studio.country,
    spins: [],
    pace,
    paceFrom: paceFrom(db, []),
    setChangeMs: wholeSetMs(pace),
    finishClasses: listFinishClasses(db),
    rates: hourRates(studio),
    priceList: list ? { name: list.name, prices: list.prices, breaks: list.breaks } : null,
    priceListNotice: null,
    days: dayPrices(db),
    rushPpm: studio.rushPpm,
    minimumMinor: studio.minimumMinor,
    taxRates: listTaxRates(db),
    plannedCostMinor: 0,
  }
}

/** The product that a job's picture is planned by. */
export interface PlannedProduct {
  readonly code: string
  readonly name: string
  /** Twice its farthest point from the axis. */
  readonly sweptMm: number
  readonly heightMm: number | null
}

/** What a job brings to the planner. */
export interface JobForPlanner {
  readonly number: string
  readonly title: string
  readonly brief: Pick<Brief, 'rows' | 'deliverables' | 'direction'>
  /** Of the job's products of known size the one that sweeps widest; null while none is measured. */
  readonly largest: PlannedProduct | null
  /** The rig most of its spins are planned on; null while none is. */
  readonly rig: RigRevision | null
}

/** Refuses a job that is not in the studio. */
export function jobForPlanner(db: Db, jobId: Id<'job'>): JobForPlanner {
  const job = jobById(db, jobId)
  const { rows, deliverables, direction } = briefById(db, job.briefId)
  return {
    number: job.number,
    title: job.title,
    brief: { rows, deliverables, direction },
    largest: largestProduct(db, jobId),
    rig: mostPlannedRig(db, jobId),
  }
}

interface SizedRow {
  readonly code: string
  readonly name: string
  readonly plan: 'round' | 'box' | 'measured'
  readonly widthMm: number | null
  readonly depthMm: number | null
  readonly heightMm: number | null
  readonly sweptMm: number | null
}

function largestProduct(db: Db, jobId: Id<'job'>): PlannedProduct | null {
  const rows = prepared<[number], SizedRow>(
    db,
    `SELECT DISTINCT p.code, p.name, p.plan, p.width_um / 1000.0 AS widthMm, p.depth_um / 1000.0 AS depthMm,
       p.height_um / 1000.0 AS heightMm, p.swept_um / 1000.0 AS sweptMm
     FROM shoot s JOIN shoot_product sp ON sp.shoot_id = s.id JOIN product p ON p.id = sp.product_id
     WHERE s.job_id = ? AND s.cancelled_at IS NULL`,
  ).all(jobId)
  const sized = rows.flatMap((row) => {
    const sweptMm = sweptWidthMm(row)
    return sweptMm === null ? [] : [{ code: row.code, name: row.name, sweptMm, heightMm: row.heightMm }]
  })
  const reach = (product: PlannedProduct) => Math.max(product.sweptMm, product.heightMm ?? 0)
  return sized.sort((a, b) => reach(b) - reach(a))[0] ?? null
}

function mostPlannedRig(db: Db, jobId: Id<'job'>): RigRevision | null {
  const row = prepared<[number], { id: Id<'rig_revision'> }>(
    db,
    `SELECT rig_revision_id AS id FROM shoot WHERE job_id = ? AND cancelled_at IS NULL AND rig_revision_id IS NOT NULL
     GROUP BY rig_revision_id ORDER BY count(*) DESC, rig_revision_id DESC LIMIT 1`,
  ).get(jobId)
  return (row && findRevision(db, row.id)) ?? null
}
