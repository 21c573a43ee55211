import { dayOf } from '../main/trade/calendar.ts'
import { type ExpectedFile, fileListOf, type PickedRow, type WantedFiles } from '../main/trade/fileList.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { Wanted } from './answers.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { invoiceIdsOfJob } from './invoices.ts'
import { takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { framesOf } from './takeFrames.ts'
import { wantedItems } from './wantedItems.ts'

/** What is written on a delivery by hand. */
export interface DeliveryHead {
  /** How the files go: 'download link', 'disk by carrier'. */
  readonly way: string
  readonly contactId: Id<'contact'> | null
  readonly note: string | null
}

/** The size and SHA-256 of a file that was read, by its name in the delivery's folder. */
export interface FileHash {
  readonly name: string
  readonly bytes: number
  readonly sha256: string
}

/**
 * Prepares a delivery of what has the client's yes and is not yet delivered or prepared, with the files that
 * are expected of it. Without `items`, of all that is ready. Refuses where nothing is, what has no yes, and
 * names that would not stay apart.
 */
export function prepareDelivery(
  writing: Writing,
  jobId: Id<'job'>,
  head: DeliveryHead,
  items: readonly Wanted[] | null,
): Id<'delivery'> {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const ready = readyItems(db, jobId)
    const chosen = items === null ? ready : items.map((item) => readyOrRefused(ready, item))
    if (chosen.length === 0) {
      throw new Refusal(
        'nothing-ready',
        'Nothing of this job has the client’s yes and still waits to be delivered. Write down the yes first.',
      )
    }
    const deliveryId = newId<Id<'delivery'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO delivery (job_id, way, contact_id, note, prepared_at) VALUES (?, ?, ?, ?, ?)',
      ).run(jobId, head.way, head.contactId, head.note, now),
    )
    for (const item of chosen) {
      prepared<unknown[]>(db, 'INSERT INTO delivery_item VALUES (?, ?, ?)').run(
        deliveryId,
        item.shootId,
        item.deliverableId,
      )
    }
    for (const { of, file } of fileListOf(chosen.map((item) => wantedFiles(db, item)))) {
      insertFile(db, deliveryId, of, file)
    }
    tell(writing, deliveryId, jobId, 'delivery prepared', { items: chosen.length })
    return deliveryId
  })
}

/** Changes what is written on a delivery that has not gone yet. */
export function changeDelivery(writing: Writing, deliveryId: Id<'delivery'>, head: DeliveryHead): void {
  inOneTransaction(writing.db, () => {
    const { jobId } = refuseSent(writing.db, deliveryId)
    prepared<unknown[]>(writing.db, 'UPDATE delivery SET way = ?, contact_id = ?, note = ? WHERE id = ?').run(
      head.way,
      head.contactId,
      head.note,
      deliveryId,
    )
    tell(writing, deliveryId, jobId, 'delivery changed', {})
  })
}

/** Throws away a delivery that has not gone yet. */
export function discardDelivery(writing: Writing, deliveryId: Id<'delivery'>): void {
  inOneTransaction(writing.db, () => {
    const { jobId } = refuseSent(writing.db, deliveryId)
    prepared<[number]>(writing.db, 'DELETE FROM delivery WHERE id = ?').run(deliveryId)
    tell(writing, deliveryId, jobId, 'delivery discarded', {})
  })
}

/** Keeps sizes and SHA-256 of the files that were read; those that were not found lose what was kept before. */
export function keepHashes(writing: Writing, deliveryId: Id<'delivery'>, hashes: readonly FileHash[]): void {
  inOneTransaction(writing.db, () => {
    const { jobId } = refuseSent(writing.db, deliveryId)
    prepared<[number]>(
      writing.db,
      'UPDATE delivery_file SET bytes = NULL, sha256 = NULL WHERE delivery_id = ?',
    ).run(deliveryId)
    for (const { name, bytes, sha256 } of hashes) {
      prepared<unknown[]>(
        writing.db,
        'UPDATE delivery_file SET bytes = ?, sha256 = ? WHERE delivery_id = ? AND name = ?',
      ).run(bytes, sha256, deliveryId, name)
    }
    tell(writing, deliveryId, jobId, 'files of the delivery read', { files: hashes.length })
  })
}

/**
 * Sends a delivery: it takes its number and is frozen. Refuses what has lost its yes since, and, without a
 * reason, files that are missing from the folder read, and files before payment to a client who gets them
 * only afterwards.
 */
