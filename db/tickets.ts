import { Refusal } from '../main/trade/refusal.ts'
import type { SampleState } from '../main/trade/samples.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A product as its ticket draws it from above. Lengths in micrometres. */
export interface TicketProduct {
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly plan: 'round' | 'box' | 'measured'
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly sweptUm: number | null
}

/** What stands on the ticket of a spin. */
export interface Ticket {
  readonly shootId: Id<'shoot'>
  readonly jobNumber: string
  readonly clientName: string
  readonly name: string
  readonly startPose: string | null
  /** Which way the platter turns, seen from above. */
  readonly direction: 'clockwise' | 'anticlockwise'
  readonly isCancelled: boolean
  readonly products: readonly TicketProduct[]
  readonly rows: readonly {
    readonly viewAngleMdeg: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
  }[]
}

type TicketRecord = Omit<Ticket, 'isCancelled' | 'products' | 'rows'> & { readonly isCancelled: 0 | 1 }

/** The mark of the studio that stands on its tickets. */
export function ticketKey(db: Db): string {
  const key = prepared<[], { key: string }>(db, 'SELECT ticket_key AS key FROM studio').get()?.key
  if (key === undefined) throw new Error('The store holds no studio.')
  return key
}

/** The spins of a job that are not cancelled, in their order. */
export function ticketSpinsOfJob(db: Db, jobId: Id<'job'>): readonly Id<'shoot'>[] {
  return prepared<[number], { id: Id<'shoot'> }>(
    db,
    'SELECT id FROM shoot WHERE job_id = ? AND cancelled_at IS NULL ORDER BY position',
  )
    .all(jobId)
    .map(({ id }) => id)
}

/** Tickets of spins, in the order in which they are named, each once. Refuses a spin that is not in the studio. */
export function ticketsOf(db: Db, shootIds: readonly Id<'shoot'>[]): readonly Ticket[] {
  const ids = JSON.stringify(shootIds)
  const named = 'FROM json_each(?) named CROSS JOIN shoot s ON s.id = named.value'
  const heads = new Map(
    prepared<[string], TicketRecord>(
      db,
      `SELECT s.id AS shootId, job.number AS jobNumber, client.name AS clientName, s.name, brief.direction,
         (SELECT start_pose FROM spin_start_pose WHERE shoot_id = s.id) AS startPose,
         s.cancelled_at IS NOT NULL AS isCancelled
       ${named} JOIN job ON job.id = s.job_id JOIN client ON client.id = job.client_id
       JOIN brief ON brief.id = ifnull(s.brief_id, job.brief_id)`,
    )
      .all(ids)
      .map((record) => [record.shootId, record]),
  )
  const products = grouped(
    prepared<[string], TicketProduct & { shootId: number }>(
      db,
      `SELECT s.id AS shootId, p.code, p.name, p.variant, p.plan, p.width_um AS widthUm, p.depth_um AS depthUm,
         p.height_um AS heightUm, p.swept_um AS sweptUm
       ${named} JOIN shoot_product sp ON sp.shoot_id = s.id JOIN product p ON p.id = sp.product_id
       ORDER BY s.id, sp.position`,
    ).all(ids),
    ({ shootId }) => shootId,
  )
  const rows = grouped(
    prepared<[string], Ticket['rows'][number] & { shootId: number }>(
      db,
      `SELECT s.id AS shootId, r.view_angle_mdeg AS viewAngleMdeg, r.frames_per_turn AS framesPerTurn,
         r.overlap_frames AS overlapFrames
       ${named} JOIN shoot_row r ON r.shoot_id = s.id ORDER BY s.id, r.row`,
    ).all(ids),
    ({ shootId }) => shootId,
  )
  return [...new Set(shootIds)].map((shootId) => {
    const head = heads.get(shootId)
    if (!head) throw new Refusal('no-spin', 'This spin is not in the studio.')
    return {
      ...head,
      isCancelled: head.isCancelled === 1,
      products: products.get(shootId) ?? [],
      rows: rows.get(shootId) ?? [],
    }
  })
}

