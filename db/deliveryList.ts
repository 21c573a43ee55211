import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A delivery as a job's page shows it. */
export interface Delivery {
  readonly id: Id<'delivery'>
  readonly jobId: Id<'job'>
  /** Null until it is sent. */
  readonly number: string | null
  readonly way: string
  readonly contactId: Id<'contact'> | null
  readonly contactName: string | null
  readonly note: string | null
  readonly preparedAt: string
  readonly sentAt: string | null
  readonly listId: Id<'attachment'> | null
  readonly notePaperId: Id<'attachment'> | null
  readonly items: number
  readonly files: number
  /** Files whose size and SHA-256 are known. */
  readonly filesRead: number
  readonly bytes: number
}

const deliveryColumns = `d.id, d.job_id AS jobId, d.number, d.way, d.contact_id AS contactId, contact.name AS contactName,
  d.note, d.prepared_at AS preparedAt, d.sent_at AS sentAt, d.list_id AS listId, d.note_paper_id AS notePaperId,
  (SELECT count(*) FROM delivery_item di WHERE di.delivery_id = d.id) AS items,
  (SELECT count(*) FROM delivery_file f WHERE f.delivery_id = d.id) AS files,
  (SELECT count(sha256) FROM delivery_file f WHERE f.delivery_id = d.id) AS filesRead,
  (SELECT ifnull(sum(bytes), 0) FROM delivery_file f WHERE f.delivery_id = d.id) AS bytes`

const deliveryFrom = 'FROM delivery d LEFT JOIN contact ON contact.id = d.contact_id'

/** A job's deliveries, those being prepared first, then the newest. */
export function deliveriesOfJob(db: Db, jobId: Id<'job'>): readonly Delivery[] {
  return prepared<[number], Delivery>(
    db,
    `SELECT ${deliveryColumns} ${deliveryFrom} WHERE d.job_id = ? ORDER BY d.sent_at IS NOT NULL, d.id DESC`,
  ).all(jobId)
}

export function findDelivery(db: Db, deliveryId: Id<'delivery'>): Delivery | undefined {
  return prepared<[number], Delivery>(db, `SELECT ${deliveryColumns} ${deliveryFrom} WHERE d.id = ?`).get(
    deliveryId,
  )
}

/** One file of a delivery. */
export interface DeliveryFile {
  readonly name: string
  readonly spin: string
  readonly deliverable: string
  /** The take's frame it is made from; null for a loop. */
  readonly frame: number | null
  readonly bytes: number | null
  readonly sha256: string | null
  /** The most the client takes in one file of this deliverable. */
  readonly capBytes: number | null
}

/** The files of a delivery by name, a page at a time. */
export function deliveryFiles(
  db: Db,
  deliveryId: Id<'delivery'>,
  page: { readonly offset: number; readonly limit: number } = { offset: 0, limit: -1 },
): readonly DeliveryFile[] {
  return prepared<[number, number, number], DeliveryFile>(
    db,
    `SELECT f.name, shoot.name AS spin, d.name AS deliverable, f.frame, f.bytes, f.sha256, d.file_cap_bytes AS capBytes
     FROM delivery_file f JOIN shoot ON shoot.id = f.shoot_id JOIN deliverable d ON d.id = f.deliverable_id
     WHERE f.delivery_id = ? ORDER BY f.name LIMIT ? OFFSET ?`,
  ).all(deliveryId, page.limit, page.offset)
}

/** What a delivery carries, with how many files and bytes of each. */
export interface DeliveryItem {
  readonly spin: string
  readonly codes: string
  readonly deliverable: string
  readonly kind: string
  readonly widthPx: number
  readonly heightPx: number
  readonly files: number
  readonly bytes: number | null
}

export function deliveryItems(db: Db, deliveryId: Id<'delivery'>): readonly DeliveryItem[] {
  return prepared<[number], DeliveryItem>(
    db,
    `SELECT shoot.name AS spin, (SELECT group_concat(p.code, ', ') FROM shoot_product sp
         JOIN product p ON p.id = sp.product_id WHERE sp.shoot_id = shoot.id) AS codes,
       d.name AS deliverable, d.kind, d.width_px AS widthPx, d.height_px AS heightPx, count(f.name) AS files,
       sum(f.bytes) AS bytes
     FROM delivery_item di JOIN shoot ON shoot.id = di.shoot_id JOIN deliverable d ON d.id = di.deliverable_id
     LEFT JOIN delivery_file f ON f.delivery_id = di.delivery_id AND f.shoot_id = di.shoot_id
       AND f.deliverable_id = di.deliverable_id
     WHERE di.delivery_id = ? GROUP BY di.shoot_id, di.deliverable_id ORDER BY shoot.position, d.position`,
  ).all(deliveryId)
}

/** Whom a job's deliveries go to, and what they are called there. */
export function deliveryParties(db: Db, jobId: Id<'job'>) {
  const client = prepared<[number], DeliveryClient>(
    db,
    `SELECT client.name, client.street, client.postal_code AS postalCode, client.city, client.region, client.country,
       client.language FROM job JOIN client ON client.id = job.client_id WHERE job.id = ?`,
  ).get(jobId)
  const job = prepared<[number], { number: string; title: string; orderNumber: string | null }>(
    db,
    'SELECT number, title, order_number AS orderNumber FROM job WHERE id = ?',
  ).get(jobId)
  if (!client || !job) throw new Error(`There is no job ${jobId}.`)
  return { client, job }
}

interface DeliveryClient {
  readonly name: string
  readonly street: string | null
  readonly postalCode: string | null
  readonly city: string | null
  readonly region: string | null
  readonly country: string
  readonly language: 'en' | 'de'
}