export function sendDelivery(
  writing: Writing,
  deliveryId: Id<'delivery'>,
  overruleReason: string | null,
): string {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const { jobId } = refuseSent(db, deliveryId)
    refuseWithoutYes(db, deliveryId, jobId)
    const objections = [missingFiles(db, deliveryId), unpaid(db, jobId)].filter((one) => one !== null)
    const [first] = objections
    if (first && overruleReason === null) {
      throw new Refusal(first.code, objections.map(({ sentence }) => sentence).join(' '), {
        canOverrule: true,
      })
    }
    const number = takeNumber(writing, 'delivery', Number(dayOf(now, studioZone(db)).slice(0, 4)))
    prepared<unknown[]>(db, 'UPDATE delivery SET number = ?, sent_at = ? WHERE id = ?').run(
      number,
      now,
      deliveryId,
    )
    tell(writing, deliveryId, jobId, 'delivery sent', { number, reason: overruleReason })
    refreshStanding(writing, jobId)
    return number
  })
}

/** Keeps the papers of a delivery that has just been sent: its file list and its note. */
export function keepDeliveryPapers(
  { db }: Writing,
  deliveryId: Id<'delivery'>,
  papers: { readonly listId: Id<'attachment'>; readonly noteId: Id<'attachment'> },
): void {
  prepared<unknown[]>(db, 'UPDATE delivery SET list_id = ?, note_paper_id = ? WHERE id = ?').run(
    papers.listId,
    papers.noteId,
    deliveryId,
  )
}

/** What has the yes, is not delivered, and is in no delivery that is being prepared. */
export function readyItems(db: Db, jobId: Id<'job'>): readonly Wanted[] {
  const inPreparation = new Set(
    prepared<[number], { key: string }>(
      db,
      `SELECT di.shoot_id || ' ' || di.deliverable_id AS key FROM delivery_item di
       JOIN delivery d ON d.id = di.delivery_id WHERE d.job_id = ? AND d.sent_at IS NULL`,
    )
      .all(jobId)
      .map(({ key }) => key),
  )
  return wantedItems(db, jobId)
    .filter(
      ({ state, shootId, deliverableId }) =>
        state === 'yes' && !inPreparation.has(`${shootId} ${deliverableId}`),
    )
    .map(({ shootId, deliverableId }) => ({ shootId, deliverableId }))
}

function readyOrRefused(ready: readonly Wanted[], item: Wanted): Wanted {
  const found = ready.find(
    ({ shootId, deliverableId }) => shootId === item.shootId && deliverableId === item.deliverableId,
  )
  if (found) return found
  throw new Refusal(
    'not-ready',
    'One of these has no yes, or is delivered or prepared already. Look at the list again and choose anew.',
  )
}

/** What the files of an item are made from and named by. */
function wantedFiles(db: Db, { shootId, deliverableId }: Wanted): WantedFiles & Wanted {
  const row = prepared<[number, number], Omit<WantedFiles, 'rows'>>(
    db,
    `SELECT shoot.name AS spin, product.code, ifnull(product.variant, '') AS variant, job.number AS job,
       CASE WHEN (SELECT count(*) FROM shoot_product o JOIN shoot os ON os.id = o.shoot_id
         WHERE o.product_id = product.id AND os.job_id = job.id AND os.cancelled_at IS NULL) > 1
         THEN shoot.name ELSE product.name END AS name,
       d.name AS deliverable, d.kind, d.frames, d.file_type AS fileType, brief.name_pattern AS namePattern
     FROM shoot JOIN job ON job.id = shoot.job_id JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id)
     JOIN deliverable d ON d.id = ? AND d.brief_id = brief.id
     JOIN shoot_product sp ON sp.shoot_id = shoot.id JOIN product ON product.id = sp.product_id
     WHERE shoot.id = ? ORDER BY sp.position LIMIT 1`,
  ).get(deliverableId, shootId)
  if (!row) throw new Error(`Spin ${shootId} has no product, or no deliverable ${deliverableId}.`)
  return { ...row, shootId, deliverableId, rows: pickedRows(db, { shootId, deliverableId }) }
}

function pickedRows(db: Db, { shootId, deliverableId }: Wanted): readonly PickedRow[] {
  return prepared<
    [number, number],
    Omit<PickedRow, 'reversed' | 'frameAtMark'> & {
      takeId: Id<'take'>
      reversed: 0 | 1
      countedBy: string
      framesShot: number
    }
  >(
    db,
    `SELECT pick.row, pick.start_frame AS startFrame, pick.reversed, take.id AS takeId, take.counted_by AS countedBy,
       take.frames_per_turn AS framesPerTurn, take.frames_shot AS framesShot
     FROM pick JOIN take ON take.id = pick.take_id
     WHERE pick.shoot_id = ? AND pick.deliverable_id = ? AND pick.withdrawn_at IS NULL ORDER BY pick.row`,
  )
    .all(shootId, deliverableId)
    .map((pick) => ({ ...pick, reversed: pick.reversed === 1, frameAtMark: framesAtMarks(db, pick) }))
}