/** What stands on the label of a sample. */
export interface Label {
  readonly sampleId: Id<'sample'>
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly clientName: string
  readonly jobNumber: string
  readonly place: string | null
  /** The spin that its code opens: the first of its product in the job that is not cancelled, else the first. */
  readonly shootId: Id<'shoot'>
  /** Which product of that spin it is, from 1; null where the spin shows one alone. */
  readonly product: number | null
}

const labelColumns = `sample.id AS sampleId, product.code, product.name, product.variant, client.name AS clientName,
  job.number AS jobNumber, sample.place, s.id AS shootId,
  CASE WHEN (SELECT count(*) FROM shoot_product o WHERE o.shoot_id = s.id) > 1 THEN sp.position END AS product`

const labelJoins = `JOIN product ON product.id = sample.product_id JOIN job ON job.id = sample.job_id
  JOIN client ON client.id = job.client_id
  JOIN shoot_product sp ON sp.product_id = sample.product_id
    AND sp.shoot_id = (SELECT s1.id FROM shoot_product sp1 JOIN shoot s1 ON s1.id = sp1.shoot_id
      WHERE sp1.product_id = sample.product_id AND s1.job_id = sample.job_id
      ORDER BY s1.cancelled_at IS NOT NULL, s1.position LIMIT 1)
  JOIN shoot s ON s.id = sp.shoot_id`

/** Labels of samples, in the order in which they are named, each once. Refuses a sample on no expected list. */
export function labelsOf(db: Db, sampleIds: readonly Id<'sample'>[]): readonly Label[] {
  const found = new Map(
    prepared<[string], Label>(
      db,
      `SELECT ${labelColumns} FROM json_each(?) named CROSS JOIN sample ON sample.id = named.value ${labelJoins}`,
    )
      .all(JSON.stringify(sampleIds))
      .map((label) => [label.sampleId, label]),
  )
  return [...new Set(sampleIds)].map((sampleId) => {
    const label = found.get(sampleId)
    if (!label) throw new Refusal('no-sample', 'This sample is not on any expected list.')
    return label
  })
}

/** Labels of all samples of a job that are still needed, in the order of its spins. */
export function labelsOfJob(db: Db, jobId: Id<'job'>): readonly Label[] {
  return prepared<[number], Label>(
    db,
    `SELECT ${labelColumns} FROM sample ${labelJoins} WHERE sample.job_id = ? AND sample.is_needed = 1 ORDER BY sample.id`,
  ).all(jobId)
}

/** The spin that a ticket names, with what scanning it may do. */
export interface ScannedSpin {
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly name: string
  readonly cancelledReason: string | null
  readonly runningTakeId: Id<'take'> | null
  readonly samples: readonly {
    readonly id: Id<'sample'>
    readonly code: string
    readonly state: SampleState
    readonly place: string | null
  }[]
}

/**
 * The spin of a ticket that was read, cancelled or not, with the samples it shows; of one product of it where the
 * label names one. Refuses a spin that the studio does not have: the ticket is newer than the studio's own memory.
 */
export function scannedSpin(db: Db, shootId: number, product: number | null): ScannedSpin {
  const spin = prepared<[number], Omit<ScannedSpin, 'samples'>>(
    db,
    `SELECT s.id AS shootId, s.job_id AS jobId, job.number AS jobNumber, s.name, s.cancelled_reason AS cancelledReason,
       (SELECT t.id FROM take t WHERE t.shoot_id = s.id AND t.ended_at IS NULL) AS runningTakeId
     FROM shoot s JOIN job ON job.id = s.job_id WHERE s.id = ?`,
  ).get(shootId)
  if (!spin) {
    throw new Refusal(
      'no-such-spin',
      `The ticket is this studio’s, but it names spin ${shootId}, which is not in it. Was the studio brought back from an older backup? Find the spin by its code, and print its ticket again.`,
    )
  }
  const samples = prepared<unknown[], ScannedSpin['samples'][number]>(
    db,
    `SELECT sample.id, p.code, sample.state, sample.place FROM shoot_product sp
     JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = ? JOIN product p ON p.id = sp.product_id
     WHERE sp.shoot_id = ? AND ifnull(?, sp.position) = sp.position ORDER BY sp.position`,
  ).all(spin.jobId, shootId, product)
  return { ...spin, samples }
}