/** Of a take whose files were counted by hand nobody knows the marks: its frames stand in their order. */
function framesAtMarks(
  db: Db,
  take: { readonly takeId: Id<'take'>; readonly countedBy: string; readonly framesShot: number },
): ReadonlyMap<number, number> {
  const frames = framesOf(db, take.takeId)
  if (take.countedBy === 'files' && frames.length === 0) {
    return new Map(Array.from({ length: take.framesShot }, (_, mark) => [mark, mark + 1]))
  }
  return new Map(frames.flatMap(({ isVoid, mark }, index) => (isVoid ? [] : [[mark, index + 1] as const])))
}

function insertFile(db: Db, deliveryId: Id<'delivery'>, of: Wanted, file: ExpectedFile): void {
  prepared<unknown[]>(
    db,
    'INSERT INTO delivery_file (delivery_id, name, shoot_id, deliverable_id, frame) VALUES (?, ?, ?, ?, ?)',
  ).run(deliveryId, file.name, of.shootId, of.deliverableId, file.frame)
}

/** Refuses a delivery that has gone, or that the studio does not have. */
export function refuseSent(db: Db, deliveryId: Id<'delivery'>): { readonly jobId: Id<'job'> } {
  const row = prepared<[number], { jobId: Id<'job'>; number: string | null }>(
    db,
    'SELECT job_id AS jobId, number FROM delivery WHERE id = ?',
  ).get(deliveryId)
  if (!row) throw new Refusal('no-delivery', 'This delivery is not in the studio.')
  if (row.number !== null) {
    throw new Refusal(
      'delivery-sent',
      `${row.number} was sent and stays as it was. Prepare another delivery.`,
    )
  }
  return row
}

function refuseWithoutYes(db: Db, deliveryId: Id<'delivery'>, jobId: Id<'job'>): void {
  const states = new Map<string, string>(
    wantedItems(db, jobId).map((item) => [`${item.shootId} ${item.deliverableId}`, item.state]),
  )
  const lost = prepared<[number], { key: string; spin: string; deliverable: string }>(
    db,
    `SELECT di.shoot_id || ' ' || di.deliverable_id AS key, shoot.name AS spin, d.name AS deliverable
     FROM delivery_item di JOIN shoot ON shoot.id = di.shoot_id JOIN deliverable d ON d.id = di.deliverable_id
     WHERE di.delivery_id = ?`,
  )
    .all(deliveryId)
    .find(({ key }) => states.get(key) !== 'yes')
  if (!lost) return
  throw new Refusal(
    'yes-gone',
    `The ${lost.deliverable} of ${lost.spin} has no yes any more, or went with another delivery. Discard this one and prepare it again.`,
  )
}

interface Objection {
  readonly code: string
  readonly sentence: string
}

function missingFiles(db: Db, deliveryId: Id<'delivery'>): Objection | null {
  const row = prepared<[number], { files: number; read: number; first: string | null }>(
    db,
    `SELECT count(*) AS files, count(sha256) AS read, min(name) FILTER (WHERE sha256 IS NULL) AS first
     FROM delivery_file WHERE delivery_id = ?`,
  ).get(deliveryId)
  if (!row || row.read === 0 || row.read === row.files) return null
  const missing = row.files - row.read
  return {
    code: 'files-missing',
    sentence: `${missing} of ${row.files} files were not in the folder, the first of them ${row.first}. Export them and read the folder again, or say why it goes without them.`,
  }
}

function unpaid(db: Db, jobId: Id<'job'>): Objection | null {
  const row = prepared<object, { client: string; afterPayment: 0 | 1; billed: 0 | 1; open: 0 | 1 }>(
    db,
    `SELECT client.name AS client, client.files_after_payment AS afterPayment,
       EXISTS (SELECT 1 FROM invoice i WHERE i.id IN (${invoiceIdsOfJob}) AND i.kind = 'invoice' AND i.state = 'issued') AS billed,
       EXISTS (SELECT 1 FROM invoice i JOIN invoice_account a ON a.invoice_id = i.id
         WHERE i.id IN (${invoiceIdsOfJob}) AND i.state = 'issued' AND a.open_minor > 0) AS open
     FROM job JOIN client ON client.id = job.client_id WHERE job.id = @jobId`,
  ).get({ jobId })
  if (!row || row.afterPayment === 0 || (row.billed === 1 && row.open === 0)) return null
  return {
    code: 'files-after-payment',
    sentence: `${row.client} gets files after payment, and ${row.billed === 1 ? 'the invoice is still open' : 'no invoice is written yet'}. Wait for the payment, or say why the files go now.`,
  }
}

function tell(
  writing: Writing,
  deliveryId: Id<'delivery'>,
  jobId: Id<'job'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'delivery', subjectId: deliveryId, jobId, what, detail })
}
